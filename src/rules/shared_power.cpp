// Inputs of one power station often share a charger: what they take together has a limit of its own.
#include "over_limit.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

#include <algorithm>

namespace plait::rules {
namespace {

constexpr int not_stated = 1;
constexpr int direct_connect = 2;
constexpr std::array<std::string_view, 3> tests{"sum", "not-stated", "direct-connect"};
constexpr std::array<std::string_view, 3> sources{
    "controller manual, total solar power over all inputs",
    "controller manual, total solar power over all inputs, which does not say what more than it does",
    "common practice, no source: a controller without tracking cannot take less than the array gives"};
constexpr std::array rests{Quantity::panel_pmax, Quantity::panel_pmax_tolerance, Quantity::panel_pmax_coefficient,
                           Quantity::site_coldest_air};
constexpr std::array over_rests{Quantity::input_over_limit};
constexpr std::array<std::span<const Quantity>, 3> tests_rest{std::span<const Quantity>(), over_rests,
                                                              std::span<const Quantity>()};

void check(const Situation& s, Findings& out) {
    if (!s.controller().max_total_power_w) return;
    double most_w = 0.0;
    for (std::size_t c = 0; c < condition_count; ++c) {
        double sum_w = 0.0;
        for (const WiredInput& w : s.plan) sum_w += (*w.points)[c].operating.point.power_w();
        most_w = std::max(most_w, sum_w);
    }
    const Figure rated = plan_lit_pmax_w(s);
    const Interval spread = rated.value > 0.0 ? rated.spread * (most_w / rated.value) : Interval(most_w);
    const bool direct = s.controller().type == ControllerType::direct_connect;
    Finding f = at_most(most_w, spread, *s.controller().max_total_power_w, Unit::watt,
                        direct ? Outcome::exceeds : Outcome::clips);
    if (direct) {
        f.test = direct_connect;
    } else if (f.outcome == Outcome::clips && !maker_says_all_clip(s)) {
        f.test = not_stated;
    }
    out.push_back(f);
}

Words say(const Situation&, const Finding& f) {
    Words w;
    w.because = fmt::format("The inputs together would take {}; the controller takes {} in all.", watts(f.value),
                            watts(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead = "This controller passes whatever the arrays give: use fewer panels, or a larger controller.";
    } else if (f.outcome == Outcome::clips) {
        w.instead = f.test == not_stated ? ask_for_watts(watts(f.limit))
                                         : "Nothing breaks, says the maker; in bright sun the rest is not taken.";
    }
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
    .tests_rest_on = tests_rest,
    .scope = Scope::plan,
    .asks_curves = true,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
