// With strings in parallel, the others can push their current backwards through a faulty one. The panels' maximum
// series fuse says what they stand. The NEC counts the others at 1.25 × Isc, IEC 62548 at plain Isc, and at exactly the
// rating IEC asks for nothing: the two can disagree, and then both are shown. A controller without tracking is a switch:
// through it the battery feeds back too, into a single string as well.
#include "bright_words.hpp"
#include "fuse_cures.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/base/constants.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>
#include <plait/rules/fuse_figures.hpp>

#include <algorithm>
#include <optional>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 3> tests{"NEC", "IEC", "not-printed"};
constexpr std::array<std::string_view, 3> sources{
    "NEC 690.9(A) [from memory]: (strings − 1) × 1.25 × Isc against the panels' maximum series fuse",
    "IEC 62548-1:2023 (clause 6.5.3 of IEC 62548:2016 [from memory]): fuses where (strings − 1) × Isc is greater than the "
    "rating",
    "judgement: without a printed rating, two equal strings are taken as proven and no more"};
// Both codes count by the marked Isc: its tolerance does not enter.
constexpr std::array rests{Quantity::panel_isc, Quantity::panel_series_fuse};

// The NEC counts the others under the brightest sky, IEC 62548 by Isc.
double others_a(const StringFuse& string, int test) {
    return test == 0 ? string.others_bright_a : string.others_a;
}

// What no fuse that can be had would cure is not to be connected. Whether there is one is asked only where one is wanted:
// it takes longer than all else here.
Finding against_others(const Situation& s, const StringFuse& string, int test) {
    const double a = others_a(string, test);
    const auto beyond = [&](Outcome broken) { return at_most(a, Interval(a), string.panel_rating_a, Unit::ampere, broken); };
    const Finding f = beyond(Outcome::needs);
    return f.outcome == Outcome::within || some_fuses_suit(s) ? f : beyond(Outcome::exceeds);
}

// A fitted fuse lets through no more than its rating, whatever the others push.
bool fuse_is_less(const StringFuse& string, int test) {
    return string.fitted_a && *string.fitted_a <= others_a(string, test) * (1.0 + rounding_ratio);
}

Finding behind_fuse(const StringFuse& string, int test) {
    const double a = std::min(*string.fitted_a, others_a(string, test));
    return at_most(a, Interval(a), string.panel_rating_a, Unit::ampere, Outcome::exceeds);
}

struct Held {
    StringFuse string;
    Finding finding;
    bool fused = false;  ///< the finding is about its fuse
};

// The string that is worst off: one whose fuse lets through too much, then one that wants a fuse and has none, then the
// others; of each the one with the highest value over its rating.
Held worst_string(const Situation& s, int test) {
    std::optional<Held> worst;
    const auto weight = [](const Held& h) {
        return h.finding.outcome == Outcome::exceeds ? 2 : h.finding.outcome == Outcome::needs ? 1 : 0;
    };
    for (StringFuse& string : string_fuses_by_panels(s)) {
        Held here{{},
                  string.fitted_a ? behind_fuse(string, test) : against_others(s, string, test),
                  fuse_is_less(string, test)};
        here.string = std::move(string);
        const auto ratio = [](const Held& h) { return h.finding.value / h.finding.limit; };
        if (!worst || weight(here) > weight(*worst) ||
            (weight(here) == weight(*worst) && ratio(here) > ratio(*worst))) {
            worst = std::move(here);
        }
    }
    return *worst;
}

// Of every panel, not only of the string that stands worst by an assumed rating.
bool printed_on_all(const Situation& s) {
    for (const SeriesString& string : s.wiring().strings) {
        for (const PanelPlace& place : string.panels) {
            if (!s.panel(place).max_series_fuse_stated) return false;
        }
    }
    return true;
}

void check(const Situation& s, Findings& out) {
    if (s.wiring().strings.size() < 2 && !(battery_backfeed_a(s) > 0.0)) return;
    const auto hold = [&](int test, bool decides) {
        Finding f = worst_string(s, test).finding;
        f.test = test;
        f.decides = decides;
        out.push_back(f);
    };
    const Code code = s.site().code;
    hold(0, code != Code::iec);
    hold(1, code != Code::nec);
    if (!printed_on_all(s) && s.wiring().strings.size() > 2) {
        const double strings = static_cast<double>(s.wiring().strings.size());
        Finding f = at_most(strings, Interval(strings), 2.0, Unit::string, Outcome::needs);
        f.test = 2;
        out.push_back(f);
    }
}

// Who pushes current into a faulty string.
std::string sources_of(const Situation& s) {
    if (!(battery_backfeed_a(s) > 0.0)) return "the others";
    return s.wiring().strings.size() < 2 ? "the battery" : "the others and the battery";
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (f.test == 2) {
        w.because = fmt::format("{} in parallel, and the panels' maximum series fuse is not printed.",
                                counted(s.wiring().strings.size(), "string", "strings"));
        w.instead = "Or ask the maker for the rating.";
        return w;
    }
    const Held held = worst_string(s, f.test);
    if (held.fused) {
        w.because = fmt::format(
            "Through a faulty string {} can push {}; the fuse of {} in it stands between them and its panels, which bear "
            "{}.",
            sources_of(s), amps(others_a(held.string, f.test)), amps(f.value), amps(f.limit));
        return w;
    }
    w.because = fmt::format("Through a faulty string {} can push {} (at {}); its panels bear {}.", sources_of(s),
                            amps(f.value), f.test == 0 ? bright_basis(s) : std::string("Isc"), amps(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead = "No standard fuse suits these strings and their cable.";
    } else if (f.outcome == Outcome::needs) {
        w.instead = fuse_range(s).chosen_a ? fmt::format("A fuse may be at most {}, the panels' rating.", amps(f.limit))
                                           : "No one rating suits them all.";
    }
    // Fitted fuses satisfy both.
    const Held beside = worst_string(s, f.test == 0 ? 1 : 0);
    if (held.string.fitted_a || beside.string.fitted_a || !some_fuses_suit(s)) return w;
    if ((beside.finding.outcome == Outcome::within) != (f.outcome == Outcome::within)) {
        w.because +=
            f.outcome != Outcome::within
                ? (f.test == 0 ? " The IEC test would not ask for fuses." : " The NEC test would not ask for fuses.")
                : (f.test == 0 ? " The IEC test asks for fuses." : " The NEC test asks for fuses.");
        w.instead += w.instead.empty()
                         ? "The codes disagree: follow the one that binds you, or fit the fuses and satisfy both."
                         : " The codes disagree: with fuses you satisfy both.";
    }
    return w;
}

Condition condition(const Situation& s, const Finding& f) {
    if (f.test == 2) return {ConditionKind::panel_fuse_rating, 0, {}, {}, s.here.input};
    return string_fuses_wanted(s);
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    if (f.test != 2) add_string_fuses(s, out);
    add_fewer_strings(s, string_fuses, f, out);
}

}  // namespace

constinit const Rule string_fuses{
    .id = "string-fuses",
    .title = "Reverse current through a faulty string",
    .harm = "the panels of the faulty string overheat and can catch fire",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
    .condition = &condition,
    .cure = &cure,
};

}  // namespace plait::rules
