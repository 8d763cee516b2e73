// The switch at the input must break the array's voltage on the coldest morning and its current on the brightest day.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"voltage", "current"};
constexpr std::array<std::string_view, 2> sources{
    "NEC 690.7 and 690.13, IEC 60364-7-712 [from memory]: rated for the open-circuit voltage on the coldest morning",
    "NEC 690.13 with 690.8(A)(1), IEC 60364-7-712 [from memory]: rated for 1.25 × Isc"};
constexpr std::array isc_rests{Quantity::panel_isc};
constexpr std::array<std::span<const Quantity>, 2> tests_rest{cold_voc_rests_on, isc_rests};

void check(const Situation& s, Findings& out) {
    if (s.setup.fittings.disconnect_v) {
        const Figure voc = cold_voc_v(s, s.site().cold_method);
        out.push_back(at_most(voc.value, voc.spread, *s.setup.fittings.disconnect_v, Unit::volt, Outcome::exceeds));
    }
    if (s.setup.fittings.disconnect_a) {
        const double bright_a = bright_sky_factor * array_isc_a(s, s.wiring()).value;
        Finding f =
            at_most(bright_a, Interval(bright_a), *s.setup.fittings.disconnect_a, Unit::ampere, Outcome::exceeds);
        f.test = 1;
        out.push_back(f);
    }
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (f.test == 0) {
        w.because = fmt::format("At {} the disconnect must break {}; it is rated for {}.",
                                degrees(s.site().coldest_air), volts(f.value), volts(f.limit));
        if (f.outcome == Outcome::exceeds) {
            w.instead = fmt::format("Use a DC disconnect rated for {} or more; an AC switch does not put out a DC arc.",
                                    volts(f.spread.upper()));
        } else if (!f.even_at_worst) {
            w.instead =
                at_top(f) + ", over the rating: use a DC disconnect rated for that, or measure Voc in the cold.";
        }
        return w;
    }
    w.because = fmt::format("Under the brightest sky the disconnect must break {}; it is rated for {}.", amps(f.value),
                            amps(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead =
            fmt::format("Use a DC disconnect rated for {} or more, or fewer strings in parallel.", amps(f.value));
    }
    return w;
}

}  // namespace

constinit const Rule disconnect_rating{
    .id = "disconnect-rating",
    .title = "Ratings of the DC disconnect",
    .harm = "it burns when it is opened under load, when it is needed most",
    .tests = tests,
    .sources = sources,
    .rests_on = {},
    .tests_rest_on = tests_rest,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
