// A step-down controller can only lower the voltage: at work the array must stay above the battery at its highest
// charging voltage, on the hottest day. A direct-connect controller pulls the array down to the battery anyway: current
// flows as long as the array's open-circuit voltage stands above it. A working voltage (Vmp) below a full battery only
// costs amperes.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 3> tests{"hot-vmp", "hot-voc", "full-current"};
constexpr std::array<std::string_view, 3> sources{
    "controller manual, headroom above the battery, as the manual says; where it says nothing, common practice, no "
    "source: 5 V to start, 1 V to keep going",
    "common practice, no source: without tracking no current flows unless the array's Voc stands above the battery",
    "common practice, no source: up to Vmp a panel gives nearly its short-circuit current, above it less and less"};
constexpr std::array rests{Quantity::panel_vmp,
                           Quantity::panel_voc,
                           Quantity::panel_voc_coefficient,
                           Quantity::panel_pmax_coefficient,
                           Quantity::panel_isc_coefficient,
                           Quantity::panel_voc_tolerance,
                           Quantity::site_hottest_air,
                           Quantity::site_mounting,
                           Quantity::site_peak_irradiance,
                           Quantity::panel_nominal_temperature,
                           Quantity::controller_headroom};

void step_down(const Situation& s, double battery_v, Findings& out) {
    const Figure vmp = hot_vmp_v(s);
    out.push_back(at_least(vmp.value, vmp.spread, battery_v + s.controller().running_headroom_v, Unit::volt,
                           Outcome::falls_short));
}

void direct_connect(const Situation& s, double full_battery_v, Findings& out) {
    const Figure voc = hot_voc_v(s);
    Finding open = at_least(voc.value, voc.spread, full_battery_v, Unit::volt, Outcome::falls_short);
    open.test = 1;
    out.push_back(open);
    const Figure vmp = hot_vmp_v(s);
    Finding working = at_least(vmp.value, vmp.spread, full_battery_v, Unit::volt, Outcome::clips);
    working.test = 2;
    working.decides = false;
    out.push_back(working);
}

void check(const Situation& s, Findings& out) {
    if (!s.controller().battery) return;
    const double battery_v = s.controller().battery->max_voltage_v;
    if (s.controller().type == ControllerType::step_down) {
        step_down(s, battery_v, out);
    } else if (s.controller().type == ControllerType::direct_connect) {
        direct_connect(s, battery_v + s.controller().direct_connect_drop_v, out);
    }
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (f.test == 1) {
        w.because = fmt::format(
            "At {} air the array's open-circuit voltage falls to {}; to charge a full battery through the controller "
            "it must stand above {}.",
            degrees(s.site().hottest_air), volts(f.value), volts(f.limit));
    } else if (f.test == 2) {
        w.because = fmt::format(
            "At {} air the array's working voltage (Vmp) is {}; a full battery stands at {} behind the controller.",
            degrees(s.site().hottest_air), volts(f.value), volts(f.limit));
        if (f.outcome == Outcome::clips) w.because += " The last of the charge comes with fewer amperes in the heat.";
        return w;
    } else {
        w.because = fmt::format(
            "At {} air the array's working voltage (Vmp) falls to {}; a full battery with the controller's headroom "
            "needs {}.",
            degrees(s.site().hottest_air), volts(f.value), volts(f.limit));
    }
    if (f.outcome == Outcome::falls_short) {
        w.instead = "Panels with more cells reach the voltage with fewer of them.";
    } else if (!f.even_at_worst) {
        w.instead = at_bottom(f) + ": charging may stop before the battery is full.";
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    if (f.decides) add_more_in_series(s, battery_headroom, f, out);
}

}  // namespace

constinit const Rule battery_headroom{
    .id = "battery-headroom",
    .title = "Array voltage above the battery",
    .harm = "charging stops in the heat, when the battery is nearly full",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
