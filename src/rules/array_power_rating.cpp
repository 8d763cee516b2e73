// Some makers forbid arrays beyond a stated size, whatever voltage and current say.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"array-power"};
constexpr std::array<std::string_view, 1> sources{"controller manual, largest array power"};
constexpr std::array rests{Quantity::panel_pmax};

void check(const Situation& s, Findings& out) {
    if (!s.input().max_array_power_w) return;
    // Makers mean the sum of the labels, so the panels' power tolerance does not enter.
    const double rated_w = array_pmax_w(s, s.wiring()).value;
    out.push_back(at_most(rated_w, Interval(rated_w), *s.input().max_array_power_w, Unit::watt, Outcome::exceeds));
}

Words say(const Situation&, const Finding& f) {
    Words w;
    w.because =
        fmt::format("The labels add up to {}; the maker allows an array of {}.", watts(f.value), watts(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead = fmt::format("The panels on this input must come to {} less.", watts(f.value - f.limit));
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    add_fewer_strings(s, array_power_rating, f, out);
    add_fewer_in_series(s, array_power_rating, f, out);
}

}  // namespace

constinit const Rule array_power_rating{
    .id = "array-power-rating",
    .title = "Array power against the largest the maker allows",
    .harm = "outside what the maker allows: warranty, and in some designs the input",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
