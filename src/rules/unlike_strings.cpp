// Strings in parallel share one voltage. Where their own voltages differ, none works at its best. (What they drive back
// through each other is the matter of reverse-current.)
#include "rules.hpp"
#include "words.hpp"

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"voltage-match"};
constexpr std::array<std::string_view, 1> sources{
    "common practice, no source: parallel strings agree in Voc within about 5 %; never unlike lengths"};
constexpr std::array rests{Quantity::panel_voc};
constexpr double most_apart_ratio = 0.05;

void check(const Situation& s, Findings& out) {
    if (s.wiring().strings.size() < 2) return;
    double lowest_v = std::numeric_limits<double>::infinity();
    double highest_v = 0.0;
    bool all_blocked = true;
    for (const SeriesString& string : s.wiring().strings) {
        double voc_v = 0.0;
        for (const PanelPlace& place : string.panels) voc_v += s.panel(place).voc_v;
        lowest_v = std::min(lowest_v, voc_v);
        highest_v = std::max(highest_v, voc_v);
        all_blocked = all_blocked && string.blocking_diode;
    }
    if (highest_v == lowest_v || all_blocked) return;
    const double apart_v = highest_v - lowest_v;
    Finding f = at_most(apart_v, Interval(apart_v), most_apart_ratio * highest_v, Unit::volt, Outcome::clips);
    // A rule of thumb beside the exact answer: the curve counts what is lost, reverse-current what is driven back.
    f.decides = false;
    out.push_back(f);
}

Words say(const Situation&, const Finding& f) {
    Words w;
    w.because =
        fmt::format("The parallel strings are {} apart in Voc; {} (5 %) is usual.", volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::clips) {
        w.instead = "What that loses is counted in the harvest. Strings of about equal voltage lose less, and so do inputs of "
                    "their own.";
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

constinit const Rule unlike_strings{
    .id = "unlike-strings",
    .title = "Voltages of the strings in parallel",
    .harm = "no string works at its own best voltage, and output is lost",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
