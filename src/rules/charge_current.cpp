// The battery side has a limit of its own: the charge current. It caps the power the inputs together can use.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"as-rated", "with-margin"};
constexpr std::array<std::string_view, 2> sources{
    "controller manual, charge current: array watts × efficiency ÷ nominal battery voltage",
    "common practice, no source: 1.25 × that current avoids clipping in cold clear weather"};
constexpr std::array rests{Quantity::panel_pmax, Quantity::panel_pmax_tolerance, Quantity::controller_efficiency,
                           Quantity::battery_voltage};

void check(const Situation& s, Findings& out) {
    const std::optional<Battery>& battery = s.controller().battery;
    if (!battery || !battery->max_charge_current_a || s.controller().type == ControllerType::direct_connect) return;
    const Figure rated = plan_pmax_w(s);
    const double amps_per_watt = s.controller().efficiency_ratio / battery->nominal_voltage_v;
    const double charge_a = rated.value * amps_per_watt;
    out.push_back(
        at_most(charge_a, rated.spread * amps_per_watt, *battery->max_charge_current_a, Unit::ampere, Outcome::clips));
    Finding roomy = at_most(1.25 * charge_a, Interval(1.25 * charge_a), *battery->max_charge_current_a, Unit::ampere,
                            Outcome::clips);
    roomy.test = 1;
    roomy.decides = false;
    out.push_back(roomy);
}

Words say(const Situation&, const Finding& f) {
    Words w;
    if (f.test == 1) {
        w.because = fmt::format("With the usual margin of 1.25 that is {}; the controller charges with {}.",
                                amps(f.value), amps(f.limit));
        return w;
    }
    w.because = fmt::format("At full rating the panels would charge with {}; the controller charges with at most {}.",
                            amps(f.value), amps(f.limit));
    if (f.outcome == Outcome::clips) w.instead = "Nothing breaks; around noon on good days the rest is not taken.";
    return w;
}

}  // namespace

constinit const Rule charge_current{
    .id = "charge-current",
    .title = "Charging current on the battery side",
    .harm = "output is lost in bright sun",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .scope = Scope::plan,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
