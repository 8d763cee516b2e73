// Which string fuse. It must carry the string's own current for hours on the brightest day, and blow before the panels'
// maximum series fuse would. Sometimes no standard size does both.
#include "cable_words.hpp"
#include "rules.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cable_figures.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/rules/fuse_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

enum Test { nec, iec, fitted_least, fitted_most, fitted_voltage, fitted_cable };
constexpr std::array<std::string_view, 6> tests{"NEC",         "IEC", "fitted-least", "fitted-most", "fitted-voltage",
                                                "fitted-cable"};
constexpr std::array<std::string_view, 6> sources{
    "NEC 690.9(B), 240.6(A) [from memory]: the next standard size from 1.25 × 1.25 × Isc, at most the panels' maximum "
    "series fuse",
    "IEC 62548:2016: more than 1.5 × Isc, less than 2.4 × Isc, at most the panels' maximum series fuse; gPV sizes "
    "[from "
    "memory]",
    "NEC 690.9(B) [from memory], 1.5625 × Isc; IEC 62548:2016, 1.5 × Isc",
    "the panels' maximum series fuse; IEC 62548:2016, 2.4 × Isc",
    "IEC 60269-6, NEC 690.7: fuse and holder rated for the string's open-circuit voltage on the coldest morning",
    "NEC 240.4(B) and (D), the next standard size above the ampacity; IEC 60364-4-43 [from memory], the ampacity"};
constexpr std::array rests{Quantity::panel_isc, Quantity::panel_isc_tolerance, Quantity::panel_series_fuse};

bool worth_saying(const Situation& s, const std::vector<StringFuse>& fuses) {
    return s.wiring().strings.size() >= 3 || s.setup.fittings.string_fuse_a ||
           std::any_of(fuses.begin(), fuses.end(), [&](const StringFuse& f) { return f.needed(Code::both); });
}

// The smallest size of the window; where it is empty, the next above its lower end.
double smallest_a(const FuseWindow& window, std::span<const double> sizes) {
    if (!window.sizes.empty()) return window.sizes.front();
    const auto next = std::upper_bound(sizes.begin(), sizes.end(), window.least_a);
    const double above_a = window.most_a * (1.0 + 1e-9);  // beyond what counts as rounding
    return std::max(next == sizes.end() ? window.least_a : *next, above_a);
}

void by_code(const Situation& s, const std::vector<StringFuse>& fuses, Findings& out) {
    const auto hold = [&](Test test, bool in_force) {
        std::optional<Finding> worst;
        for (const StringFuse& fuse : fuses) {
            const bool by_nec = test == nec;
            const FuseWindow& window = by_nec ? fuse.nec : fuse.iec;
            const double size_a = smallest_a(window, by_nec ? nec_fuse_sizes() : gpv_fuse_sizes());
            Finding f = at_most(size_a, Interval(size_a), window.most_a, Unit::ampere, Outcome::exceeds);
            f.test = test;
            f.decides = in_force && (by_nec ? fuse.needed_by_nec : fuse.needed_by_iec);
            if (!worst || (f.decides && !worst->decides) ||
                (f.decides == worst->decides && f.margin() < worst->margin())) {
                worst = f;
            }
        }
        if (worst) out.push_back(*worst);
    };
    hold(nec, s.site().code != Code::iec);
    hold(iec, s.site().code != Code::nec);
}

// The least and the most a fuse of this string may be, by the code in force.
double least_of(const Situation& s, const StringFuse& f) {
    return s.site().code == Code::iec ? f.iec.least_a : f.nec.least_a;
}
double most_of(const Situation& s, const StringFuse& f) {
    return s.site().code == Code::nec ? f.nec.most_a : f.iec.most_a;
}

std::optional<double> string_cable_a(const Situation& s) {
    std::optional<double> least_a;
    for (const CableFigures& f : cable_figures(s)) {
        if (s.setup.cables[f.cable].run == CableRun::trunk) continue;
        const double own_a = fuse_ceiling_a(f, s.site().code);
        least_a = std::min(least_a.value_or(own_a), own_a);
    }
    return least_a;
}

void fitted(const Situation& s, const std::vector<StringFuse>& fuses, double fuse_a, Findings& out) {
    double least_a = 0.0;
    double most_a = std::numeric_limits<double>::infinity();
    for (const StringFuse& f : fuses) {
        least_a = std::max(least_a, least_of(s, f));
        most_a = std::min(most_a, most_of(s, f));
    }
    const auto add = [&](Test test, Finding f) {
        f.test = test;
        out.push_back(f);
    };
    add(fitted_least, at_least(fuse_a, Interval(fuse_a), least_a, Unit::ampere, Outcome::needs));
    add(fitted_most, at_most(fuse_a, Interval(fuse_a), most_a, Unit::ampere, Outcome::exceeds));
    if (const std::optional<double> cable_a = string_cable_a(s)) {
        add(fitted_cable, at_most(fuse_a, Interval(fuse_a), *cable_a, Unit::ampere, Outcome::exceeds));
    }
}

void check(const Situation& s, Findings& out) {
    const Fittings& fittings = s.setup.fittings;
    if (s.wiring().strings.size() < 2 && !fittings.string_fuse_a && !fittings.string_fuse_v) return;
    const std::vector<StringFuse> fuses = string_fuse_figures(s);
    if (s.wiring().strings.size() >= 2 && worth_saying(s, fuses)) by_code(s, fuses, out);
    if (fittings.string_fuse_a) fitted(s, fuses, *fittings.string_fuse_a, out);
    if (fittings.string_fuse_v) {
        const double cold_v = array_cold_voc_v(s.setup, s.wiring(), s.site().cold_method);
        Finding f = at_most(cold_v, Interval(cold_v), *fittings.string_fuse_v, Unit::volt, Outcome::exceeds);
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
    const bool by_nec = f.test == nec;
    const auto held = std::find_if(fuses.begin(), fuses.end(), [&](const StringFuse& one) {
        return smallest_a(by_nec ? one.nec : one.iec, by_nec ? nec_fuse_sizes() : gpv_fuse_sizes()) == f.value &&
               (by_nec ? one.nec : one.iec).most_a == f.limit;
    });
    const StringFuse& fuse = held == fuses.end() ? fuses.front() : *held;
    const FuseWindow& window = by_nec ? fuse.nec : fuse.iec;
    const bool needed = by_nec ? fuse.needed_by_nec : fuse.needed_by_iec;
    Words w;
    w.because = fmt::format(
        "A fuse for {} of Isc lies between {} and {}{}.", amps(fuse.isc_a), amps(window.least_a), amps(window.most_a),
        window.sizes.empty() ? "; no standard size does" : fmt::format(": {} A", sizes_text(window.sizes)));
    if (!needed)
        w.because += by_nec ? " The NEC's test does not ask for one." : " The IEC's test does not ask for one.";
    if (f.outcome == Outcome::exceeds) {
        w.instead = needed
                        ? "Use fewer strings in parallel, so that none is asked for, or panels with a higher maximum "
                          "series fuse."
                        : "Do not fit a larger one than the panels allow.";
    } else if (needed) {
        w.instead = fmt::format("Fit DC fuses made for PV, rated for {} or more.",
                                volts(array_cold_voc_v(s.setup, s.wiring(), s.site().cold_method)));
    }
    return w;
}

Words say(const Situation& s, const Finding& f) {
    if (f.test == nec || f.test == iec) return by_code_words(s, f);
    Words w;
    switch (f.test) {
        case fitted_least:
            w.because = fmt::format(
                "The string fuse is {}; it must be at least {} to carry the string's own current for "
                "hours.",
                amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::needs)
                w.instead = "Fit a larger one, if the panels allow it; this one blows in good sun.";
            break;
        case fitted_most:
            w.because = fmt::format("The string fuse is {}; it may be at most {}.", amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::exceeds) w.instead = "Fit a smaller one: this one does not guard the panels.";
            break;
        case fitted_voltage:
            w.because = fmt::format("On the coldest morning the fuse must break {}; it or its holder is rated for {}.",
                                    volts(f.value), volts(f.limit));
            if (f.outcome == Outcome::exceeds) w.instead = "Fit a fuse and a holder of a higher DC voltage rating.";
            break;
        default:
            w.because =
                fmt::format("The string fuse is {}; {} is the most that guards the string's cable where it lies.",
                            amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::exceeds) w.instead = "Fit a smaller fuse or a thicker cable.";
    }
    return w;
}

}  // namespace

constinit const Rule fuse_window{
    .id = "fuse-window",
    .title = "Rating of the string fuses",
    .harm = "the fuse blows in good sun, or does not blow in time",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
