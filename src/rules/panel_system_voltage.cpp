// The panels, their leads and plugs are insulated for a voltage of their own, and small fabric panels for a low one.
#include "how_many.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"system-voltage"};
constexpr std::array<std::string_view, 1> sources{
    "panel datasheet, maximum system voltage (IEC 61730); cold correction as for the input"};
constexpr std::array rests{Quantity::panel_system_voltage};
constexpr std::array<std::span<const Quantity>, 1> tests_rest{cold_voc_rests_on};

// Strings in parallel share the highest voltage, so the weakest insulation of the whole array counts.
void check(const Situation& s, Findings& out) {
    double limit_v = std::numeric_limits<double>::infinity();
    for (const SeriesString& string : s.wiring().strings) {
        for (const PanelPlace& place : string.panels) {
            limit_v = std::min(limit_v, s.panel(place).max_system_voltage_v);
        }
    }
    const Figure voc = cold_voc_v(s, s.site().cold_method);
    out.push_back(at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::exceeds));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("In the cold the array reaches {}; its panels are marked for a system voltage of {}.",
                            volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::exceeds) {
        const std::string fewer = fewer_in_series(s, f);
        w.instead =
            (fewer.empty() ? "Not even one of these panels stays within: use" : fewer + ", or use") +
            std::string(" panels marked for a higher system voltage. If the marking is missing, ask the maker.");
    } else if (!f.even_at_worst) {
        w.instead = at_top(f) + ": take one panel out of the string, or measure Voc in the cold.";
    }
    return w;
}

}  // namespace

constinit const Rule panel_system_voltage{
    .id = "panel-system-voltage",
    .title = "The panels' own system voltage",
    .harm = "insulation of panels, leads or plugs fails: shock and fire",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .tests_rest_on = tests_rest,
    .stays_broken = true,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
