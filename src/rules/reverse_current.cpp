// What the wiring itself drives back through its weakest string, day by day and with nothing broken: most at open
// circuit, when nothing is drawn. (A broken string is the matter of string-fuses, the loss of power that of
// unlike-strings.) A panel bears backwards what its maximum series fuse says. Equal strings in equal light drive none.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"open-circuit"};
constexpr std::array<std::string_view, 1> sources{
    "IEC 60364-7-712 and IEC 62548-1:2023 [from memory]: no more reverse current than the panels' maximum series fuse; the "
    "current by the strings' curves. IEC 61730-2 drives 1.35 times that through a panel for two hours: a test of a fault, "
    "not a rating for every day"};
constexpr std::array rests{Quantity::panel_voc, Quantity::panel_isc, Quantity::panel_voc_tolerance,
                           Quantity::panel_isc_tolerance, Quantity::panel_series_fuse};
constexpr double smallest_worth_words_a = 0.005;  // 0.00 A when printed

struct Worst {
    std::size_t string = 0;
    ConditionId weather = ConditionId::cold_bright;
    double reverse_a = 0.0;
    double rating_a = std::numeric_limits<double>::infinity();
    Interval spread_a;
};

// The string that stands worst against its own weakest panel, and in which weather.
Worst worst_of(const Situation& s) {
    Worst worst;
    double worst_ratio = -1.0;
    double most_ratio = 0.0;
    for (const ConditionPoint& p : s.points()) {
        for (std::size_t i = 0; i < p.strings.size(); ++i) {
            const StringCurrent& at = p.strings[i];
            const double reverse_a = std::max(0.0, -at.open_circuit_a);
            const double rating_a = weakest_series_fuse_a(s.setup, s.wiring().strings[i]);
            most_ratio = std::max(most_ratio, at.reverse_spread_a.upper() / rating_a);
            if (!(reverse_a / rating_a > worst_ratio)) continue;
            worst_ratio = reverse_a / rating_a;
            worst = {i, p.id, reverse_a, rating_a, at.reverse_spread_a};
        }
    }
    // Within its tolerance another string may come to stand worst.
    worst.spread_a = Interval(std::min(worst.spread_a.lower(), worst.reverse_a),
                              std::max(most_ratio * worst.rating_a, worst.reverse_a));
    return worst;
}

// In the weather in which the most flows, while the input draws.
double most_in_operation_a(const Situation& s, std::size_t string) {
    double most_a = 0.0;
    for (const ConditionPoint& p : s.points()) most_a = std::max(most_a, -p.strings[string].operating_a);
    return most_a;
}

void check(const Situation& s, Findings& out) {
    if (s.points().front().strings.empty()) return;
    const Worst w = worst_of(s);
    out.push_back(at_most(w.reverse_a, w.spread_a, w.rating_a, Unit::ampere, Outcome::exceeds));
}

Words say(const Situation& s, const Finding& f) {
    const Worst worst = worst_of(s);
    Words w;
    if (f.value < smallest_worth_words_a) {
        const std::vector<SeriesString>& strings = s.wiring().strings;
        const bool blocked = std::any_of(strings.begin(), strings.end(),
                                         [](const SeriesString& string) { return string.blocking_diode; });
        w.because =
            fmt::format("With nothing drawn, no string is driven back{}; the weakest panels bear {}.",
                        blocked ? ": the blocking diodes see to it" : " in any weather looked at", amps(f.limit));
    } else {
        const double operating_a = most_in_operation_a(s, worst.string);
        w.because = fmt::format(
            "{}, with nothing drawn, the others drive {} back through string {}, whose panels bear {}; in operation "
            "{}.",
            when(worst.weather), amps(f.value), worst.string + 1, amps(f.limit),
            operating_a < smallest_worth_words_a ? "none" : fmt::format("at most {}", amps(operating_a)));
    }
    if (f.outcome != Outcome::within) {
        w.instead = fmt::format(
            "String {} on an input of its own, or strings that are alike, need none. A fuse would only blow every day.",
            worst.string + 1);
    }
    return w;
}

void cure(const Situation& s, const Finding&, Cures& out) {
    Cure cure;
    cure.kind = CureKind::blocking_diodes;
    cure.input = s.here.input;
    out.push_back(cure);
}

}  // namespace

constinit const Rule reverse_current{
    .id = "reverse-current",
    .title = "Current driven back through a weaker string",
    .harm = "its panels and wires carry more than they are tested for, every day, and overheat",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .asks_curves = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
