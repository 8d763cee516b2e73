// Where the maker states a largest short-circuit current, it is what terminals and the reverse-polarity path survive,
// not what the converter draws: never to be exceeded, and to be held against the sun at its brightest.
#include "bright_words.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"bright-sky", "as-marked"};
constexpr std::array<std::string_view, 2> sources{
    "IEC 62109-1, Isc PV as an absolute maximum; 1.25 × Isc by NEC 690.8(A)(1) and IEC 62548",
    "plain sum of the marked Isc, for comparison"};
constexpr std::array rests{Quantity::panel_isc};
constexpr std::array tolerance_rests{Quantity::panel_isc_tolerance};
// The 1.25 already holds every tolerance of the label: the code asks for no more on top.
constexpr std::array<std::span<const Quantity>, 2> tests_rest{std::span<const Quantity>(), tolerance_rests};

void check(const Situation& s, Findings& out) {
    if (!s.input().max_short_circuit_a) return;
    const Figure isc = array_isc_a(s, s.wiring());
    const Figure bright = array_bright_isc_a(s, s.wiring());
    out.push_back(
        at_most(bright.value, bright.spread, *s.input().max_short_circuit_a, Unit::ampere, Outcome::exceeds));
    Finding plain = at_most(isc.value, isc.spread, *s.input().max_short_circuit_a, Unit::ampere, Outcome::exceeds);
    plain.test = 1;
    plain.decides = false;
    out.push_back(plain);
}

Words say(const Situation& s, const Finding& f) {
    const std::size_t strings = s.wiring().strings.size();
    Words w;
    if (f.test == 1) {
        w.because = fmt::format("By their labels, {} give {} in short circuit; the input may be connected to {}.",
                                counted(strings, "string", "strings"), amps(f.value), amps(f.limit));
        return w;
    }
    w.because = fmt::format(
        "Under the brightest sky {} can give {} in short circuit ({}); the input may be connected to at most {}.",
        counted(strings, "string", "strings"), amps(f.value), bright_basis(s), amps(f.limit));
    if (f.outcome == Outcome::exceeds) {
        if (!most_strings(s, short_circuit_rating, f)) {
            w.instead = "Not even one of these strings stays within: use another input, or other panels.";
        }
    } else if (!f.even_at_worst) {
        w.instead = fmt::format("At the top of the Isc tolerance it would be {}.", amps(f.spread.upper()));
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    if (f.decides) add_fewer_strings(s, short_circuit_rating, f, out);
}

}  // namespace

constinit const Rule short_circuit_rating{
    .id = "short-circuit-rating",
    .title = "Short-circuit current against the input's rating",
    .harm = "terminals and protection of the input burn in a fault or with reversed plugs",
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
