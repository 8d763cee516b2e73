// On the hottest day the array's working voltage must still lie inside the tracking range. Vmp falls faster than Voc
// (γ − α instead of β), and cells run hotter than the air.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"hot-vmp"};
constexpr std::array<std::string_view, 1> sources{
    "controller manual, tracking range; Vmp by the coefficient γ − α, cell temperature by IEC 61215 (NOCT) and the "
    "mounting"};
constexpr std::array rests{Quantity::panel_vmp,
                           Quantity::panel_pmax_coefficient,
                           Quantity::panel_isc_coefficient,
                           Quantity::panel_voc_tolerance,
                           Quantity::site_hottest_air,
                           Quantity::site_mounting,
                           Quantity::site_peak_irradiance,
                           Quantity::panel_nominal_temperature,
                           Quantity::input_tracking_range};

void check(const Situation& s, Findings& out) {
    if (s.controller().type == ControllerType::direct_connect || !s.input().tracking_min_v) return;
    const Figure vmp = hot_vmp_v(s);
    out.push_back(at_least(vmp.value, vmp.spread, *s.input().tracking_min_v, Unit::volt, Outcome::falls_short));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("At {} air the array's working voltage (Vmp) falls to {}; the tracking range begins at {}.",
                            degrees(s.site().hottest_air), volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::falls_short) {
        w.instead = "Panels with more cells help too, or an input that tracks further down.";
    } else if (!f.even_at_worst) {
        w.instead = at_bottom(f) + ": some output is lost in the heat.";
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) { add_more_in_series(s, tracking_bottom, f, out); }

}  // namespace

constinit const Rule tracking_bottom{
    .id = "tracking-bottom",
    .title = "Working voltage on the hottest day against the tracking range",
    .harm = "the input works badly or not at all in the heat",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
