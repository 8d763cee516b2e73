// A tracking input takes no more current than it wants, so a current limit usually only clips. It is a rating where the
// maker says "do not exceed", and always for a direct-connect controller, which passes whatever the array gives.
// Where the file does not say which, nobody knows: the verdict is open until the maker has been asked.
#include "bright_words.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/rules/cure_search.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 3> tests{"direct-connect", "not-permitted", "maker-silent"};
constexpr std::array<std::string_view, 3> sources{
    "common practice, no source: a controller without tracking is rated by 1.25 × Isc (factor of NEC 690.8(A)(1))",
    "controller manual, current not to be exceeded; 1.25 × Isc by NEC 690.8(A)(1)",
    "the file does not say what the manual says of more than the current limit; 1.25 × Isc by NEC 690.8(A)(1)"};
constexpr std::array rests{Quantity::panel_isc};  // the 1.25 holds every tolerance of the label
constexpr std::array silent_rests{Quantity::input_over_limit};
constexpr std::array<std::span<const Quantity>, 3> tests_rest{std::span<const Quantity>(), std::span<const Quantity>(),
                                                              silent_rests};

// Where the limit depends on voltage, the strictest band the array can stand in counts: from its working voltage in the
// heat to open circuit in the cold. An array that meets no band is held to the strictest of all.
// A direct-connect controller passes the array's current on to the battery, so its charge current is a limit as well;
// not a number where the file states neither.
double strictest_limit_a(const Situation& s) {
    if (s.input().bands.empty()) {
        const std::optional<Battery>& battery = s.controller().battery;
        return battery && battery->max_charge_current_a ? *battery->max_charge_current_a
                                                        : std::numeric_limits<double>::quiet_NaN();
    }
    constexpr double none = std::numeric_limits<double>::infinity();
    const double low_v = hot_vmp_v(s).value;
    const double high_v = cold_voc_v(s).spread.upper();
    double met_a = none;
    double any_a = none;
    for (const CurrentBand& band : s.input().bands) {
        any_a = std::min(any_a, band.limit_a);
        if (band.to_v > low_v && band.from_v < high_v) met_a = std::min(met_a, band.limit_a);
    }
    return met_a < none ? met_a : any_a;
}

void check(const Situation& s, Findings& out) {
    const bool direct = s.controller().type == ControllerType::direct_connect;
    if (!direct && s.input().bands.empty()) return;
    const bool forbidden = s.input().over_current == OverCurrent::not_permitted;
    if (!direct && s.input().over_current == OverCurrent::only_clips) return;
    const double limit_a = strictest_limit_a(s);
    const Figure bright = array_bright_isc_a(s, s.wiring());
    Finding f = at_most(bright.value, bright.spread, limit_a, Unit::ampere,
                        direct || forbidden ? Outcome::exceeds : Outcome::undecided);
    f.test = direct ? 0 : forbidden ? 1 : 2;
    if (f.test == 2 && f.outcome == Outcome::within) return;
    out.push_back(f);
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (std::isnan(f.limit)) {
        w.because = fmt::format("Under the brightest sky the array can give {} (1.25 × Isc), and this controller passes "
                                "all of it on; the file states no current limit.",
                                amps(f.value));
        w.instead = "Ask the maker for the largest current of the array, and write it as max_current.";
        return w;
    }
    w.because =
        fmt::format("Under the brightest sky the array can give {} ({}); the input's current limit is {}.",
                    amps(f.value), bright_basis(s), amps(f.limit));
    if (f.test == 2) {
        w.because += " The file does not say whether more may be connected.";
        w.instead =
            "Most tracking inputs simply take less, but some makers forbid it. Ask the maker, and write the answer as "
            "over_current = \"clips\" or \"do-not-exceed\".";
    } else if (f.outcome == Outcome::exceeds) {
        w.instead = fmt::format("{}.", f.test == 0 ? "This controller passes the array's whole current"
                                                   : "The maker forbids more current than this");
        if (!most_strings(s, current_rating, f)) {
            w.instead += " Not even one of these strings stays within: use another controller.";
        }
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) { add_fewer_strings(s, current_rating, f, out); }

}  // namespace

constinit const Rule current_rating{
    .id = "current-rating",
    .title = "Array current against a rating that must not be passed",
    .harm = "the input overheats",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .tests_rest_on = tests_rest,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
