#include "cable_from.hpp"

#include "quantity/kinds.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t most_cables = 50;

constexpr std::string_view how_cables =
    "Write each cable under [[cable]] with double brackets, with run, length and size";

std::optional<CableSize> known_size(const Measure& size) {
    static constexpr std::array mm2{1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0};
    // The areas of NEC chapter 9 table 8.
    using Gauge = std::pair<int, double>;
    static constexpr std::array awg{Gauge{18, 0.823}, Gauge{16, 1.31}, Gauge{14, 2.08}, Gauge{12, 3.31},
                                    Gauge{10, 5.26},  Gauge{8, 8.37},  Gauge{6, 13.3},  Gauge{4, 21.2},
                                    Gauge{3, 26.7},   Gauge{2, 33.6}};
    if (size.dimension == Dimension::area) {
        if (std::find(mm2.begin(), mm2.end(), size.value) == mm2.end()) return std::nullopt;
        return CableSize{size.value, std::nullopt};
    }
    for (const Gauge& g : awg) {
        if (size.value == g.first) return CableSize{g.second, g.first};
    }
    return std::nullopt;
}

class CableReading {
public:
    CableReading(const FileNotes& notes, const Setup& setup, std::size_t number)
        : notes_(notes), setup_(setup), number_(number) {}

    std::optional<Cable> run(const Table& table, Place at) {
        const std::size_t before = notes_.complaint_count();
        check_keys(notes_, table, at, "[[cable]]", specs_of(cable_fields()));
        read_fields(notes_, table, cable_fields(), raw_);
        place();
        size();
        rating(raw_.insulation, "insulation");
        rating(raw_.terminals, "terminals");
        if (notes_.complaint_count() != before) return std::nullopt;
        rest();
        return std::move(cable_);
    }

private:
    void place() {
        if (raw_.run) cable_.run = cable_run_names[raw_.run->index].value;
        const bool battery = raw_.run && cable_.run == CableRun::battery;
        cable_.name = raw_.name ? raw_.name->value : fmt::format("{} cable", name_of(cable_.run));
        const std::vector<Input>& inputs = setup_.controller.inputs;
        if (battery && !inputs.empty() && !setup_.controller.battery) {
            notes_.complain(raw_.run->at, Complaint::without_effect,
                            "'run' is \"battery\", but the set-up has no battery. Add [controller.battery], or delete "
                            "this cable.");
        }
        if (!raw_.input) return;
        if (battery) {
            notes_.complain(raw_.input->at, Complaint::without_effect,
                            "'input' stands at a battery cable, which all inputs share. Delete the line.");
            return;
        }
        Words names;
        for (std::size_t i = 0; i < inputs.size(); ++i) {
            names.push_back(inputs[i].name);
            if (inputs[i].name == raw_.input->value) cable_.input = i;
        }
        if (!cable_.input && !inputs.empty()) {
            notes_.complain(raw_.input->at, Complaint::unknown_word,
                            fmt::format("no input is called {}. {}", named(raw_.input->value),
                                        suggestion(raw_.input->value, names, "Inputs")));
        }
    }

    void size() {
        if (!raw_.size) return;
        const std::optional<CableSize> known = known_size(*raw_.size);
        if (known) {
            cable_.size = *known;
        } else {
            notes_.complain(
                raw_.size->at, Complaint::unknown_word,
                fmt::format("'size' is {}, which no table here has. Write {}; of a size between, the next thinner.",
                            raw_.size->written, known_sizes));
        }
    }

    void rating(const std::optional<Measure>& given, std::string_view key) {
        if (!given || given->value == 60.0 || given->value == 75.0 || given->value == 90.0) return;
        notes_.complain(given->at, Complaint::unknown_word,
                        fmt::format("{} is {}, but the NEC's tables have columns for 60, 75 and 90 °C only. Write "
                                    "the column at or below the marked temperature.",
                                    named(key), given->written));
    }

    void rest() {
        const RawCable stated = raw_;
        fill_missing(notes_, {}, cable_fields(), raw_, [](std::string_view) { return true; });
        cable_.length_m = raw_.length->value;
        cable_.kind = cable_.size.awg ? ConductorKind::plain : ConductorKind::tinned;
        if (raw_.kind) cable_.kind = conductor_kind_names[raw_.kind->index].value;
        if (raw_.resistance) cable_.resistance_ohm_per_m = raw_.resistance->value;
        cable_.conductor = {raw_.conductor_temperature->value};
        cable_.laying = laying_names[raw_.laid->index].value;
        cable_.circuits = static_cast<int>(raw_.circuits->value);
        cable_.ambient = {raw_.ambient->value};
        if (!stated.ambient && cable_.run == CableRun::battery) cable_.ambient = setup_.site.hottest_air;
        cable_.insulation = {raw_.insulation->value};
        cable_.terminals = {raw_.terminals->value};
        cable_.unstated = {!stated.kind,  !stated.conductor_temperature, !stated.ambient, !stated.laid,
                           !stated.insulation, !stated.terminals};
        const auto degrees = [](Celsius t) { return with_unit(t.degc, Kind::temperature); };
        if (!raw_.resistance) {
            std::string missing;
            add(missing, !stated.kind, fmt::format("kind {}", name_of(cable_.kind)));
            add(missing, !stated.conductor_temperature, "copper at " + degrees(cable_.conductor));
            assume(Quantity::cable_resistance, "resistance", missing,
                   "not stated; the usual copper, as warm as a cable in use gets");
        }
        std::string missing;
        add(missing, !stated.ambient, "air of " + degrees(cable_.ambient));
        add(missing, !stated.laid, std::string(name_of(cable_.laying)));
        add(missing, !stated.insulation, degrees(cable_.insulation) + " insulation");
        add(missing, !stated.terminals, degrees(cable_.terminals) + " terminals");
        assume(Quantity::cable_surroundings, "ampacity", missing,
               "not stated; hot surroundings, the NEC's columns where nothing is marked");
    }

    static void add(std::string& list, bool missing, const std::string& what) {
        if (missing) list += (list.empty() ? "" : ", ") + what;
    }

    void assume(Quantity quantity, std::string what, std::string value, std::string why) {
        if (value.empty()) return;
        notes_.assume({quantity, std::nullopt, cable_.input, fmt::format("cable {} '{}'", number_, cable_.name),
                       std::move(what), std::move(value), std::move(why), Figure::only, number_ - 1});
    }

    const FileNotes& notes_;
    const Setup& setup_;
    std::size_t number_;
    RawCable raw_;
    Cable cable_;
};

std::optional<double> value_of(const std::optional<Measure>& m) { return m ? std::optional(m->value) : std::nullopt; }

}  // namespace

std::vector<Cable> cables_from(const FileNotes& notes, const Entry& entry, const Setup& setup) {
    std::vector<Cable> cables;
    const List* list = read_list(notes, entry, how_cables);
    if (list == nullptr) return cables;
    if (list->size() > most_cables) {
        notes.complain(
            entry.at, Complaint::how_many,
            fmt::format("{} cables are listed; up to {} are read. {}.", list->size(), most_cables, how_cables));
        return cables;
    }
    for (const Node& node : *list) {
        const auto* table = node.as<Table>();
        if (table == nullptr) {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("a cable is {}. {}.", type_name(node), how_cables));
            continue;
        }
        if (auto cable = CableReading(notes, setup, cables.size() + 1).run(*table, node.at)) {
            cables.push_back(std::move(*cable));
        }
    }
    return cables;
}

Fittings fittings_from(const FileNotes& notes, const Entry& entry) {
    const Table* table = read_table(notes, entry, "Write its keys under [fittings]");
    if (table == nullptr) return {};
    check_keys(notes, *table, entry.value.at, "[fittings]", specs_of(fittings_fields()));
    RawFittings raw;
    read_fields(notes, *table, fittings_fields(), raw);
    return {value_of(raw.string_fuse),
            value_of(raw.string_fuse_voltage),
            value_of(raw.disconnect_current),
            value_of(raw.disconnect_voltage),
            value_of(raw.battery_fuse),
            value_of(raw.connector),
            value_of(raw.branch)};
}

}  // namespace plait::input
