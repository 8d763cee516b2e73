// The input sees the array's working voltage less what stays in the cables. On the hottest day that may be too little.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cable_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"hot-vmp-at-the-input"};
constexpr std::array<std::string_view, 1> sources{
    "controller manual, tracking range; Vmp by γ − α less 2 × length × Imp × resistance"};
constexpr std::array rests{Quantity::panel_vmp,
                           Quantity::panel_imp,
                           Quantity::panel_pmax_coefficient,
                           Quantity::panel_isc_coefficient,
                           Quantity::panel_voc_tolerance,
                           Quantity::site_hottest_air,
                           Quantity::site_mounting,
                           Quantity::site_peak_irradiance,
                           Quantity::panel_nominal_temperature,
                           Quantity::input_tracking_range,
                           Quantity::cable_resistance};

double drop_v(const Situation& s) {
    double sum_v = 0.0;
    for (const CableFigures& f : cable_figures(s)) sum_v += f.drop_v;
    return sum_v;
}

void check(const Situation& s, Findings& out) {
    if (s.setup.cables.empty() || s.controller().type == ControllerType::direct_connect) return;
    if (!s.input().tracking_min_v) return;
    const double taken_v = drop_v(s);
    if (!(taken_v > 0.0)) return;
    const Figure vmp = hot_vmp_v(s);
    out.push_back(at_least(vmp.value - taken_v, vmp.spread - taken_v, *s.input().tracking_min_v, Unit::volt,
                           Outcome::falls_short));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because =
        fmt::format("At {} air the cables leave {} of the array's {} for the input; its tracking range begins at {}.",
                    degrees(s.site().hottest_air), volts(f.value), volts(hot_vmp_v(s).value), volts(f.limit));
    if (f.outcome == Outcome::falls_short) {
        w.instead = "Thicker or shorter cables help too.";
    } else if (!f.even_at_worst) {
        w.instead = fmt::format("At the bottom of the tolerance it would be {}: some output is lost in the heat.",
                                volts(f.spread.lower()));
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) { add_more_in_series(s, tracking_with_drop, f, out); }

}  // namespace

constinit const Rule tracking_with_drop{
    .id = "tracking-with-drop",
    .title = "Working voltage at the far end of the cables on the hottest day",
    .harm = "the input works badly or not at all in the heat",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
