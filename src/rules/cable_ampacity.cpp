// What a cable may carry without its insulation or its terminals growing too hot, by each code. Without a fuse a string's
// cable also carries what the other strings push through a faulty one: where only that is too much, fuses are enough. A size the other code's
// table does not have is taken as the next thinner one that it has.
#include "cable_words.hpp"
#include "fuse_cures.hpp"
#include "rules.hpp"

#include <plait/base/constants.hpp>
#include <plait/rules/cable_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 3> tests{"NEC-terminals", "NEC-surroundings", "IEC"};
constexpr std::array<std::string_view, 3> sources{
    "NEC 690.8(B)(1) and 110.14(C): 1.25 × 1.25 × Isc against table 310.16 in the terminals' column",
    "NEC 690.8(B)(2): 1.25 × Isc against table 310.16 in the wire's column, corrected for ambient and bundling by "
    "310.15",
    "IEC 62548-1:2023: 1.25 × Isc [from memory] against EN 50618 tables A.3 and A.4 [from memory], bundling by IEC 60364-5-52 "
    "[from memory]"};
// By the maximum series fuse it is known whether fuses part the strings; the 1.25 holds every tolerance of the label.
constexpr std::array rests{Quantity::panel_isc, Quantity::panel_series_fuse, Quantity::cable_surroundings};

struct Load {
    std::size_t cable = 0;
    double need_a = 0.0;
    double guarded_a = 0.0;   // … with a fuse in every string
    double ampacity_a = 0.0;  // 0: the table has none
    std::optional<CableSize> enough;
};

Load load_of(const CableFigures& f, std::size_t test) {
    const double factor = test == 0 ? continuous_duty_factor : 1.0;
    Load load{f.cable, factor * f.currents.most_a, factor * f.currents.guarded_a, 0.0,
              test == 2 ? f.smallest_by_iec : f.smallest_by_nec};
    if (test == 0) load.need_a = f.currents.continuous_a;
    if (test == 0 && f.nec) load.ampacity_a = f.nec->terminal_a.value_or(0.0);
    if (test == 1 && f.nec) load.ampacity_a = f.nec->corrected_a.value_or(0.0);
    if (test == 2 && f.iec) load.ampacity_a = f.iec->corrected_a.value_or(0.0);
    return load;
}

// Too much for the cable whatever is fitted, or too much only of what the others push through a faulty string: then fuses
// are enough, where there are any that suit.
Finding held(const Situation& s, const Load& load) {
    const auto against = [&](double a, Outcome broken) {
        return at_most(a, Interval(a), load.ampacity_a, Unit::ampere, broken);
    };
    const Finding own = against(load.guarded_a, Outcome::exceeds);
    if (own.outcome == Outcome::exceeds || !(load.guarded_a < load.need_a)) return own;
    const Finding fault = against(load.need_a, Outcome::needs);
    return fault.outcome == Outcome::within || some_fuses_suit(s) ? fault : against(load.need_a, Outcome::exceeds);
}

struct Worst {
    Load load;
    Finding finding;
};

// The cable that is worst off.
std::optional<Worst> worst_load(const Situation& s, const std::vector<CableFigures>& all, std::size_t test) {
    std::optional<Worst> worst;
    const auto weight = [](const Finding& f) {
        return f.outcome == Outcome::exceeds ? 2 : f.outcome == Outcome::needs ? 1 : 0;
    };
    for (const CableFigures& f : all) {
        const Load load = load_of(f, test);
        const Finding here = held(s, load);
        if (worst && weight(here) < weight(worst->finding)) continue;
        if (!worst || weight(here) > weight(worst->finding) ||
            here.value * worst->finding.limit > worst->finding.value * here.limit) {
            worst = Worst{load, here};
        }
    }
    return worst;
}

void check(const Situation& s, Findings& out) {
    if (s.setup.cables.empty()) return;
    const std::vector<CableFigures> all = cable_figures(s);
    for (std::size_t test = 0; test < tests.size(); ++test) {
        const std::optional<Worst> worst = worst_load(s, all, test);
        if (!worst) return;
        Finding f = worst->finding;
        f.test = static_cast<int>(test);
        f.decides = s.site().code != (test == 2 ? Code::nec : Code::iec);
        out.push_back(f);
    }
}

Words say(const Situation& s, const Finding& f) {
    const Load load = worst_load(s, cable_figures(s), static_cast<std::size_t>(f.test))->load;
    Words w;
    w.because = fmt::format("The {} must carry {}{}; ", cable_text(s.setup.cables[load.cable]), amps(f.value),
                            f.value > load.guarded_a * (1.0 + rounding_ratio) ? ", which the others can push through a faulty string" : "");
    w.because += f.limit > 0.0 ? fmt::format("where it lies it may carry {}.", amps(f.limit))
                               : std::string("so thin, or where it lies, the table has no value for it.");
    if (f.outcome == Outcome::needs) {
        w.instead = "With a fuse in every string it carries no more than its own string.";
    } else if (f.outcome == Outcome::exceeds) {
        w.instead = load.enough
                        ? "Cooler, or apart from others, it may carry more."
                        : "No size of the table is enough: lay it cooler, use wire and terminals of a higher temperature "
                          "rating, or part the strings over several inputs.";
    }
    return w;
}

Condition condition(const Situation& s, const Finding&) { return string_fuses_wanted(s); }

// All cables that carry too much at once: no single one is enough.
void cure(const Situation& s, const Finding& f, Cures& out) {
    if (f.outcome == Outcome::needs) add_string_fuses(s, out);
    Cure cure;
    cure.kind = CureKind::cable_sizes;
    for (const CableFigures& one : cable_figures(s)) {
        const Load load = load_of(one, static_cast<std::size_t>(f.test));
        if (held(s, load).outcome == Outcome::within) continue;
        if (!load.enough) return;
        cure.cables.push_back({load.cable, *load.enough});
    }
    if (!cure.cables.empty()) out.push_back(cure);
}

}  // namespace

constinit const Rule cable_ampacity{
    .id = "cable-ampacity",
    .title = "Current in the cables",
    .harm = "insulation or terminals overheat and can catch fire",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
    .condition = &condition,
    .cure = &cure,
};

}  // namespace plait::rules
