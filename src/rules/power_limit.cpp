// Beyond its power limit a tracking input moves the array up its curve and takes its limit. An oversized array is common;
// whether it is harmless only the maker can say. A direct-connect controller takes whatever comes: there the limit is a
// rating.
#include "over_limit.hpp"
#include "rules.hpp"
#include "words.hpp"
#include "worst_weather.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr int not_stated = 1;
constexpr int direct_connect = 2;
constexpr std::array<std::string_view, 3> tests{"brightest", "not-stated", "direct-connect"};
constexpr std::array<std::string_view, 3> sources{
    "controller manual, input power limit",
    "controller manual, input power limit, which does not say what more than it does to the input",
    "common practice, no source: a controller without tracking cannot take less than the array gives"};
constexpr std::array rests{Quantity::panel_pmax, Quantity::panel_pmax_tolerance, Quantity::panel_pmax_coefficient,
                           Quantity::site_coldest_air};
constexpr std::array over_rests{Quantity::input_over_limit};
constexpr std::array battery_rests{Quantity::battery_voltage};
constexpr std::array<std::span<const Quantity>, 3> tests_rest{std::span<const Quantity>(), over_rests, battery_rests};

bool connects_directly(const Situation& s) { return s.controller().type == ControllerType::direct_connect; }

// A direct-connect controller holds the array at the battery's voltage, so that is where its watts are counted.
double power_w_at(const Situation& s, const ConditionPoint& p) {
    return connects_directly(s) ? p.operating.point.power_w() : p.operating.free_maximum.power_w();
}

const ConditionPoint& strongest(const Situation& s) {
    return worst_weather(s, [&](const ConditionPoint& p) { return power_w_at(s, p); });
}

void check(const Situation& s, Findings& out) {
    if (!s.input().max_power_w) return;
    const double power_w = power_w_at(s, strongest(s));
    const Figure rated = array_pmax_w(s, s.wiring());
    const Interval spread = rated.value > 0.0 ? rated.spread * (power_w / rated.value) : Interval(power_w);
    const Outcome broken = connects_directly(s) ? Outcome::exceeds : Outcome::clips;
    Finding f = at_most(power_w, spread, *s.input().max_power_w, Unit::watt, broken);
    if (connects_directly(s)) {
        f.test = direct_connect;
    } else if (f.outcome == Outcome::clips && !maker_allows_more_watts(s)) {
        f.test = not_stated;
    }
    out.push_back(f);
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("{}, the array could give {}; the input takes {}.", when(strongest(s).id), watts(f.value),
                            watts(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead = "This controller passes whatever the array gives: use fewer panels, or a larger controller.";
    } else if (f.outcome == Outcome::clips) {
        w.instead = f.test == not_stated
                        ? ask_for_watts(watts(f.limit))
                        : "Nothing breaks, says the maker; the rest is not taken. Move panels to another input if "
                          "there is one.";
    }
    return w;
}

}  // namespace

constinit const Rule power_limit{
    .id = "power-limit",
    .title = "Array power against what the input takes",
    .harm = "output is lost in bright sun; without tracking the controller is overloaded",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .tests_rest_on = tests_rest,
    .asks_curves = true,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
