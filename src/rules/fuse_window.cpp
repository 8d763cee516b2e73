// Which string fuse. It must carry the string's own current for hours on the brightest day, and blow before the panels'
// maximum series fuse would. Sometimes no standard size does both.
#include "bright_words.hpp"
#include "cable_words.hpp"
#include "fuse_cures.hpp"
#include "rules.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cable_figures.hpp>
#include <plait/rules/cure_search.hpp>
#include <plait/rules/fuse_figures.hpp>

#include <algorithm>
#include <limits>
#include <optional>

namespace plait::rules {
namespace {

enum Test { nec, iec, fitted_least, fitted_most, fitted_voltage, fitted_cable };
constexpr std::array<std::string_view, 6> tests{"NEC",         "IEC", "fitted-least", "fitted-most", "fitted-voltage",
                                                "fitted-cable"};
constexpr std::array<std::string_view, 6> sources{
    "NEC 690.9(B), 240.6(A) [from memory]: the next standard size from 1.25 × 1.25 × Isc, at most the panels' maximum "
    "series fuse",
    "IEC 62548-1:2023 (clause 6.5.3 of IEC 62548:2016): more than 1.5 × Isc, less than 2.4 × Isc, at most the panels' "
    "maximum series fuse; gPV sizes [from memory]",
    "NEC 690.9(B) [from memory], 1.25 × 1.25 × Isc; IEC 62548-1:2023, 1.5 × Isc",
    "the panels' maximum series fuse; IEC 62548-1:2023, 2.4 × Isc",
    "IEC 60269-6, NEC 690.7: fuse and holder rated for the string's open-circuit voltage on the coldest morning",
    "NEC 240.4(B) and (D), the next standard size above the ampacity; IEC 60364-4-43 [from memory], the ampacity"};
constexpr std::array by_rating{Quantity::panel_isc, Quantity::panel_series_fuse};
constexpr std::array by_surroundings{Quantity::cable_surroundings};
constexpr std::array<std::span<const Quantity>, 6> tests_rest{by_rating, by_rating,         by_rating,
                                                              by_rating, cold_voc_rests_on, by_surroundings};

bool worth_saying(const Situation& s, const std::vector<StringFuse>& fuses) {
    return s.wiring().strings.size() >= 3 ||
           std::any_of(fuses.begin(), fuses.end(),
                       [&](const StringFuse& f) { return f.fitted_a || f.needed(Code::both); });
}

// The smallest size of the window; where it is empty, the next above its lower end.
double smallest_a(const FuseWindow& window, std::span<const double> sizes) {
    if (!window.sizes.empty()) return window.sizes.front();
    const auto next = std::upper_bound(sizes.begin(), sizes.end(), window.least_a);
    const double above_a = window.most_a * (1.0 + 2.0 * rounding_ratio);  // beyond what counts as rounding
    return std::max(next == sizes.end() ? window.least_a : *next, above_a);
}

const FuseWindow& window_of(const StringFuse& fuse, Test test) { return test == nec ? fuse.nec : fuse.iec; }
bool needed_by(const StringFuse& fuse, Test test) { return test == nec ? fuse.needed_by_nec : fuse.needed_by_iec; }

struct Held {
    const StringFuse* fuse = nullptr;
    Finding finding;
};

// The kind of string that stands worst, those that need a fuse before those that do not.
std::optional<Held> worst_by_code(const Situation& s, const std::vector<StringFuse>& fuses, Test test) {
    const bool in_force = s.site().code != (test == nec ? Code::iec : Code::nec);
    std::optional<Held> worst;
    for (const StringFuse& fuse : fuses) {
        const FuseWindow& window = window_of(fuse, test);
        const double size_a = smallest_a(window, test == nec ? nec_fuse_sizes() : gpv_fuse_sizes());
        Finding f = at_most(size_a, Interval(size_a), window.most_a, Unit::ampere, Outcome::exceeds);
        f.test = test;
        f.decides = in_force && needed_by(fuse, test);
        if (!worst || (f.decides && !worst->finding.decides) ||
            (f.decides == worst->finding.decides && f.value * worst->finding.limit > worst->finding.value * f.limit)) {
            worst = Held{&fuse, f};
        }
    }
    return worst;
}

// Of the strings that have a fuse, the one whose fuse is worst off in a test.
std::optional<Held> worst_fitted(const Situation& s, const std::vector<StringFuse>& fuses, Test test) {
    std::optional<Held> worst;
    const auto badness = [&](const Finding& f) {
        return test == fitted_least ? f.limit / f.value : f.value / f.limit;
    };
    for (const StringFuse& fuse : fuses) {
        if (!fuse.fitted_a) continue;
        const FuseRange allowed = fuse_range(s, fuse);
        const double fuse_a = *fuse.fitted_a;
        Finding f;
        if (test == fitted_least) {
            f = at_least(fuse_a, Interval(fuse_a), allowed.least_a, Unit::ampere, Outcome::needs);
        } else if (test == fitted_most) {
            f = at_most(fuse_a, Interval(fuse_a), allowed.most_a, Unit::ampere, Outcome::exceeds);
        } else if (allowed.cable_a) {
            f = at_most(fuse_a, Interval(fuse_a), *allowed.cable_a, Unit::ampere, Outcome::exceeds);
        } else {
            continue;
        }
        f.test = test;
        if (!worst || badness(f) > badness(worst->finding)) worst = Held{&fuse, f};
    }
    return worst;
}

void check(const Situation& s, Findings& out) {
    const Fittings& fittings = s.setup.fittings;
    const std::vector<StringFuse> fuses = string_fuse_figures(s);
    if (s.wiring().strings.size() >= 2 && worth_saying(s, fuses)) {
        for (const Test test : {nec, iec}) {
            if (const std::optional<Held> held = worst_by_code(s, fuses, test)) out.push_back(held->finding);
        }
    }
    for (const Test test : {fitted_least, fitted_most, fitted_cable}) {
        if (const std::optional<Held> held = worst_fitted(s, fuses, test)) out.push_back(held->finding);
    }
    if (fittings.string_fuse_v) {
        const Figure voc = cold_voc_v(s);
        Finding f = at_most(voc.value, voc.spread, *fittings.string_fuse_v, Unit::volt, Outcome::exceeds);
        f.test = fitted_voltage;
        out.push_back(f);
    }
}

std::string sizes_text(const std::vector<double>& sizes) {
    std::string text;
    for (const double size : sizes) text += fmt::format("{}{:g}", text.empty() ? "" : ", ", size);
    return text;
}

Words by_code_words(const Situation& s, const Finding& f) {
    const std::vector<StringFuse> fuses = string_fuse_figures(s);
    const Test test = f.test == nec ? nec : iec;
    const StringFuse& fuse = *worst_by_code(s, fuses, test)->fuse;
    const FuseWindow& window = window_of(fuse, test);
    const bool needed = needed_by(fuse, test);
    Words w;
    w.because =
        fmt::format("A fuse for a string of {} (Isc) is {} or more and {} or less{}.", amps(fuse.isc_a),
                    amps(window.least_a), amps(window.most_a),
                    window.sizes.empty() ? "; no standard size is" : fmt::format(": {} A", sizes_text(window.sizes)));
    if (!needed)
        w.because += test == nec ? " The NEC's test does not ask for one." : " The IEC's test does not ask for one.";
    if (f.outcome == Outcome::exceeds) {
        w.instead = needed ? "Panels with a higher maximum series fuse may have one."
                           : "Do not fit a larger one than the panels allow.";
    } else if (needed) {
        w.instead = fmt::format("Fit DC fuses made for PV, rated for {} or more.",
                                volts(cold_voc_v(s).spread.upper()));
    }
    return w;
}

// Whose limit the largest fuse is.
bool by_panels(const Situation& s) {
    const std::vector<StringFuse> fuses = string_fuse_figures(s);
    return fuse_range(s, *worst_fitted(s, fuses, fitted_most)->fuse).by_panels;
}

Words say(const Situation& s, const Finding& f) {
    if (f.test == nec || f.test == iec) return by_code_words(s, f);
    const std::string none = some_fuses_suit(s) ? std::string() : " No standard size suits these strings and their cable.";
    Words w;
    switch (f.test) {
        case fitted_least:
            w.because = fmt::format(
                "The string fuse is {}; to carry the string's own current for hours it must be at least {} ({}).",
                amps(f.value), amps(f.limit),
                s.site().code == Code::iec ? "1.5 × Isc"
                                           : fmt::format("{:.2f} × {}", continuous_duty_factor, bright_basis(s)));
            if (f.outcome == Outcome::needs) w.instead = "This one blows in good sun." + none;
            break;
        case fitted_most:
            w.because = fmt::format("The string fuse is {}; it may be at most {}, {}.", amps(f.value), amps(f.limit),
                                    by_panels(s) ? "the panels' maximum series fuse" : "2.4 × Isc by IEC 62548-1");
            if (f.outcome == Outcome::exceeds) w.instead = "This one does not guard the panels." + none;
            break;
        case fitted_voltage:
            w.because = fmt::format("On the coldest morning the fuse must break {}; it or its holder is rated for {}.",
                                    volts(f.value), volts(f.limit));
            if (f.outcome == Outcome::within && !f.even_at_worst) w.instead = at_top(f) + ", over the rating.";
            break;
        default:
            w.because =
                fmt::format("The string fuse is {}; {} is the most that guards the string's cable where it lies.",
                            amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::exceeds) w.instead = "A thicker cable does it too." + none;
    }
    return w;
}

Condition condition(const Situation& s, const Finding& f) {
    return {ConditionKind::larger_string_fuses, 0, f.limit, {}, s.here.input};
}

bool all_alike(const Situation& s) {
    return std::none_of(s.wiring().strings.begin(), s.wiring().strings.end(),
                        [](const SeriesString& string) { return string.fuse_a.has_value(); });
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    if (f.test == nec || f.test == iec) {
        if (f.decides) add_fewer_strings(s, fuse_window, f, out);
        return;
    }
    // Of the volts alone it is the rating of the fuses that changes, not their current.
    if (f.test == fitted_voltage && s.setup.fittings.string_fuse_a && all_alike(s)) {
        Cure cure;
        cure.kind = CureKind::string_fuse;
        cure.input = s.here.input;
        cure.rating_a = *s.setup.fittings.string_fuse_a;
        cure.rating_v = cold_voc_v(s).spread.upper();
        out.push_back(cure);
        return;
    }
    add_string_fuses(s, out);
}

}  // namespace

constinit const Rule fuse_window{
    .id = "fuse-window",
    .title = "Rating of the string fuses",
    .harm = "the fuse blows in good sun, or does not blow in time",
    .tests = tests,
    .sources = sources,
    .rests_on = {},
    .tests_rest_on = tests_rest,
    .check = &check,
    .say = &say,
    .condition = &condition,
    .cure = &cure,
};

}  // namespace plait::rules
