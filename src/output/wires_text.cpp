#include "wires_text.hpp"

namespace plait::output {
namespace {

std::string size_or_none(const std::optional<CableSize>& size) { return size ? size_text(*size) : std::string("none"); }

std::string cables_table(const Setup& setup, const std::vector<rules::CableFigures>& cables) {
    std::string out = fmt::format("  {}{}{}{}{}{}  {}\n", padded("cable", 26), padded_left("size", 9),
                                  padded_left("one way", 9), padded_left("there, back", 13), padded_left("drop", 9),
                                  padded_left("carries", 10), "may carry (NEC, IEC)");
    for (const rules::CableFigures& f : cables) {
        const Cable& c = setup.cables[f.cable];
        const auto amps_or = [](const std::optional<double>& a) { return a ? amps(*a) : std::string("no value"); };
        out +=
            fmt::format("  {}{}{}{}{}{}  {}, {}\n", padded(c.name, 26), padded_left(size_text(c.size), 9),
                        padded_left(fmt::format("{:.1f} m", c.length_m), 9),
                        padded_left(fmt::format("{:.1f} mΩ", 1000.0 * f.loop_ohm), 13), padded_left(volts(f.drop_v), 9),
                        padded_left(amps(f.currents.most_a), 10), amps_or(f.nec ? f.nec->corrected_a : std::nullopt),
                        amps_or(f.iec ? f.iec->corrected_a : std::nullopt));
        out +=
            "      " +
            wrapped(fmt::format("Smallest: for the drop {}; by NEC {}; by IEC {}.", size_or_none(f.smallest_for_drop),
                                size_or_none(f.smallest_by_nec), size_or_none(f.smallest_by_iec)),
                    6) +
            "\n";
    }
    return out;
}

}  // namespace

std::string wires_text(const Setup& setup, const study::InputJudgement& one, Colour colour) {
    const study::WireSheet& sheet = one.wires;
    if (sheet.cables.empty()) return "";
    std::string out = "\n  " + bold("The wires", colour) + "\n" + cables_table(setup, sheet.cables);
    out +=
        "  " +
        wrapped(fmt::format(
                    "At work {} of {} stay in them ({:.2f} %). A cable does not lower the open-circuit "
                    "voltage: whatever stands in it must bear {} (Voc tolerance included) and the disconnect break {}.",
                    volts(sheet.drop_v), volts(sheet.working_v), 100.0 * sheet.drop_v / sheet.working_v,
                    volts(sheet.stand_v), amps(sheet.bright_isc_a)),
                2) +
        "\n";
    return out;
}

std::string battery_text(const Setup& setup, const study::BatterySheet& sheet, Colour colour) {
    if (!sheet.current || sheet.cables.empty()) return "";
    std::string out = "\n" + bold("Battery side", colour) + "\n" + cables_table(setup, sheet.cables);
    out += "  " +
           wrapped(fmt::format("Up to {} flow into the battery; its fuse is {} or more{}.",
                               amps(sheet.current->charge_a), amps(sheet.current->fuse_least_a),
                               sheet.current->fuse_a ? fmt::format(", as standard size {:g} A", *sheet.current->fuse_a)
                                                     : std::string()),
                   2) +
           "\n";
    return out;
}

}  // namespace plait::output
