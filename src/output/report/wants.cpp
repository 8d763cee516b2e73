// The report on a controller alone: what each input wants of an array, before any panel is chosen.
#include <plait/output/match.hpp>

#include "arrange_words.hpp"
#include "parts_of_reports.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <plait/rules/array_figures.hpp>

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

std::string volts_or_any(double v) { return std::isfinite(v) ? volts(v) : "any"; }

std::vector<std::string> want_sentences(const WantsSubject& s, const study::InputWants& w) {
    const Controller& controller = s.controller.controller;
    const Input& input = controller.inputs[w.input];
    const Site& site = s.site.site;
    std::vector<std::string> out;
    const std::optional<double> room_v = w.silicon_voc_v();
    if (!room_v) {
        out.emplace_back("Nobody knows its absolute maximum, so nobody can say how many volts it bears: ask the maker before you buy, and write it as `max_voltage`.");
    } else {
        out.push_back(fmt::format("Open circuit: the panels of a string may have {} of Voc together (the label's figure, at 25 °C), so that at {} "
                                  "they stay below {}: for any usual silicon, its coefficient printed or not, with {} of label tolerance.",
                                  volts(*room_v), degrees(site.coldest_air), volts(*input.max_voltage_v), per_cent(w.label_tolerance_ratio, 0)));
    }
    if (w.start_voc_v > 0.0) {
        out.push_back(fmt::format("To start on the hottest day ({}) it needs {} of label Voc or more.", degrees(site.hottest_air), volts(w.start_voc_v)));
    }
    if (w.best_band) {
        const study::BandVolts& b = w.bands[*w.best_band];
        const std::string band = std::isfinite(b.band.limit_a) ? fmt::format("up to {}", amps(b.band.limit_a)) : std::string("its current");
        out.push_back(fmt::format("Working: a string's label Vmp from {} to {} keeps it where it takes {}, from the hottest day to the coldest morning.",
                                  volts(b.from_v), volts_or_any(b.to_v), band));
    } else if (!w.bands.empty()) {
        out.emplace_back("Working: no voltage of a string stays within one current band all year; the table has each.");
    }
    for (const study::LightCeiling& c : w.ceilings) {
        std::vector<std::string> parts;
        if (c.array_w) parts.push_back(fmt::format("{} of rated power", watts(*c.array_w)));
        if (c.array_a) parts.push_back(fmt::format("{} of label Imp (all strings together)", amps(*c.array_a)));
        if (parts.empty()) continue;
        out.push_back(fmt::format("At {:.0f} W/m² on a warm day more than {} brings nothing.", c.irradiance_w_per_m2, joined(parts, ", or than ")));
    }
    if (w.half_w && w.tenth_w) {
        out.push_back(fmt::format("Over the year's light {} the next watt of array brings less than half of itself from {} on, less than a tenth from {} on.",
                                  w.year_is_local ? "of the site" : "(European weights)", watts(*w.half_w), watts(*w.tenth_w)));
    }
    if (input.over_current == OverCurrent::not_permitted) {
        out.emplace_back("Its maker forbids an array that could give more than the limits: do not go beyond them.");
    } else if (input.over_current == OverCurrent::unsaid) {
        out.emplace_back("Its maker does not say whether an array may be larger than its limits: ask before you go beyond them.");
    }
    if (input.max_short_circuit_a) {
        out.push_back(fmt::format("Short circuit: the label Isc of all strings together may be {}, so that under the brightest sky (× {:g}) it stays below {}.",
                                  amps(*input.max_short_circuit_a / rules::bright_sky_factor), rules::bright_sky_factor, amps(*input.max_short_circuit_a)));
    }
    return out;
}

Table cold_table(const study::InputWants& w) {
    Table table = table_of("Label Voc of a string, at most, by technology", {"", "#usual coefficient", "#steepest", "#shallowest", "#not printed"});
    for (const study::ColdRoom& r : w.cold) {
        table.rows.push_back({{std::string(plait::name_of(r.technology).title),
                               fmt::format("{} … {}", signed_number(100.0 * r.steep_per_k, 2), signed_per_cent(r.shallow_per_k, 2) + "/K"), volts(r.voc_steep_v),
                               volts(r.voc_shallow_v), volts(r.voc_unstated_v)}});
    }
    return table;
}

Table band_table(const study::InputWants& w) {
    Table table = table_of("Label Vmp of a string, by current band", {"", "#takes", "#Vmp from", "#Vmp to"});
    for (const study::BandVolts& b : w.bands) {
        const bool any = b.to_v >= b.from_v;
        table.rows.push_back({{fmt::format("{} to {}", volts(b.band.from_v), volts_or_any(b.band.to_v)),
                               std::isfinite(b.band.limit_a) ? amps(b.band.limit_a) : "not limited", any ? volts(b.from_v) : "–",
                               any ? volts_or_any(b.to_v) : "–"}});
    }
    return table;
}

Table year_table(const study::InputWants& w) {
    Table table = table_of("Size of the array over the year's light", {"", "#taken", "#of the next watt"});
    if (w.year_is_local) table.columns.insert(table.columns.begin() + 1, {"a year", true});
    for (const study::YearStep& y : w.year) {
        Table::Row row{{watts(y.array_w) + " rated", per_cent(y.taken_ratio), per_cent(y.next_ratio)}};
        if (y.delivered_wh) row.cells.insert(row.cells.begin() + 1, watt_hours(*y.delivered_wh));
        table.rows.push_back(std::move(row));
    }
    return table;
}

std::string in_series(const search::ClassAnswer& c) {
    if (!c.shortest_string) return "none";
    if (c.shortest_string == c.longest_string) return fmt::format("{}", *c.shortest_string);
    return fmt::format("{} to {}", *c.shortest_string, *c.longest_string);
}

Table class_table(const WantsSubject& s) {
    Table table = table_of(fmt::format("Usual classes of panel, up to {}", s.most_panels),
                           {"", "in series", "#panels", "fills it best", "verdict", "#filled", "#takes"});
    for (const search::ClassAnswer& c : s.classes) {
        const search::PairAnswer& a = c.pair.answer;
        Table::Row row{{usual_panels()[c.usual].title, in_series(c), "–", "–", "NO WIRING", "–", "–"}};
        if (a.usable) {
            row.cells = {row.cells[0], row.cells[1], fmt::format("{}", a.panels_used), "", word_of(a.verdict),
                         a.fill_ratio ? per_cent(*a.fill_ratio) : "–", watts(a.harvest_w)};
            std::vector<std::string> parts;
            for (std::size_t i = 0; i < a.plan.size(); ++i) {
                if (a.plan[i].empty()) continue;
                const auto equal = as_equal_strings(a.plan[i]);
                const std::string wiring = equal ? fmt::format("{}s{}p", equal->in_series, equal->in_parallel) : label(a.plan[i], {"panel"});
                parts.push_back(a.plan.size() > 1 ? s.controller.controller.inputs[i].name + " " + wiring : wiring);
            }
            for (std::size_t i = 0; i < parts.size(); ++i) row.cells[3] += (i > 0 ? ", " : "") + parts[i];
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

}  // namespace

Report wants_report(const WantsSubject& s, Provenance provenance) {
    Report report;
    report.title = s.controller.controller.name;
    report.kind = "What an input wants, before any panel is chosen: for the owner who is about to buy.";
    std::vector<std::string> names;
    for (const Input& input : s.controller.controller.inputs) names.push_back(input.name);
    report.headline = {Tone::plain, "What it wants", joined(names, ", ")};
    report.provenance = std::move(provenance);
    report.last_word = deferral;
    const bool several = s.inputs.size() > 1;
    for (const study::InputWants& w : s.inputs) {
        Section& answer = report.section(Purpose::answer, several ? names[w.input] : std::string());
        answer.add(Items{want_sentences(s, w)});
        answer.add(Picture{[&s, &w] { return wants_svg(s.bare, w, PictureUse::on_page); }});
    }
    Section& classes = report.section(Purpose::answer, "With panels of the usual classes");
    classes.add(class_table(s));
    classes.add(Paragraph{"Their figures are typical, common practice, no source; a panel you mean to buy has its own: `plait match` with its file. "
                          "in series: the strings that stay within the limits. fills it best: the wiring that suits the size of the inputs, so that neither "
                          "they nor the panels are too large."});
    for (const study::InputWants& w : s.inputs) {
        const std::string of = several ? names[w.input] + ": " : std::string();
        Table cold = cold_table(w);
        if (!cold.rows.empty()) {
            Section& section = report.section(Purpose::reading, of + cold.caption);
            section.add(std::move(cold));
            section.add(Paragraph{fmt::format("steepest, shallowest: with the coefficients of Voc that datasheets of the technology usually print; not printed: by "
                                              "what is assumed for it. {} of label tolerance is counted.",
                                              per_cent(w.label_tolerance_ratio, 0))});
        }
        Table bands = band_table(w);
        if (!bands.rows.empty()) report.section(Purpose::reading, of + bands.caption).add(std::move(bands));
        Table year = year_table(w);
        if (year.rows.empty()) continue;
        Section& section = report.section(Purpose::reading, of + year.caption);
        section.add(std::move(year));
        section.add(Paragraph{"taken: of what such an array could give. of the next watt: the share of what one more watt of array could give that is taken."});
    }
    Section& careful = report.section(Purpose::caution, "Be careful");
    careful.add(Cautions{{"These are figures to choose by, no wiring: hold the panels you mean to buy against the input with their own datasheets before you buy.",
                          std::string(read_check_first)}});
    std::vector<Assumption> assumptions = s.controller.assumptions;
    assumptions.insert(assumptions.end(), s.site.assumptions.begin(), s.site.assumptions.end());
    std::vector<std::string> doubts = s.controller.doubts;
    doubts.insert(doubts.end(), s.site.doubts.begin(), s.site.doubts.end());
    add_doubts(report, doubts);
    add_assumptions(report, assumptions);
    add_legend(report);
    return report;
}

}  // namespace plait::output
