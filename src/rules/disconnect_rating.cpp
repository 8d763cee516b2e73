// The switch at the input must break the array's voltage on the coldest morning and its current on the brightest day.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cold_methods.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"voltage", "current"};
constexpr std::array<std::string_view, 2> sources{
    "NEC 690.7 and 690.13, IEC 60364-7-712 [from memory]: rated for the open-circuit voltage on the coldest morning",
    "NEC 690.13 with 690.8(A)(1), IEC 60364-7-712 [from memory]: rated for 1.25 × Isc"};
constexpr std::array rests{Quantity::panel_voc,           Quantity::panel_voc_coefficient,
                           Quantity::panel_voc_tolerance, Quantity::site_coldest_air,
                           Quantity::panel_isc,           Quantity::panel_isc_tolerance};

void check(const Situation& s, Findings& out) {
    if (s.setup.fittings.disconnect_v) {
        const double cold_v = array_cold_voc_v(s.setup, s.wiring(), s.site().cold_method);
        out.push_back(at_most(cold_v, Interval(cold_v), *s.setup.fittings.disconnect_v, Unit::volt, Outcome::exceeds));
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
            w.instead = "Use a DC disconnect of a higher voltage rating; an AC switch does not put out a DC arc.";
        }
        return w;
    }
    w.because = fmt::format("Under the brightest sky the disconnect must break {}; it is rated for {}.", amps(f.value),
                            amps(f.limit));
    if (f.outcome == Outcome::exceeds) w.instead = "Use a DC disconnect of a higher current rating, or fewer strings.";
    return w;
}

}  // namespace

constinit const Rule disconnect_rating{
    .id = "disconnect-rating",
    .title = "Ratings of the DC disconnect",
    .harm = "it burns when it is opened under load, when it is needed most",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
