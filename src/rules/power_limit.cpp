// Beyond its power limit the input moves the array up its curve and takes its limit: an oversized array is common and
// harmless as long as voltage and current ratings hold.
#include "rules.hpp"
#include "words.hpp"
#include "worst_weather.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"brightest"};
constexpr std::array<std::string_view, 1> sources{"controller manual, input power limit"};
constexpr std::array rests{Quantity::panel_pmax, Quantity::panel_pmax_tolerance, Quantity::panel_pmax_coefficient,
                           Quantity::site_coldest_air};

const ConditionPoint& strongest(const Situation& s) {
    return worst_weather(s, [](const ConditionPoint& p) { return p.operating.free_maximum.power_w(); });
}

void check(const Situation& s, Findings& out) {
    if (!s.input().max_power_w) return;
    const double power_w = strongest(s).operating.free_maximum.power_w();
    const Figure rated = array_pmax_w(s, s.wiring());
    const Interval spread = rated.value > 0.0 ? rated.spread * (power_w / rated.value) : Interval(power_w);
    out.push_back(at_most(power_w, spread, *s.input().max_power_w, Unit::watt, Outcome::clips));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("{}, the array could give {}; the input takes {}.", when(strongest(s).id), watts(f.value),
                            watts(f.limit));
    if (f.outcome == Outcome::clips)
        w.instead = "Nothing breaks; the rest is not taken. Move panels to another input if there is one.";
    return w;
}

}  // namespace

constinit const Rule power_limit{
    .id = "power-limit",
    .title = "Array power against what the input takes",
    .harm = "output is lost in bright sun",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
