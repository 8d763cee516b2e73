// A step-down controller can only lower the voltage: the array must stay above the battery at its highest charging
// voltage, on the hottest day. A direct-connect controller needs the same, without tracking.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"hot-vmp", "rule-of-thumb"};
constexpr std::array<std::string_view, 2> sources{
    "controller manual, headroom above the battery; common practice, no source: 5 V to start, 1 V to keep going",
    "rule of thumb in a controller maker's manual: Voc at STC of at least 133 % of the highest charging voltage"};
constexpr std::array rests{Quantity::panel_vmp,
                           Quantity::panel_pmax_coefficient,
                           Quantity::panel_isc_coefficient,
                           Quantity::panel_voc_tolerance,
                           Quantity::site_hottest_air,
                           Quantity::site_mounting,
                           Quantity::site_peak_irradiance,
                           Quantity::panel_nominal_temperature,
                           Quantity::battery_voltage,
                           Quantity::controller_headroom};

void check(const Situation& s, Findings& out) {
    const bool step_down = s.controller().type == ControllerType::step_down;
    const bool direct = s.controller().type == ControllerType::direct_connect;
    if ((!step_down && !direct) || !s.controller().battery) return;
    const double battery_v = s.controller().battery->max_voltage_v;
    const double above_v = step_down ? s.controller().running_headroom_v : s.controller().direct_connect_drop_v;
    const Figure vmp = hot_vmp_v(s);
    out.push_back(at_least(vmp.value, vmp.spread, battery_v + above_v, Unit::volt, Outcome::falls_short));
    if (!step_down) return;
    double lowest_v = 0.0;
    for (const SeriesString& string : s.wiring().strings) {
        double stc_voc_v = 0.0;
        for (const PanelPlace& place : string.panels) stc_voc_v += s.panel(place).voc_v;
        if (lowest_v == 0.0 || stc_voc_v < lowest_v) lowest_v = stc_voc_v;
    }
    Finding thumb = at_least(lowest_v, Interval(lowest_v), 1.33 * battery_v, Unit::volt, Outcome::falls_short);
    thumb.test = 1;
    thumb.decides = false;
    out.push_back(thumb);
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (f.test == 1) {
        w.because = fmt::format("Rule of thumb: Voc at STC ({}) against 133 % of the highest charging voltage ({}).",
                                volts(f.value), volts(f.limit));
        return w;
    }
    w.because = fmt::format(
        "At {} air the array's working voltage falls to {}; a full battery with the controller's headroom needs {}.",
        degrees(s.site().hottest_air), volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::falls_short) {
        w.instead = "Put more panels in series, if the cold allows it, or use panels with more cells.";
    } else if (!f.even_at_worst) {
        w.instead =
            fmt::format("At the bottom of the tolerance it would be {}: charging may stop before the battery is full.",
                        volts(f.spread.lower()));
    }
    return w;
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
};

}  // namespace plait::rules
