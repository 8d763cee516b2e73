// The switch at the input must break the array's voltage on the coldest morning and its current on the brightest day.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"voltage", "current"};
constexpr std::array<std::string_view, 2> sources{
    "NEC 690.7 with 690.15, the disconnect of equipment (690.13 is that of the whole PV system), IEC 60364-7-712 [from "
    "memory]: rated for the open-circuit voltage on the coldest morning",
    "NEC 690.8(A)(1) with 690.15, IEC 60364-7-712 [from memory]: rated for 1.25 × Isc. An isolating device that has no "
    "breaking rating must not be opened under load"};
constexpr std::array isc_rests{Quantity::panel_isc};
constexpr std::array<std::span<const Quantity>, 2> tests_rest{cold_voc_rests_on, isc_rests};

void check(const Situation& s, Findings& out) {
    if (s.setup.fittings.disconnect_v) {
        const Figure voc = cold_voc_v(s);
        out.push_back(at_most(voc.value, voc.spread, *s.setup.fittings.disconnect_v, Unit::volt, Outcome::exceeds));
    }
    if (s.setup.fittings.disconnect_a) {
        const Figure bright = array_bright_isc_a(s, s.wiring());
        Finding f =
            at_most(bright.value, bright.spread, *s.setup.fittings.disconnect_a, Unit::ampere, Outcome::exceeds);
        f.test = 1;
        out.push_back(f);
    }
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (f.test == 0) {
        w.because = fmt::format("At {} the disconnect must break {}; it is rated for {}.",
                                degrees(s.site().coldest_air), volts(f.value), volts(f.limit));
        if (f.outcome == Outcome::within && !f.even_at_worst) w.instead = at_top(f) + ", over the rating.";
        return w;
    }
    w.because = fmt::format("Under the brightest sky the disconnect must break {}; it is rated for {}.", amps(f.value),
                            amps(f.limit));
    return w;
}

void cure(const Situation&, const Finding& f, Cures& out) {
    Cure cure;
    cure.kind = f.test == 0 ? CureKind::disconnect_volts : CureKind::disconnect_amps;
    (f.test == 0 ? cure.rating_v : cure.rating_a) = f.spread.upper();
    out.push_back(cure);
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
    .cure = &cure,
};

}  // namespace plait::rules
