// To wake up, an input needs the array's open-circuit voltage above its start voltage, also on the hottest day, when it
// is lowest. A step-down controller also needs it above the battery by its starting headroom.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

#include <algorithm>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"start"};
constexpr std::array<std::string_view, 1> sources{
    "controller manual, start voltage; cell temperature by IEC 61215 (NOCT) and the mounting"};
constexpr std::array rests{Quantity::panel_voc,           Quantity::panel_voc_coefficient,
                           Quantity::panel_voc_tolerance, Quantity::site_hottest_air,
                           Quantity::site_mounting,       Quantity::site_peak_irradiance,
                           Quantity::controller_headroom, Quantity::panel_nominal_temperature};

double needed_v(const Situation& s) {
    double needed = s.input().start_voltage_v.value_or(0.0);
    if (s.controller().type == ControllerType::step_down && s.controller().battery) {
        needed = std::max(needed, s.controller().battery->max_voltage_v + s.controller().starting_headroom_v);
    }
    return needed;
}

void check(const Situation& s, Findings& out) {
    const double limit_v = needed_v(s);
    if (limit_v <= 0.0) return;
    const Figure voc = hot_voc_v(s);
    out.push_back(at_least(voc.value, voc.spread, limit_v, Unit::volt, Outcome::falls_short));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("At {} air the array's open-circuit voltage falls to {}; the input needs {} to start.",
                            degrees(s.site().hottest_air), volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::falls_short) {
        w.instead = "A controller with a lower start voltage helps too.";
    } else if (!f.even_at_worst) {
        w.instead = at_bottom(f) + ": too little to start on the hottest day.";
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) { add_more_in_series(s, start_voltage, f, out); }

}  // namespace

constinit const Rule start_voltage{
    .id = "start-voltage",
    .title = "Open-circuit voltage on the hottest day against the start voltage",
    .harm = "the input does not wake up",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
