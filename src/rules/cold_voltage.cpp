// On the coldest morning, with nothing drawn, the array must stay within the input's absolute maximum. Light reaches
// the cells before warmth does, so the cells are taken at air temperature and in full light; no wind, no self-heating,
// no cable drop (without current there is none) is credited. Parallel strings do not enter.
#include "cold_words.hpp"
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/rules/cure_search.hpp>

#include <limits>

namespace plait::rules {
namespace {

// One for each basis, in their order: what a voltage rests on is a matter of authority, not only of the method asked for.
constexpr std::array<std::string_view, cold_basis_count> tests{
    "coefficient",    "code-table",       "flat-factor",  "assumed-coefficient",
    "table-for-want", "beyond-the-table", "usual-factor", "curve"};
constexpr std::array<std::string_view, cold_basis_count> sources{
    "NEC 690.7(A)(1) and IEC 62548-1:2023 (clause 7.2 of IEC 62548:2016 [from memory]): each panel's own Voc "
    "coefficient, at the lowest expected air temperature",
    "NEC 690.7(A)(2) with table 690.7(A), 2008 to 2023 [whole table from memory], crystalline silicon only",
    "IEC 60364-7-712:2017 [from memory]: 1.2 × Voc where no data are at hand; UK practice 1.15",
    "judgement: the Voc coefficient is not printed, and the one assumed in its place gives more than any table; by the "
    "line of NEC 690.7(A)(1)",
    "judgement: NEC table 690.7(A) [whole table from memory] in place of a Voc coefficient that is not printed",
    "judgement: NEC table 690.7(A) ends at −40 °C; below it 0.02 more for each 5 K or part of them, its own last step",
    "common practice, no source: 1.25 × Voc below 0 °C, which panel manuals ask for where no coefficient is printed",
    "judgement: the panel's curve gives more than the method asked for, and the larger counts (docs/physics.md)"};

constexpr auto rests = [] {
    std::array<Quantity, cold_voc_rests_on.size() + 1> all{};
    for (std::size_t i = 0; i < cold_voc_rests_on.size(); ++i) all[i] = cold_voc_rests_on[i];
    all.back() = Quantity::input_max_voltage;
    return all;
}();

bool applies_to_all(const Situation& s, ColdMethod method) {
    for (const SeriesString& string : s.wiring().strings) {
        for (const PanelPlace& place : string.panels) {
            if (!method_applies(s.panel(place), method, s.site().coldest_air)) return false;
        }
    }
    return true;
}

Finding by_method(const Situation& s, ColdMethod method) {
    const Figure voc = array_cold_voc_v(s.stated(), s.wiring(), method);
    // Where nobody knows the maximum, there is nothing to compare with: the finding is undecided.
    const double limit_v = s.input().max_voltage_v.value_or(std::numeric_limits<double>::quiet_NaN());
    return at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::exceeds);
}

void check(const Situation& s, Findings& out) {
    for (const ColdMethod method : cold_methods) {
        const bool decides = method == s.site().cold_method;
        if (!decides && (!s.input().max_voltage_v || !applies_to_all(s, method))) continue;
        Finding f = by_method(s, method);
        f.test = static_cast<int>(decides ? least_authority(cold_parts(s, method)) : ColdBasis(method));
        f.decides = decides;
        out.push_back(f);
    }
}

// The other methods, where they come to another answer: whoever is bound by one of them must know.
std::string disagreement(const Situation& s, const Finding& f) {
    std::string text;
    for (const ColdMethod method : cold_methods) {
        if (method == s.site().cold_method || !applies_to_all(s, method)) continue;
        const Finding other = by_method(s, method);
        if (other.outcome == f.outcome) continue;
        text += fmt::format(" The methods disagree: by {} it would be {}, {} the limit.", method_noun(s.site(), method),
                            volts(other.value), other.outcome == Outcome::exceeds ? "outside" : "within");
    }
    return text;
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    if (!f.decides) {
        w.because = fmt::format("By {} it would be {}; the input's absolute maximum is {}.",
                                method_noun(s.site(), cold_methods[static_cast<std::size_t>(f.test)]), volts(f.value),
                                volts(f.limit));
        // Advice follows the method the site asks for; two contrary orders would help nobody.
        if (f.outcome == Outcome::exceeds) {
            w.instead =
                "The methods differ; if this one binds you, the array is outside the limit: shorten the strings.";
        }
        return w;
    }
    if (!s.input().max_voltage_v) {
        w.because = fmt::format("At {} the array's open-circuit voltage is {}, {}; nobody knows the input's absolute maximum.",
                                degrees(s.site().coldest_air), volts(f.value), cold_basis_words(s));
        w.instead = "Do not connect it yet. Ask the maker for the highest open-circuit voltage that the input may ever see, "
                    "and write it as max_voltage.";
        return w;
    }
    w.because = fmt::format("At {} the array's open-circuit voltage is {}, {}; the input's absolute maximum is {}.{}",
                            degrees(s.site().coldest_air), volts(f.value), cold_basis_words(s), volts(f.limit),
                            disagreement(s, f));
    if (f.outcome == Outcome::exceeds) {
        if (!most_in_series(s, cold_voltage, f)) {
            w.instead = "Not even one of these panels stays within: use other panels, or an input for a higher voltage.";
        }
    } else if (!f.even_at_worst) {
        w.instead = at_top(f) + ", over the limit: measure Voc in the cold before you rely on it.";
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    if (f.decides) add_fewer_in_series(s, cold_voltage, f, out);
}

}  // namespace

constinit const Rule cold_voltage{
    .id = "cold-voltage",
    .title = "Open-circuit voltage on the coldest morning",
    .harm = "the input is destroyed; no fuse or breaker can prevent it",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
