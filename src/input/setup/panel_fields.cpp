#include "panel_fields.hpp"

#include "nmot_from.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <utility>

namespace plait::input {
namespace {

constexpr auto technology_words = [] {
    std::array<std::string_view, technology_names.size()> words{};
    for (std::size_t i = 0; i < words.size(); ++i) words[i] = technology_names[i].key;
    return words;
}();

constexpr std::string_view usual_tolerance = "not stated; what makers usually allow";

using P = Field<RawPanel>;
constexpr std::array panel_table{
    P{{.key = "name",
       .kind = Kind::text,
       .meaning = "what reports call the panel",
       .if_missing = "its `id`, or the name of its file",
       .limits = {1, 80}},
      &RawPanel::name},
    P{{.key = "technology",
       .kind = Kind::word,
       .meaning = "the kind of cell",
       .if_missing = "wider limits of plausibility, a steeper Voc coefficient",
       .fall_back = FallBack{static_cast<double>(Technology::unknown), Quantity::panel_technology, "technology",
                             "the datasheet does not say; the cautious values of all technologies are used"},
       .words = technology_words},
      &RawPanel::technology},
    P{{.key = "cells_in_series",
       .kind = Kind::count,
       .meaning = "cells as they count for voltage: 60 for a panel of 120 half-cut cells",
       .if_missing = "worked out from Voc and the technology, assumed",
       .limits = {1, 600}},
      &RawPanel::cells_in_series},
    P{{.key = "half_cut",
       .kind = Kind::flag,
       .meaning = "the cells are halves, wired as two groups side by side",
       .if_missing = "false"},
      &RawPanel::half_cut},
    P{{.key = "bypass_diodes",
       .kind = Kind::count,
       .meaning = "bypass diodes, each over an equal group of cells",
       .if_missing = "one for 24 cells, rounded up; one for a thin-film panel; assumed",
       .limits = {0, 200}},
      &RawPanel::bypass_diodes},
    P{{.key = "pmax",
       .kind = Kind::power,
       .meaning = "maximum power at test conditions (Pmax, Pmp, \"peak watts\")",
       .if_missing = "Vmp · Imp, assumed",
       .limits = {0.05, 2000}},
      &RawPanel::pmax},
    P{{.key = "vmp",
       .kind = Kind::voltage,
       .meaning = "voltage at maximum power",
       .if_missing = "Pmax / Imp, else 0.80 · Voc; assumed",
       .limits = {0.3, 500}},
      &RawPanel::vmp},
    P{{.key = "imp",
       .kind = Kind::current,
       .meaning = "current at maximum power",
       .if_missing = "Pmax / Vmp, else Isc / 1.10; assumed",
       .limits = {0.005, 100}},
      &RawPanel::imp},
    P{{.key = "voc",
       .kind = Kind::voltage,
       .meaning = "open-circuit voltage",
       .if_missing = "1.25 · Vmp, assumed",
       .limits = {0.3, 600}},
      &RawPanel::voc},
    P{{.key = "isc",
       .kind = Kind::current,
       .meaning = "short-circuit current",
       .if_missing = "1.10 · Imp, assumed",
       .limits = {0.005, 100}},
      &RawPanel::isc},
    P{{.key = "isc_coefficient",
       .kind = Kind::isc_coefficient,
       .meaning = "change of Isc per kelvin (α)",
       .fall_back = FallBack{0.0005, Quantity::panel_isc_coefficient, "Isc coefficient",
                             "not stated; usual for silicon"}},
      &RawPanel::isc_coefficient},
    P{{.key = "voc_coefficient",
       .kind = Kind::voc_coefficient,
       .meaning = "change of Voc per kelvin (β), negative",
       .if_missing = "-0.35 %/K for wafer silicon, -0.40 %/K for others; assumed"},
      &RawPanel::voc_coefficient},
    P{{.key = "pmax_coefficient",
       .kind = Kind::pmax_coefficient,
       .meaning = "change of Pmax per kelvin (γ), negative",
       .fall_back = FallBack{-0.0045, Quantity::panel_pmax_coefficient, "Pmax coefficient",
                             "not stated; pessimistic for today's panels"}},
      &RawPanel::pmax_coefficient},
    P{{.key = "noct",
       .kind = Kind::temperature,
       .meaning = "nominal operating cell temperature",
       .fall_back = FallBack{47.0, Quantity::panel_nominal_temperature, "NOCT", "not stated; on the warm side of usual"},
       .limits = {20, 90}},
      &RawPanel::noct},
    P{{.key = "nmot",
       .kind = Kind::temperature,
       .meaning = "nominal module operating temperature, what newer datasheets print in place of NOCT; or a table with "
                  "the values at it",
       .if_missing = "see `noct`; give one of the two",
       .limits = {20, 90}},
      &RawPanel::nmot},
    P{{.key = "weak_light_efficiency",
       .kind = Kind::percentage,
       .meaning = "efficiency at 200 W/m² and 25 °C, as a share of that at test conditions",
       .if_missing = "not given; what a study takes instead it says itself",
       .limits = {0.3, 1.1}},
      &RawPanel::weak_light_efficiency},
    P{{.key = "max_system_voltage",
       .kind = Kind::voltage,
       .meaning = "the most a whole string may reach, of its insulation",
       .fall_back = FallBack{100.0, Quantity::panel_system_voltage, "maximum system voltage",
                             "not stated; what small fabric panels bear. Look for it on the label"},
       .limits = {10, 3000}},
      &RawPanel::max_system_voltage},
    P{{.key = "max_series_fuse",
       .kind = Kind::current,
       .meaning = "the largest fuse in series (\"over-current protection rating\")",
       .if_missing = "no more than two strings in parallel are taken as proven",
       .fall_back = FallBack{15.0, Quantity::panel_series_fuse, "maximum series fuse",
                             "not stated; no more than two strings in parallel are taken as proven"},
       .limits = {0.1, 100}},
      &RawPanel::max_series_fuse},
    P{{.key = "voc_tolerance",
       .kind = Kind::tolerance,
       .meaning = "± around the stated Voc",
       .fall_back = FallBack{0.03, Quantity::panel_voc_tolerance, "Voc tolerance", usual_tolerance},
       .limits = {0, 0.2}},
      &RawPanel::voc_tolerance},
    P{{.key = "isc_tolerance",
       .kind = Kind::tolerance,
       .meaning = "± around the stated Isc",
       .fall_back = FallBack{0.05, Quantity::panel_isc_tolerance, "Isc tolerance", usual_tolerance},
       .limits = {0, 0.2}},
      &RawPanel::isc_tolerance},
    P{{.key = "pmax_tolerance",
       .kind = Kind::tolerance,
       .meaning = "± around the stated Pmax, or the two ends of it",
       .fall_back = FallBack{0.03, Quantity::panel_pmax_tolerance, "Pmax tolerance", usual_tolerance},
       .limits = {0, 0.3},
       .form = "pmax_tolerance = [ \"-3 %\", \"+5 %\" ]"},
      {}},
    P{{.key = "bifaciality",
       .kind = Kind::percentage,
       .meaning = "rear over front Isc of a panel that takes light on both sides",
       .if_missing = "not bifacial",
       .limits = {0.01, 1.1}},
      &RawPanel::bifaciality},
    P{{.key = "diode",
       .kind = Kind::by_hand,
       .meaning = "the five parameters of the single-diode curve, where a laboratory gave them",
       .if_missing = "worked out from the values above",
       .form = "[panel.diode]"},
      {}},
};

using D = Field<RawDiode>;
constexpr std::array diode_table{
    D{{.key = "light_current",
       .kind = Kind::current,
       .meaning = "current the light drives",
       .limits = {0.005, 100},
       .required = true},
      &RawDiode::light_current},
    D{{.key = "saturation_current",
       .kind = Kind::current,
       .meaning = "reverse saturation current of the diode",
       .limits = {1e-40, 0.1},
       .required = true},
      &RawDiode::saturation_current},
    D{{.key = "ideality",
       .kind = Kind::factor,
       .meaning = "ideality factor of one junction",
       .limits = {0.3, 5},
       .required = true},
      &RawDiode::ideality},
    D{{.key = "series_resistance",
       .kind = Kind::resistance,
       .meaning = "of the whole panel",
       .limits = {0, 200},
       .required = true},
      &RawDiode::series_resistance},
    D{{.key = "shunt_resistance",
       .kind = Kind::resistance,
       .meaning = "of the whole panel",
       .limits = {0.1, 1e9},
       .required = true},
      &RawDiode::shunt_resistance},
};

using E = Field<RawEntry>;
constexpr std::array entry_table{
    E{{.key = "id",
       .kind = Kind::text,
       .meaning = "what wirings call this kind: a-z, 0-9, _ and -, a letter first",
       .if_missing = "made from the name of the file, or of the panel",
       .limits = {1, 32}},
      &RawEntry::id},
    E{{.key = "file",
       .kind = Kind::text,
       .meaning = "a panel file, relative to this one; instead of the keys below",
       .if_missing = "the panel's keys stand here",
       .limits = {1, 400}},
      &RawEntry::file},
    E{{.key = "count",
       .kind = Kind::count,
       .meaning = "how many are on hand",
       .limits = {1, 200},
       .required = true},
      &RawEntry::count},
    E{{.key = "plane",
       .kind = Kind::text,
       .meaning = "the name of the [[plane]] they are on; a wiring may say otherwise of single panels",
       .if_missing = "the first plane",
       .limits = {1, 40}},
      &RawEntry::plane},
    E{{.key = "price",
       .kind = Kind::money,
       .meaning = "of one panel",
       .if_missing = "not counted",
       .limits = {0.01, 1e7}},
      &RawEntry::price},
};

constexpr Spec tolerance_spec{.key = "pmax_tolerance", .kind = Kind::percentage, .limits = {0, 0.3}};
constexpr Spec tolerance_below{.key = "pmax_tolerance", .kind = Kind::percentage, .limits = {-0.3, 0}};

std::optional<Tolerance> read_tolerance(const FileNotes& notes, const Node& node) {
    if (const auto* list = node.as<List>()) {
        if (list->size() != 2) {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("'pmax_tolerance' lists {} values. Write the two ends, the lower first: [ "
                                       "\"-3 %\", \"+5 %\" ].",
                                       list->size()));
            return std::nullopt;
        }
        const auto below = read_measure(notes, tolerance_below, (*list)[0]);
        const auto above = read_measure(notes, tolerance_spec, (*list)[1]);
        if (!below || !above) return std::nullopt;
        return Tolerance{0.0 - below->value, above->value, node.at};
    }
    if (const auto* text = node.as<std::string>(); text != nullptr && text->find('/') != std::string::npos) {
        notes.complain(
            node.at, Complaint::wrong_type,
            fmt::format("'pmax_tolerance' is {}. Write the two ends as a list of percentages; 0/+5 W on a 100 W "
                        "panel is [ \"0 %\", \"+5 %\" ].",
                        quoted(*text)));
        return std::nullopt;
    }
    const auto both = read_measure(notes, tolerance_spec, node);
    if (!both) return std::nullopt;
    return Tolerance{both->value, both->value, node.at};
}

std::optional<RawDiode> read_diode(const FileNotes& notes, const Entry& entry) {
    const Table* table =
        read_table(notes, entry, "Write a table [panel.diode] ([diode] in a panel file) with five keys");
    if (table == nullptr) return std::nullopt;
    check_keys(notes, *table, entry.value.at, "the panel's diode", specs_of(diode_fields()));
    RawDiode diode;
    read_fields(notes, *table, diode_fields(), diode);
    return diode;
}

}  // namespace

Technology RawPanel::technology_or_unknown() const {
    return technology ? technology_names[technology->index].technology : Technology::unknown;
}

std::span<const Field<RawPanel>> panel_fields() { return panel_table; }
std::span<const Field<RawDiode>> diode_fields() { return diode_table; }
std::span<const Field<RawEntry>> entry_fields() { return entry_table; }

RawPanel read_raw_panel(const FileNotes& notes, const Table& table, Place at) {
    RawPanel panel;
    panel.at = at;
    // `nmot` is a temperature, or a table of its own.
    const Entry* nmot = find(table, "nmot");
    if (nmot != nullptr && nmot->value.as<Table>() != nullptr) {
        Table rest = table;
        rest.erase(std::remove_if(rest.begin(), rest.end(), [](const Entry& e) { return e.key == "nmot"; }), rest.end());
        read_fields(notes, rest, panel_fields(), panel);
        NmotTable read = nmot_from(notes, *nmot);
        panel.nmot = std::move(read.temperature);
        panel.nmot_point = read.point;
    } else {
        read_fields(notes, table, panel_fields(), panel);
    }
    if (const Entry* entry = find(table, "pmax_tolerance")) panel.pmax_tolerance = read_tolerance(notes, entry->value);
    if (const Entry* entry = find(table, "diode")) panel.diode = read_diode(notes, *entry);
    if (panel.noct && panel.nmot) {
        notes.complain(panel.nmot->at, Complaint::twice,
                       "'noct' and 'nmot' are both given. Keep the one the datasheet prints.");
    }
    if (panel.bypass_diodes && panel.cells_in_series && panel.bypass_diodes->value > panel.cells_in_series->value) {
        notes.complain(panel.bypass_diodes->at, Complaint::disagreement,
                       fmt::format("'bypass_diodes' is {}, more than the {} cells. Usual are 1 to 3 a panel.",
                                   plain(panel.bypass_diodes->value), plain(panel.cells_in_series->value)));
    }
    return panel;
}

}  // namespace plait::input
