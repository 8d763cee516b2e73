// A tracking input takes no more current than its limit at that voltage: the array moves up its curve until the current
// fits. That costs less than the hand rule (limit × Vmp) says.
#include "over_limit.hpp"
#include "rules.hpp"
#include "words.hpp"
#include "worst_weather.hpp"

#include <plait/physics/acceptance_window.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::rules {
namespace {

constexpr int not_stated = 1;
constexpr int no_limit_stated = 2;
constexpr std::array<std::string_view, 3> tests{"band", "not-stated", "no-limit-stated"};
constexpr std::array<std::string_view, 3> sources{
    "controller manual, current limit; the operating point lies on the array's curve",
    "controller manual, current limit, which does not say what more than it does to the input",
    "controller manual, which states no current limit"};
constexpr std::array rests{Quantity::panel_imp, Quantity::panel_isc, Quantity::panel_isc_tolerance,
                           Quantity::input_current_limit};
constexpr std::array over_rests{Quantity::input_over_limit};
constexpr std::array<std::span<const Quantity>, 3> tests_rest{std::span<const Quantity>(), over_rests,
                                                              std::span<const Quantity>()};

// A battery can leave nothing of a window, its low end above its high one (no range for std::clamp): nothing is taken.
double limit_there_a(const ConditionPoint& p, const physics::AcceptanceWindow& window) {
    const double nearest_v = std::max(window.low_v, std::min(p.operating.free_maximum.voltage_v, window.high_v));
    return window.current_limit_a(nearest_v);
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
    if (s.controller().type == ControllerType::direct_connect) return;
    const bool limited = !s.input().bands.empty();
    // A charge current limits what the input takes as well.
    if (!limited && s.controller().battery && s.controller().battery->max_charge_current_a) return;
    const physics::AcceptanceWindow window = physics::window_of(s.controller(), s.input());
    const ConditionPoint& p = worst_point(s, window);
    const double free_a = p.operating.free_maximum.current_a;
    const double t = tolerance_ratio(s);
    const double limit_a = limited ? limit_there_a(p, window) : std::numeric_limits<double>::quiet_NaN();
    Finding f = at_most(free_a, within(free_a, t, t), limit_a, Unit::ampere, Outcome::clips);
    if (!limited) f.test = no_limit_stated;
    if (f.outcome == Outcome::clips && !maker_says_it_clips(s)) f.test = not_stated;
    out.push_back(f);
}

std::string advice(const Situation& s, const Finding& f) {
    constexpr std::string_view longer = "Longer strings with fewer in parallel waste less, if the cold allows them.";
    if (f.test != not_stated) return fmt::format("Nothing breaks, says the maker. {}", longer);
    if (s.input().over_current == OverCurrent::not_permitted) {
        return "The maker forbids more than this limit: use fewer strings in parallel.";
    }
    return fmt::format(
        "Whether more than that harms the input, the file does not say. Ask the maker whether the array may be able to "
        "give more than {}, and write the answer as over_current. {}",
        amps(f.limit), longer);
}

Words say(const Situation& s, const Finding& f) {
    const physics::AcceptanceWindow window = physics::window_of(s.controller(), s.input());
    const ConditionPoint& p = worst_point(s, window);
    Words w;
    if (f.test == no_limit_stated) {
        w.because = fmt::format("{}, the array would give {}; the file states no current limit of the input.",
                                when(p.id), amps(f.value));
        w.instead = "Ask the maker for it, and write it as max_current (or bands, where it changes with the voltage).";
        return w;
    }
    w.because = fmt::format("{}, the array would give {} at {}; there the input takes {}.", when(p.id), amps(f.value),
                            volts(p.operating.free_maximum.voltage_v), amps(f.limit));
    if (f.outcome == Outcome::clips) {
        if (p.operating.held()) {
            w.because += fmt::format(" It settles at {} and {}: {} of {} ({} by the hand rule limit × Vmp).",
                                     volts(p.operating.point.voltage_v), amps(p.operating.point.current_a),
                                     watts(p.operating.point.power_w()), watts(p.operating.free_maximum.power_w()),
                                     watts(p.operating.hand_rule_w));
        }
        w.instead = advice(s, f);
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
    .tests_rest_on = tests_rest,
    .asks_curves = true,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
