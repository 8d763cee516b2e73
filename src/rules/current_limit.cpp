// A tracking input takes no more current than its limit at that voltage: the array moves up its curve until the current
// fits. That costs less than the hand rule (limit × Vmp) says.
#include "rules.hpp"
#include "words.hpp"
#include "worst_weather.hpp"

#include <plait/physics/acceptance_window.hpp>

#include <algorithm>
#include <cmath>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"band"};
constexpr std::array<std::string_view, 1> sources{
    "controller manual, current limit; the operating point lies on the array's curve"};
constexpr std::array rests{Quantity::panel_imp, Quantity::panel_isc, Quantity::panel_isc_tolerance,
                           Quantity::input_current_limit};

double limit_there_a(const ConditionPoint& p, const physics::AcceptanceWindow& window) {
    return window.current_limit_a(std::clamp(p.operating.free_maximum.voltage_v, window.low_v, window.high_v));
}

// The bright weather in which the array's free current stands worst against the limit at its voltage.
const ConditionPoint& worst_point(const Situation& s, const physics::AcceptanceWindow& window) {
    return worst_weather(s, [&](const ConditionPoint& p) {
        const double limit_a = limit_there_a(p, window);
        return limit_a > 0.0 ? p.operating.free_maximum.current_a / limit_a : HUGE_VAL;
    });
}

double tolerance_ratio(const Situation& s) {
    double most = 0.0;
    for (const SeriesString& string : s.wiring().strings) {
        for (const PanelPlace& place : string.panels) most = std::max(most, s.panel(place).isc_tolerance_ratio);
    }
    return most;
}

void check(const Situation& s, Findings& out) {
    if (s.controller().type == ControllerType::direct_connect || s.input().bands.empty()) return;
    const physics::AcceptanceWindow window = physics::window_of(s.controller(), s.input());
    const ConditionPoint& p = worst_point(s, window);
    const double free_a = p.operating.free_maximum.current_a;
    const double t = tolerance_ratio(s);
    out.push_back(at_most(free_a, within(free_a, t, t), limit_there_a(p, window), Unit::ampere, Outcome::clips));
}

Words say(const Situation& s, const Finding& f) {
    const physics::AcceptanceWindow window = physics::window_of(s.controller(), s.input());
    const ConditionPoint& p = worst_point(s, window);
    Words w;
    w.because = fmt::format("{}, the array would give {} at {}; there the input takes {}.", when(p.id), amps(f.value),
                            volts(p.operating.free_maximum.voltage_v), amps(f.limit));
    if (f.outcome == Outcome::clips) {
        if (p.operating.held()) {
            w.because += fmt::format(" It settles at {} and {}: {} of {} ({} by the hand rule limit × Vmp).",
                                     volts(p.operating.point.voltage_v), amps(p.operating.point.current_a),
                                     watts(p.operating.point.power_w()), watts(p.operating.free_maximum.power_w()),
                                     watts(p.operating.hand_rule_w));
        }
        w.instead = "Nothing breaks. Longer strings with fewer in parallel waste less, if the cold allows them.";
    }
    return w;
}

}  // namespace

constinit const Rule current_limit{
    .id = "current-limit",
    .title = "Array current against what the input takes",
    .harm = "output is lost in bright sun",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
