#include "curve_tables.hpp"

#include "curve_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

constexpr std::size_t most_string_columns = 4;
constexpr double shown_a = 0.005;  // less prints as 0.00 A
constexpr double shown_w = 0.05;   // … as 0.0 W

std::string plain(std::string with_unit) { return with_unit.substr(0, with_unit.rfind(' ')); }

std::string marks_text(const study::CurvePoint& p) {
    const auto has = [&](study::Mark m) { return std::find(p.marks.begin(), p.marks.end(), m) != p.marks.end(); };
    std::string out;
    for (const study::Mark m : p.marks) {
        if (m == study::Mark::maximum && has(study::Mark::best)) continue;             // said by "the most power"
        if (m == study::Mark::first_stop && has(study::Mark::in_operation)) continue;  // as it should be
        out += fmt::format("{}{}", out.empty() ? "" : "; ", words_of(m));
    }
    return out;
}

std::string bypassed_text(const physics::PanelReading& panel) {
    std::string out;
    std::size_t n = 0;
    for (std::size_t g = 0; g < panel.groups.size(); ++g) {
        if (!panel.groups[g].bypassed) continue;
        out += fmt::format("{}{}", out.empty() ? "" : ", ", g + 1);
        ++n;
    }
    return n == 0 ? "" : fmt::format("bypassed: {} {}", n == 1 ? "group" : "groups", out);
}

// Neighbours of which the same is said share a row.
Table panel_table(const Setup& setup, const study::InputCurve& c, const study::Shares& shares) {
    Table table = table_of("What every panel could give alone, and gives here", {"string", "panel", "kind", "#alone", "#here", "#lost", "remark"});
    std::size_t first = 0;
    for (std::size_t s = 0; s < shares.reading.strings.size(); ++s) {
        const std::string string = fmt::format("{}, {}", s + 1, amps(shares.reading.strings[s].current_a));
        for (std::size_t p = 0; p < shares.reading.strings[s].panels.size(); ++p) {
            const physics::PanelShare& share = shares.mismatch.panels[s][p];
            std::vector<std::string> cells{string,
                                           "",
                                           setup.kinds[c.wiring.strings[s].panels[p].kind].id,
                                           watts(share.own_maximum_w),
                                           watts(share.delivered_w),
                                           watts(share.lost_w()),
                                           bypassed_text(shares.reading.strings[s].panels[p])};
            const bool same = p > 0 && std::equal(cells.begin() + 2, cells.end(), table.rows.back().cells.begin() + 2);
            if (!same) {
                table.rows.push_back({std::move(cells)});
                first = p;
            }
            table.rows.back().cells[1] = first == p ? fmt::format("{}", p + 1) : fmt::format("{}–{}", first + 1, p + 1);
        }
    }
    return table;
}

ShareTable share_table(const Setup& setup, const study::InputCurve& c, const study::Shares& shares, const char* where) {
    const physics::Mismatch& m = shares.mismatch;
    std::string sum = fmt::format("One by one the panels could give {}; tied together they give ", watts(m.own_w));
    if (m.lost_w() < shown_w) {
        sum += "the same";
    } else {
        sum += fmt::format("{}: {} ({}) less", watts(m.point.power_w()), watts(m.lost_w()),
                           per_cent_of(m.lost_w(), m.own_w));
    }
    if (m.blocking_w >= shown_w) sum += fmt::format(", {} of it in blocking diodes", watts(m.blocking_w));
    return {fmt::format("{}, {}", where, volts(shares.reading.point.voltage_v)), sum + ".",
            panel_table(setup, c, shares)};
}

}  // namespace

std::string curve_weather(const study::SystemModel& system, const study::CurveSheet& sheet) {
    const study::InputCurve& first = sheet.inputs.front();
    const std::string name = sheet.weather.id ? fmt::format("{}: ", rules::title_of(*sheet.weather.id)) : "";
    const auto cell = [&](std::size_t kind) { return first.by_kind[kind].cell; };
    const std::size_t shown = first.wiring.strings.front().panels.front().kind;
    std::string cells;
    bool alike = true;
    for (std::size_t kind = 0; kind < first.by_kind.size(); ++kind) {
        const bool used = std::any_of(sheet.inputs.begin(), sheet.inputs.end(),
                                      [&](const study::InputCurve& c) { return c.wiring.panel_count(kind) > 0; });
        if (!used) continue;
        alike = alike && cell(kind) == cell(shown);
        cells += fmt::format("{}{} {}", cells.empty() ? "" : ", ", system.setup().kinds[kind].id, degrees(cell(kind)));
    }
    if (alike) cells = degrees(cell(shown));
    return fmt::format("{}{:.4g} W/m²{}, cells {}", name, first.by_kind.front().irradiance_w_per_m2,
                       sheet.weather.id || !sheet.weather.air ? "" : ", air " + degrees(*sheet.weather.air), cells);
}

std::string over_maximum(const Input& input, const study::InputCurve& c) {
    if (!input.max_voltage_v) {
        return "Nobody knows the input's absolute maximum: do not connect it before the maker has said it.";
    }
    if (!(c.open_circuit_v > *input.max_voltage_v)) return "";
    return fmt::format("Open circuit is above the input's absolute maximum of {}: do not connect it.",
                       volts(*input.max_voltage_v));
}

Table figure_table(const study::InputCurve& c) {
    Table table = table_of("The curve in five lines", {"", "#volts", "#amps", "#watts", "remark"});
    const auto add = [&](const char* what, const physics::PowerPoint& p, std::string remark) {
        table.rows.push_back(
            {{what, volts(p.voltage_v), amps(p.current_a), watts(p.power_w()), std::move(remark)}});
    };
    table.rows.push_back({{"open circuit", volts(c.open_circuit_v), "", "", ""}});
    table.rows.push_back({{"short circuit", "", amps(c.short_circuit_a), "", ""}});
    const std::size_t maxima = c.extremes.maximum_count();
    add("most power", c.extremes.best().point,
        maxima > 1 ? fmt::format("the highest of {} maxima", maxima) : std::string());
    const physics::OperatingPoint& op = c.operating;
    if (op.held()) {
        add("in operation", op.point, binding_words(op.binding, op.binding_limit));
    } else {
        table.rows.push_back({{"in operation", "", "", "", none_words(op.none)}});
    }
    if (first_stop_matters(c)) {
        add("first stop", c.first_stop->point, binding_words(c.first_stop->binding, c.first_stop->binding_limit));
    }
    return table;
}

Table point_table(const study::InputCurve& c, bool all_points) {
    const bool strings = c.wiring.strings.size() > 1 && c.wiring.strings.size() <= most_string_columns;
    Table table = table_of(all_points ? "Points of the curve" : "Points of the curve where something changes",
                           {"#V", "#A", "#W"});
    for (std::size_t s = 0; strings && s < c.wiring.strings.size(); ++s) {
        table.columns.push_back({fmt::format("string {}", s + 1), true});
    }
    table.columns.push_back({"what is there", false});
    for (const study::CurvePoint& p : c.points) {
        if (!all_points && p.marks.empty()) continue;
        std::vector<std::string> cells{plain(volts(p.point.voltage_v)), plain(amps(p.point.current_a)),
                                       plain(watts(p.point.power_w()))};
        for (std::size_t s = 0; strings && s < c.wiring.strings.size(); ++s) {
            cells.push_back(s < p.string_a.size() ? plain(amps(p.string_a[s])) : "");
        }
        cells.push_back(marks_text(p));
        table.rows.push_back({std::move(cells)});
    }
    return table;
}

std::vector<ShareTable> share_tables(const Setup& setup, const study::InputCurve& c) {
    std::vector<ShareTable> out;
    if (c.at_best.mismatch.own_w > 0.0) out.push_back(share_table(setup, c, c.at_best, "At the most power"));
    if (c.in_operation && !c.operates_at_best()) {
        out.push_back(share_table(setup, c, *c.in_operation, "In operation"));
    }
    return out;
}

std::string open_circuit_sentence(const study::InputCurve& c) {
    if (c.wiring.strings.size() < 2) return "";
    std::string currents;
    bool any = false;
    for (std::size_t s = 0; s < c.open_circuit_string_a.size(); ++s) {
        any = any || std::abs(c.open_circuit_string_a[s]) >= shown_a;
        currents +=
            fmt::format("{}{} in string {}", currents.empty() ? "" : ", ", amps(c.open_circuit_string_a[s]), s + 1);
    }
    if (!any) return "Nothing plugged in: no string drives current through another.";
    return fmt::format(
        "Nothing plugged in, the strings still drive current through each other: {} (below zero: driven back).",
        currents);
}

}  // namespace plait::output
