#include <plait/input/reference.hpp>
#include <plait/model/technology_ranges.hpp>

#include "reference.hpp"

#include "cable_from.hpp"
#include "controller_fields.hpp"
#include "nmot_from.hpp"
#include "panel_fields.hpp"
#include "place_from.hpp"
#include "setup_fields.hpp"
#include "site_from.hpp"
#include "storage_from.hpp"
#include "quantity/kinds.hpp"
#include "wiring_table.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

struct Group {
    std::string_view title;
    std::string_view home;  // as a message names it
    std::string_view lead;
    Specs specs;
};

std::vector<Group> groups() {
    return {
        {"The set-up itself", "the top of the set-up", "At the top of the file, before any table.",
         specs_of(setup_fields())},
        {"`[[panel]]`", "[[panel]]",
         "One for each kind of panel, with double brackets. The keys of this table, and then either `file` or those of "
         "the "
         "next.",
         specs_of(entry_fields())},
        {"A panel", "[[panel]] or a panel file",
         "In `[[panel]]`, or at the top of a panel file. Values at standard test conditions: 1000 W/m², 25 °C cell.",
         specs_of(panel_fields())},
        {"`[panel.nmot]`", "[panel.nmot]",
         "`[nmot]` in a panel file, in place of the plain `nmot`: the datasheet's second column, at 800 W/m², 20 °C air and "
         "1 m/s wind. It is held against the curve.",
         specs_of(nmot_fields())},
        {"`[panel.diode]`", "[panel.diode]", "`[diode]` in a panel file. All five or none.", specs_of(diode_fields())},
        {"`[controller]`", "[controller]", "Or at the top of a controller file, without `price`.",
         specs_of(controller_fields())},
        {"`[controller.battery]`", "[controller.battery]", "`[battery]` in a controller file.",
         specs_of(battery_fields())},
        {"`[[controller.input]]`", "[[controller.input]]",
         "`[[input]]` in a controller file. One for each solar input.", specs_of(input_fields())},
        {"A band of `bands`", "a band", "Bands rise and do not overlap; they may touch.", specs_of(band_fields())},
        {"`[site]`", "[site]", "", specs_of(site_fields())},
        {"The place, in `[site]`", "[site]", "For light over the day and the year.", specs_of(location_fields())},
        {"`[[plane]]`", "[[plane]]", "One for each surface that panels are on, with double brackets.",
         specs_of(plane_fields())},
        {"`[losses]`", "[losses]", "For a harvest over time. What is not stated is not counted, and the account says so.",
         specs_of(losses_fields())},
        {"`[storage]`", "[storage]", "The battery over time. Its voltages stand under `[controller.battery]`.",
         specs_of(storage_fields())},
        {"`[[storage.load]]`", "[[storage.load]]", "What it serves each day, with double brackets.",
         specs_of(load_fields())},
        {"`[storage.wall]`", "[storage.wall]", "", specs_of(wall_fields())},
        {"`[[cable]]`", "[[cable]]",
         "One for each cable, with double brackets. Several of one run are in series, such as a cable and its "
         "extension.",
         specs_of(cable_fields())},
        {"`[fittings]`", "[fittings]", "What stands in the wires.", specs_of(fittings_fields())},
        {"`[[wiring.PV1.string]]`", "[[wiring.PV1.string]]", "One for each string of the input, here `PV1`.",
         specs_of(string_fields())},
        {"A panel of a string", "a panel of a string", "In place of a bare id.", specs_of(place_fields())},
        {"Cells in less light", "the cells of a bypass group",
         "In place of a number in `light`, where a leaf, a pole or the edge of a shadow lies over some cells of a group: "
         "`light = [1, { cells = 3, light = 0.2 }, 1]`.",
         specs_of(shade_fields())},
    };
}

std::string value_text(const Spec& spec) {
    if (!spec.form.empty()) {
        const bool code =
            spec.form.find('=') != std::string_view::npos || spec.form.find(' ') == std::string_view::npos;
        return code ? fmt::format("`{}`", spec.form) : std::string(spec.form);
    }
    if (spec.kind == Kind::word) {
        std::string words;
        for (const std::string_view word : spec.words) words += fmt::format("{}`{}`", words.empty() ? "" : ", ", word);
        return words;
    }
    return unit_text(spec.kind);
}

// What a missing key means: "47 °C, assumed", "required", or in words.
std::string missing_cell(const Spec& spec) {
    std::string text = spec.required ? "required" : "";
    if (spec.fall_back) {
        text = spec.kind == Kind::word ? fmt::format("`{}`", fall_back_text(spec)) : fall_back_text(spec);
        if (spec.fall_back->quantity) text += ", assumed";
    }
    if (!spec.if_missing.empty()) text += fmt::format("{}{}", text.empty() ? "" : "; ", spec.if_missing);
    return text;
}

std::string range_cell(const Spec& spec) {
    switch (spec.kind) {
        case Kind::tolerance:
            if (!spec.form.empty()) return "";
            return range_text(spec);
        case Kind::text:
            return fmt::format("up to {} characters", plain(spec.limits.high));
        case Kind::isc_coefficient:
        case Kind::voc_coefficient:
        case Kind::pmax_coefficient:
            return "by technology, below";
        case Kind::wire_size:
        case Kind::word:
        case Kind::flag:
        case Kind::by_hand:
            return "";
        default:
            return range_text(spec);
    }
}

std::string table_of(const Group& group) {
    std::string out = fmt::format("### {}\n\n", group.title);
    if (!group.lead.empty()) out += fmt::format("{}\n\n", group.lead);
    out += "| key | meaning | written as | range | if missing |\n| --- | --- | --- | --- | --- |\n";
    for (const Spec* spec : group.specs) {
        out += fmt::format("| `{}` | {} | {} | {} | {} |\n", spec->key, spec->meaning, value_text(*spec),
                           range_cell(*spec), missing_cell(*spec));
    }
    return out + "\n";
}

std::string plausibility_table() {
    const auto volts = [](const Bounds& b) {
        return fmt::format("{:.2f} to {:.2f} ({:.2f} to {:.2f})", b.usual.low, b.usual.high, b.possible.low,
                           b.possible.high);
    };
    const auto per_cent = [](const Bounds& b) {
        return fmt::format("{:.2f} to {:.2f} ({:.2f} to {:.2f})", 100 * b.usual.low, 100 * b.usual.high,
                           100 * b.possible.low, 100 * b.possible.high);
    };
    std::string out =
        "| technology | Voc per cell, V | β of Voc, %/K | γ of Pmax, %/K | α of Isc, %/K |\n"
        "| --- | --- | --- | --- | --- |\n";
    for (const TechnologyName& row : technology_names) {
        const TechnologyRanges& r = ranges_of(row.technology);
        out += fmt::format("| `{}` {} | {} | {} | {} | {} |\n", row.key, row.title, volts(r.voc_per_cell),
                           per_cent(r.voc_coefficient), per_cent(r.pmax_coefficient), per_cent(r.isc_coefficient));
    }
    return out;
}

}  // namespace

std::string homes_of(std::string_view key) {
    std::string homes;
    for (const Group& group : groups()) {
        const bool has =
            std::any_of(group.specs.begin(), group.specs.end(), [&](const Spec* s) { return s->key == key; });
        if (has) homes += fmt::format("{}{}", homes.empty() ? "" : ", or in ", group.home);
    }
    return homes;
}

std::string reference_markdown() {
    std::string out = "## Every key\n\n";
    for (const Group& group : groups()) out += table_of(group);
    out +=
        "## What is plausible\n\n"
        "The usual range, and in brackets the possible one. Outside the usual range the report voices a doubt; "
        "outside\n"
        "the possible one the file is refused, with a guess at the slip.\n\n";
    out += plausibility_table();
    return out;
}

}  // namespace plait::input
