// The panels, their leads and plugs are insulated for a voltage of their own, and small fabric panels for a low one.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

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
    const Figure voc = cold_voc_v(s);
    out.push_back(at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::exceeds));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("In the cold the array reaches {}; its panels are marked for a system voltage of {}.",
                            volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead = most_in_series(s, panel_system_voltage, f)
                        ? "If the marking is missing, ask the maker."
                        : "Not even one of these panels stays within: use panels marked for a higher system voltage. If "
                          "the marking is missing, ask the maker.";
    } else if (!f.even_at_worst) {
        w.instead = at_top(f) + ": measure Voc in the cold before you rely on it.";
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) { add_fewer_in_series(s, panel_system_voltage, f, out); }

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
    .cure = &cure,
};

}  // namespace plait::rules
