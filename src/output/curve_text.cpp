#include <plait/output/text.hpp>

#include "curve_plot.hpp"
#include "curve_words.hpp"
#include "style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

constexpr std::size_t most_string_columns = 4;
constexpr double shown_a = 0.005;  // less prints as 0.00 A
constexpr double shown_w = 0.05;   // … as 0.0 W

std::string weather_text(const study::Bench& bench, const study::CurveSheet& sheet) {
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
        cells += fmt::format("{}{} {}", cells.empty() ? "" : ", ", bench.setup().kinds[kind].id, degrees(cell(kind)));
    }
    if (alike) cells = degrees(cell(shown));
    return fmt::format("{}{:.4g} W/m²{}, cells {}", name, first.by_kind.front().irradiance_w_per_m2,
                       sheet.weather.id || !sheet.weather.air ? "" : ", air " + degrees(*sheet.weather.air), cells);
}

std::string figure(const char* what, const physics::PowerPoint& p, const std::string& remark) {
    return fmt::format("  {}{}{}{}{}{}\n", padded(what, 16), padded_left(volts(p.voltage_v), 10),
                       padded_left(amps(p.current_a), 10), padded_left(watts(p.power_w()), 11),
                       remark.empty() ? "" : "  ", remark);
}

std::string none_words(physics::NoPoint none) {
    switch (none) {
        case physics::NoPoint::dark:
            return "no light, no power";
        case physics::NoPoint::pushed_out:
            return "no steady point: the array pushes the voltage out of the window";
        case physics::NoPoint::too_low:
            return "nothing: the voltage does not reach the window";
        case physics::NoPoint::held:
            break;
    }
    return "";
}

std::string figures(const study::InputCurve& c) {
    std::string out = fmt::format("  {}{}\n", padded("open circuit", 16), padded_left(volts(c.open_circuit_v), 10));
    out += fmt::format("  {}{}{}\n", padded("short circuit", 16), padded_left("", 10),
                       padded_left(amps(c.short_circuit_a), 10));
    const std::size_t maxima = c.extremes.maximum_count();
    out += figure("most power", c.extremes.best().point,
                  maxima > 1 ? fmt::format("the highest of {} maxima", maxima) : std::string());
    const physics::OperatingPoint& op = c.operating;
    if (op.held()) {
        out += figure("in operation", op.point, binding_words(op.binding, op.binding_limit));
    } else {
        out += fmt::format("  {}{}\n", padded("in operation", 16), none_words(op.none));
    }
    if (first_stop_matters(c)) {
        out += figure("first stop", c.first_stop->point,
                      binding_words(c.first_stop->binding, c.first_stop->binding_limit));
    }
    return out;
}

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

std::string points_table(const study::InputCurve& c, bool all_points, Colour colour) {
    const bool strings = c.wiring.strings.size() > 1 && c.wiring.strings.size() <= most_string_columns;
    std::string head = fmt::format("  {}{}{}", padded_left("V", 10), padded_left("A", 10), padded_left("W", 10));
    for (std::size_t s = 0; strings && s < c.wiring.strings.size(); ++s) {
        head += padded_left(fmt::format("string {}", s + 1), 11);
    }
    std::string out = bold(head, colour) + "\n";
    const auto plain = [](std::string with_unit) { return with_unit.substr(0, with_unit.rfind(' ')); };
    for (const study::CurvePoint& p : c.points) {
        if (!all_points && p.marks.empty()) continue;
        std::string line = fmt::format("  {}{}{}", padded_left(plain(volts(p.point.voltage_v)), 10),
                                       padded_left(plain(amps(p.point.current_a)), 10),
                                       padded_left(plain(watts(p.point.power_w())), 10));
        for (std::size_t s = 0; strings && s < p.string_a.size(); ++s) {
            line += padded_left(plain(amps(p.string_a[s])), 11);
        }
        const std::string marks = marks_text(p);
        out += line + (marks.empty() ? "" : "  " + marks) + "\n";
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

struct PanelRow {
    std::size_t string = 0;
    std::size_t first = 0;
    std::size_t last = 0;
    std::string text;
};

// Neighbours of which the same is said share a line.
std::vector<PanelRow> panel_rows(const Setup& setup, const study::InputCurve& c, const study::Shares& shares) {
    std::vector<PanelRow> rows;
    for (std::size_t s = 0; s < shares.reading.strings.size(); ++s) {
        for (std::size_t p = 0; p < shares.reading.strings[s].panels.size(); ++p) {
            const physics::PanelShare& share = shares.mismatch.panels[s][p];
            std::string text =
                fmt::format("{}{}{}{}  {}", padded(setup.kinds[c.wiring.strings[s].panels[p].kind].id, 16),
                            padded_left(watts(share.own_maximum_w), 10), padded_left(watts(share.delivered_w), 10),
                            padded_left(watts(share.lost_w()), 10), bypassed_text(shares.reading.strings[s].panels[p]));
            text.erase(text.find_last_not_of(' ') + 1);
            if (!rows.empty() && rows.back().string == s && rows.back().text == text) {
                rows.back().last = p;
            } else {
                rows.push_back({s, p, p, std::move(text)});
            }
        }
    }
    return rows;
}

std::string shares_text(const Setup& setup, const study::InputCurve& c, const study::Shares& shares, const char* where,
                        Colour colour) {
    const physics::Mismatch& m = shares.mismatch;
    std::string out = "\n  " + bold(fmt::format("{}, {}", where, volts(shares.reading.point.voltage_v)), colour) + "\n";
    std::string sum = fmt::format("One by one the panels could give {}; tied together they give ", watts(m.own_w));
    if (m.lost_w() < shown_w) {
        sum += "the same";
    } else {
        sum += fmt::format("{}: {} ({:.1f} %) less", watts(m.point.power_w()), watts(m.lost_w()),
                           100.0 * m.lost_w() / m.own_w);
    }
    if (m.blocking_w >= shown_w) sum += fmt::format(", {} of it in blocking diodes", watts(m.blocking_w));
    out += "  " + wrapped(sum + ".", 2) + "\n";
    out += fmt::format("  {}{}{}{}{}\n", padded("string", 18), padded("panel", 24), padded_left("alone", 10),
                       padded_left("here", 10), padded_left("lost", 10));
    std::size_t string = c.wiring.strings.size();
    for (const PanelRow& row : panel_rows(setup, c, shares)) {
        const std::string head = row.string == string ? ""
                                                      : fmt::format("{}, {}", row.string + 1,
                                                                    amps(shares.reading.strings[row.string].current_a));
        string = row.string;
        const std::string which = row.first == row.last ? fmt::format("{}", row.first + 1)
                                                        : fmt::format("{}–{}", row.first + 1, row.last + 1);
        out += fmt::format("  {}{}{}\n", padded(head, 18), padded(which, 8), row.text);
    }
    return out;
}

std::string open_circuit_text(const study::InputCurve& c) {
    if (c.wiring.strings.size() < 2) return "";
    std::string currents;
    bool any = false;
    for (std::size_t s = 0; s < c.open_circuit_string_a.size(); ++s) {
        any = any || std::abs(c.open_circuit_string_a[s]) >= shown_a;
        currents +=
            fmt::format("{}{} in string {}", currents.empty() ? "" : ", ", amps(c.open_circuit_string_a[s]), s + 1);
    }
    if (!any) return "  Nothing plugged in: no string drives current through another.\n";
    return "  " +
           wrapped(fmt::format("Nothing plugged in, the strings still drive current through each other: {} (below "
                               "nought: driven back).",
                               currents),
                   2) +
           "\n";
}

std::string input_text(const study::Bench& bench, const study::InputCurve& c, bool all_points, Plot plot,
                       Colour colour) {
    const Setup& setup = bench.setup();
    const Input& input = setup.controller.inputs[c.input];
    const bool tracks = !physics::pinned_voltage_v(setup.controller);
    std::string out = "\n" +
                      bold(fmt::format("{}: {}{}", input.name, label(c.wiring, kind_ids(setup)),
                                       shaded(c.wiring) ? ", in the light and warmth the file gives each group" : ""),
                           colour) +
                      "\n";
    if (c.open_circuit_v > input.max_voltage_v) {
        out += coloured("  ! ", rules::Outcome::exceeds, colour) +
               wrapped(fmt::format("Open circuit is above the input's absolute maximum of {}: do not connect it.",
                                   volts(input.max_voltage_v)),
                       4) +
               "\n";
    }
    out += figures(c);
    const std::string sentence = first_stop_sentence(c);
    if (!sentence.empty()) out += "  " + wrapped(sentence, 2) + "\n";
    const std::string drawn = curve_plot(c, bench.window(c.input), tracks, plot);
    if (!drawn.empty()) out += "\n" + drawn;
    out += "\n" + points_table(c, all_points, colour);
    if (c.at_best.mismatch.own_w > 0.0) out += shares_text(setup, c, c.at_best, "At the most power", colour);
    const double best_v = c.extremes.best().point.voltage_v;
    if (c.in_operation && std::abs(c.operating.point.voltage_v - best_v) > 1e-6 * best_v) {
        out += shares_text(setup, c, *c.in_operation, "In operation", colour);
    }
    const std::string open = open_circuit_text(c);
    if (!open.empty()) out += "\n" + open;
    return out;
}

}  // namespace

std::string curve_text(const study::Bench& bench, const study::CurveSheet& sheet, bool all_points, Plot plot,
                       Colour colour) {
    std::string out = weather_text(bench, sheet) + "\n";
    for (const study::InputCurve& c : sheet.inputs) out += input_text(bench, c, all_points, plot, colour);
    out += assumptions_text(study::all_assumptions(bench), colour);
    out += doubts_text(bench.setup().doubts, colour);
    out +=
        "\n" +
        wrapped(
            "This is the curve alone: `plait check` compares the wiring with every limit. It is arithmetic on stated "
            "values, not an approval: the local code, the makers' manuals and a licensed electrician have the last "
            "word.",
            0) +
        "\n";
    return out;
}

}  // namespace plait::output
