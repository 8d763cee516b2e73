// With strings in parallel, the others can push their current backwards through a faulty one. The panels' maximum
// series fuse says what they stand. The NEC counts the others at 1.25 × Isc, IEC 62548 at plain Isc, and at exactly the
// rating IEC asks for nothing: the two can disagree, and then both are shown. A controller without tracking is a switch:
// through it the battery feeds back too, into a single string as well.
#include "bright_words.hpp"
#include "rules.hpp"
#include "words.hpp"

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

struct Worst {
    double others_a = 0.0;
    double rating_a = 0.0;
};

// The NEC counts the others under the brightest sky, IEC 62548 by Isc.
double others_a(const StringFuse& string, int test) {
    return test == 0 ? string.others_bright_a : string.others_a;
}

// The string for which the current of the others stands worst against its own weakest panel.
Worst worst_string(const Situation& s, int test) {
    Worst worst;
    double worst_ratio = -1.0;
    for (const StringFuse& string : string_fuse_figures(s)) {
        const Worst here{others_a(string, test), string.panel_rating_a};
        const double ratio = here.others_a / here.rating_a;
        if (ratio > worst_ratio) {
            worst_ratio = ratio;
            worst = here;
        }
    }
    return worst;
}

Finding against_others(const Worst& w) {
    return at_most(w.others_a, Interval(w.others_a), w.rating_a, Unit::ampere, Outcome::needs);
}

// A fitted fuse, and the string it guards least of those that want one: that with the lowest rating, whatever the
// others push. Nothing where no fuse is fitted or none is wanted.
std::optional<Worst> guarded_string(const Situation& s, int test) {
    std::optional<Worst> guarded;
    if (!s.setup.fittings.string_fuse_a) return guarded;
    for (const StringFuse& string : string_fuse_figures(s)) {
        const Worst here{others_a(string, test), string.panel_rating_a};
        const bool wanted = against_others(here).outcome == Outcome::needs;
        if (wanted && (!guarded || here.rating_a < guarded->rating_a)) guarded = here;
    }
    return guarded;
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
        const Worst w = worst_string(s, test);
        Finding f = against_others(w);
        // Where fuses are fitted they are what the panels must stand.
        if (const std::optional<Worst> guarded = guarded_string(s, test)) {
            const double fuse_a = *s.setup.fittings.string_fuse_a;
            f = at_most(fuse_a, Interval(fuse_a), guarded->rating_a, Unit::ampere, Outcome::exceeds);
        }
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

// Unlike strings may each have a standard fuse where no single rating suits them all.
bool each_has_its_own(const Situation& s) {
    const Code code = s.site().code;
    const std::vector<StringFuse> strings = string_fuse_figures(s);
    return strings.size() > 1 && std::none_of(strings.begin(), strings.end(), [&](const StringFuse& f) {
        return (code == Code::nec ? f.nec.sizes : code == Code::iec ? f.iec.sizes : f.both).empty();
    });
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
    if (const std::optional<Worst> guarded = guarded_string(s, f.test)) {
        w.because = fmt::format(
            "Through a faulty string {} can push {}; the fuse of {} in it stands between them and its panels, which stand "
            "{}.",
            sources_of(s), amps(guarded->others_a), amps(f.value), amps(f.limit));
        return w;
    }
    w.because = fmt::format("Through a faulty string {} can push {} (at {}); its panels stand {}.", sources_of(s),
                            amps(f.value), f.test == 0 ? bright_basis(s) : std::string("Isc"), amps(f.limit));
    if (f.outcome == Outcome::needs) {
        w.instead = fuse_range(s).chosen_a
                        ? fmt::format("A fuse may be at most {}, the panels' rating.", amps(f.limit))
                        : each_has_its_own(s) ? "Or give each string a fuse of its own rating: no one rating suits them all."
                                              : "No standard fuse suits these strings and their cable.";
    }
    // Fitted fuses satisfy both.
    if (s.setup.fittings.string_fuse_a) return w;
    const Finding other = against_others(worst_string(s, f.test == 0 ? 1 : 0));
    if (other.outcome != f.outcome) {
        w.because +=
            f.outcome == Outcome::needs
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
    const std::size_t strings = s.wiring().strings.size();
    if (!fuse_range(s).chosen_a) return {ConditionKind::string_fuses, strings, {}, {}, s.here.input};
    // One a string, and none larger than the least of the panels' ratings.
    double most_a = f.limit;
    for (const StringFuse& string : string_fuse_figures(s)) most_a = std::min(most_a, string.panel_rating_a);
    return {ConditionKind::string_fuses, strings, most_a, {}, s.here.input};
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    const FuseRange range = fuse_range(s);
    if (f.test != 2 && range.chosen_a) {
        Cure cure;
        cure.kind = CureKind::string_fuse;
        cure.input = s.here.input;
        cure.rating_a = *range.chosen_a;
        cure.rating_v = cold_voc_v(s).spread.upper();
        out.push_back(cure);
    }
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
