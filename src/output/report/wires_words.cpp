#include "wires_words.hpp"

#include "parts_of_reports.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

std::string size_or_none(const std::optional<CableSize>& size) { return size ? size_text(*size) : std::string("none"); }

std::string smallest_sentence(const rules::CableFigures& f) {
    return fmt::format("Smallest: for the drop {}; by NEC {}; by IEC {}.", size_or_none(f.smallest_for_drop),
                       size_or_none(f.smallest_by_nec), size_or_none(f.smallest_by_iec));
}

}  // namespace

Table cable_table(const Setup& setup, const std::vector<rules::CableFigures>& cables) {
    Table table = table_of("Every cable: what it is, what it costs in volts, what it carries and may carry", {"cable", "#size", "#one way", "#there, back", "#drop", "#carries", "may carry (NEC, IEC)"});
    const auto amps_or = [](const std::optional<double>& a) { return a ? amps(*a) : std::string("no value"); };
    for (const rules::CableFigures& f : cables) {
        const Cable& c = setup.cables[f.cable];
        table.rows.push_back({{c.name, size_text(c.size), fmt::format("{:.1f} m", c.length_m),
                               fmt::format("{:.1f} mΩ", 1000.0 * f.loop_ohm), volts(f.drop_v), amps(f.currents.most_a),
                               fmt::format("{}, {}", amps_or(f.nec ? f.nec->corrected_a : std::nullopt),
                                           amps_or(f.iec ? f.iec->corrected_a : std::nullopt))},
                              {smallest_sentence(f)}});
    }
    return table;
}

std::string wires_sentence(const study::WireSheet& sheet) {
    return fmt::format(
        "At work {} of {} stay in them ({}). A cable does not lower the open-circuit voltage: whatever stands in "
        "it must bear {} (Voc tolerance included) and the disconnect break {}.",
        volts(sheet.drop_v), volts(sheet.working_v), per_cent(sheet.drop_ratio(), 2), volts(sheet.stand_v),
        amps(sheet.bright_isc_a));
}

std::string battery_sentence(const study::BatterySheet& sheet) {
    return fmt::format(
        "Up to {} flow into the battery; its fuse is {} or more{}.", amps(sheet.current->charge_a),
        amps(sheet.current->fuse_least_a),
        sheet.current->fuse_a ? fmt::format(", as standard size {:g} A", *sheet.current->fuse_a) : std::string());
}

}  // namespace plait::output
