// The battery side has a limit of its own: the charge current. It caps the power the inputs together can use.
#include "over_limit.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr int with_margin = 1;
constexpr int not_stated = 2;
constexpr std::array<std::string_view, 3> tests{"as-rated", "with-margin", "not-stated"};
constexpr std::array<std::string_view, 3> sources{
    "controller manual, charge current: array watts × efficiency ÷ nominal battery voltage",
    "common practice, no source: 1.25 × that current avoids clipping in cold clear weather",
    "controller manual, charge current, which does not say what a larger array does to the controller"};
constexpr std::array rests{Quantity::panel_pmax, Quantity::panel_pmax_tolerance, Quantity::controller_efficiency,
                           Quantity::battery_voltage};
constexpr std::array over_rests{Quantity::input_over_limit};
constexpr std::array<std::span<const Quantity>, 3> tests_rest{std::span<const Quantity>(), std::span<const Quantity>(),
                                                              over_rests};

bool all_may_be_larger(const Situation& s) {
    return std::all_of(s.plan.begin(), s.plan.end(),
                       [&](const WiredInput& w) { return maker_allows_more_watts({s.setup, w, s.plan, s.curves}); });
}

// What panels may give above their rating in cold clear weather.
constexpr double clear_weather_margin_factor = 1.25;

void check(const Situation& s, Findings& out) {
    const std::optional<Battery>& battery = s.controller().battery;
    if (!battery || !battery->max_charge_current_a || s.controller().type == ControllerType::direct_connect) return;
    const Figure rated = plan_lit_pmax_w(s);
    const double amps_per_watt = s.controller().efficiency_ratio / battery->nominal_voltage_v;
    const double charge_a = rated.value * amps_per_watt;
    Finding rated_finding =
        at_most(charge_a, rated.spread * amps_per_watt, *battery->max_charge_current_a, Unit::ampere, Outcome::clips);
    if (rated_finding.outcome == Outcome::clips && !all_may_be_larger(s)) rated_finding.test = not_stated;
    out.push_back(rated_finding);
    const double roomy_a = clear_weather_margin_factor * charge_a;
    Finding roomy = at_most(roomy_a, Interval(roomy_a), *battery->max_charge_current_a, Unit::ampere, Outcome::clips);
    roomy.test = with_margin;
    roomy.decides = false;
    out.push_back(roomy);
}

Words say(const Situation&, const Finding& f) {
    Words w;
    if (f.test == with_margin) {
        w.because = fmt::format("With the usual margin of {:.2f} that is {}; the controller charges with {}.",
                                clear_weather_margin_factor, amps(f.value), amps(f.limit));
        return w;
    }
    w.because = fmt::format("At full rating the panels would charge with {}; the controller charges with at most {}.",
                            amps(f.value), amps(f.limit));
    if (f.outcome == Outcome::clips) {
        w.instead = f.test == not_stated
                        ? ask_for_watts("what charges it fully")
                        : "Nothing breaks, says the maker; on good days around noon the rest is lost.";
    }
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
    .tests_rest_on = tests_rest,
    .scope = Scope::plan,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
