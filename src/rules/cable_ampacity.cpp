// What a cable may carry without its insulation or its terminals growing too hot, by each code. A size the other code's
// table does not have is taken as the next thinner one that it has.
#include "cable_words.hpp"
#include "rules.hpp"

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
    double ampacity_a = 0.0;  // 0: the table has none
    std::optional<CableSize> enough;
};

Load load_of(const CableFigures& f, std::size_t test) {
    Load load{f.cable, test == 0 ? f.currents.continuous_a : f.currents.most_a, 0.0,
              test == 2 ? f.smallest_by_iec : f.smallest_by_nec};
    if (test == 0 && f.nec) load.ampacity_a = f.nec->terminal_a.value_or(0.0);
    if (test == 1 && f.nec) load.ampacity_a = f.nec->corrected_a.value_or(0.0);
    if (test == 2 && f.iec) load.ampacity_a = f.iec->corrected_a.value_or(0.0);
    return load;
}

// The cable that stands worst against its ampacity.
std::optional<Load> worst_load(const std::vector<CableFigures>& all, std::size_t test) {
    std::optional<Load> worst;
    for (const CableFigures& f : all) {
        const Load load = load_of(f, test);
        if (!worst || load.need_a * worst->ampacity_a > worst->need_a * load.ampacity_a) worst = load;
    }
    return worst;
}

void check(const Situation& s, Findings& out) {
    if (s.setup.cables.empty()) return;
    const std::vector<CableFigures> all = cable_figures(s);
    for (std::size_t test = 0; test < tests.size(); ++test) {
        const std::optional<Load> load = worst_load(all, test);
        if (!load) return;
        Finding f = at_most(load->need_a, Interval(load->need_a), load->ampacity_a, Unit::ampere, Outcome::exceeds);
        f.test = static_cast<int>(test);
        f.decides = s.site().code != (test == 2 ? Code::nec : Code::iec);
        out.push_back(f);
    }
}

// Every cable that carries too much.
std::vector<Load> weak_loads(const std::vector<CableFigures>& all, std::size_t test) {
    std::vector<Load> weak;
    for (const CableFigures& f : all) {
        const Load load = load_of(f, test);
        const Finding held =
            at_most(load.need_a, Interval(load.need_a), load.ampacity_a, Unit::ampere, Outcome::exceeds);
        if (held.outcome != Outcome::within) weak.push_back(load);
    }
    return weak;
}

// Several cables at once: no single change is enough.
std::string all_thicker(const Setup& setup, const std::vector<Load>& weak) {
    std::string text;
    for (const Load& load : weak) {
        if (!load.enough) continue;
        const Cable& cable = setup.cables[load.cable];
        text += fmt::format("{} {} {} or thicker", text.empty() ? "Make the" : " and the", cable.name,
                            size_beside(*load.enough, cable.size));
    }
    return text + ". ";
}

Words say(const Situation& s, const Finding& f) {
    const std::vector<CableFigures> all = cable_figures(s);
    const Load load = *worst_load(all, static_cast<std::size_t>(f.test));
    const std::vector<Load> weak = weak_loads(all, static_cast<std::size_t>(f.test));
    Words w;
    w.because = f.limit > 0.0
                    ? fmt::format("The {} must carry {}; where it lies it may carry {}.",
                                  cable_text(s.setup.cables[load.cable]), amps(f.value), amps(f.limit))
                    : fmt::format("The {} must carry {}; so thin, or where it lies, the table has no value for it.",
                                  cable_text(s.setup.cables[load.cable]), amps(f.value));
    if (f.outcome == Outcome::exceeds) {
        w.instead = load.enough
                        ? "Cooler, or apart from others, it may carry more."
                        : "No size of the table is enough: lay it cooler, use wire and terminals of a higher temperature "
                          "rating, or part the strings over several inputs.";
        if (load.enough && weak.size() > 1) w.instead = all_thicker(s.setup, weak) + w.instead;
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    const std::vector<Load> weak = weak_loads(cable_figures(s), static_cast<std::size_t>(f.test));
    if (weak.size() != 1 || !weak.front().enough) return;
    Cure cure;
    cure.kind = CureKind::cable_size;
    cure.cable = weak.front().cable;
    cure.size = *weak.front().enough;
    out.push_back(cure);
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
    .cure = &cure,
};

}  // namespace plait::rules
