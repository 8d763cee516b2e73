// Arrays somewhat above an input's power rating are ordinary and only clip, but not without end: makers have set hard
// ratios of array to rating, and some warn of damage. Where the maker says how many watts may be connected,
// array_power_rating holds the array to that, and nothing is asked here.
#include "over_limit.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/physics/acceptance_window.hpp>
#include <plait/rules/array_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

// Up to here oversizing is ordinary, and one maker's hard ratio; from three times on another warns of damage.
constexpr double ordinary_ratio = 1.5;
constexpr double damage_ratio = 3.0;

constexpr int maker_silent = 0;
constexpr int far_above = 1;
constexpr std::array<std::string_view, 2> tests{"maker-silent", "far-above"};
constexpr std::array<std::string_view, 2> sources{
    "the file does not say what the manual says of more panels than the power limit",
    "makers' limits on array size: 1.5 × the rated power, a warning of damage above 3 × [both seen in public text]"};
constexpr std::array rests{Quantity::panel_pmax};
constexpr std::array silent_rests{Quantity::input_over_limit};
constexpr std::array<std::span<const Quantity>, 2> tests_rest{silent_rests, std::span<const Quantity>()};

// The least power rating that the input's array meets.
double rated_w(const Situation& s) {
    constexpr double none = std::numeric_limits<double>::infinity();
    return std::min({s.input().max_power_w.value_or(none), s.controller().max_total_power_w.value_or(none),
                     physics::charging_power_limit_w(s.controller()).value_or(none)});
}

void check(const Situation& s, Findings& out) {
    // A direct-connect controller is held to its current, and to its power as a rating.
    if (s.input().max_array_power_w || s.controller().type == ControllerType::direct_connect) return;
    const double limit_w = rated_w(s);
    if (limit_w == std::numeric_limits<double>::infinity()) return;
    // Makers mean the sum of the labels, so the panels' power tolerance does not enter.
    const double labels_w = array_pmax_w(s, s.wiring()).value;
    const bool clips = maker_says_it_clips(s);
    Finding f = at_most(labels_w, Interval(labels_w), clips ? ordinary_ratio * limit_w : limit_w, Unit::watt,
                        Outcome::undecided);
    f.test = clips ? far_above : maker_silent;
    if (f.outcome == Outcome::undecided) out.push_back(f);
}

Words say(const Situation& s, const Finding& f) {
    const double limit_w = rated_w(s);
    Words w;
    w.because = fmt::format("The labels add up to {}, {:.1f} times the {} that can be used.", watts(f.value),
                            f.value / limit_w, watts(limit_w));
    if (f.test == maker_silent) {
        w.instead = ask_for_watts(watts(limit_w));
        return w;
    }
    w.because += f.value > damage_ratio * limit_w
                     ? " Some makers warn of damage above three times their rating."
                     : " Some makers allow no more than one and a half times their rating.";
    w.instead = "Ask the maker for the largest array, and write it as max_array_power; or use fewer panels.";
    return w;
}

}  // namespace

constinit const Rule oversized_array{
    .id = "oversized-array",
    .title = "Array power far above what the input is rated for",
    .harm = "outside what the maker allows: warranty, and in some designs the input",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .tests_rest_on = tests_rest,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
