// Inputs of one power station often share a charger: what they take together has a limit of its own.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

#include <algorithm>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"sum"};
constexpr std::array<std::string_view, 1> sources{"controller manual, total solar power over all inputs"};
constexpr std::array rests{Quantity::panel_pmax, Quantity::panel_pmax_tolerance, Quantity::panel_pmax_coefficient,
                           Quantity::site_coldest_air};

void check(const Situation& s, Findings& out) {
    if (!s.controller().max_total_power_w) return;
    double most_w = 0.0;
    for (std::size_t c = 0; c < condition_count; ++c) {
        double sum_w = 0.0;
        for (const WiredInput& w : s.plan) sum_w += (*w.points)[c].operating.point.power_w();
        most_w = std::max(most_w, sum_w);
    }
    const Figure rated = plan_pmax_w(s);
    const Interval spread = rated.value > 0.0 ? rated.spread * (most_w / rated.value) : Interval(most_w);
    out.push_back(at_most(most_w, spread, *s.controller().max_total_power_w, Unit::watt, Outcome::clips));
}

Words say(const Situation&, const Finding& f) {
    Words w;
    w.because = fmt::format("The inputs together would take {}; the controller takes {} in all.", watts(f.value),
                            watts(f.limit));
    if (f.outcome == Outcome::clips) w.instead = "Nothing breaks; in bright sun the rest is not taken.";
    return w;
}

}  // namespace

constinit const Rule shared_power{
    .id = "shared-power",
    .title = "Power of all inputs together",
    .harm = "output is lost in bright sun",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .scope = Scope::plan,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
