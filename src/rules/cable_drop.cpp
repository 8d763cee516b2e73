// Volts that stay in the cables at work. They cost output and nothing else: at open circuit no current flows, so a
// cable never helps against a cold morning.
#include "cable_cures.hpp"
#include "cable_words.hpp"
#include "rules.hpp"

#include <plait/rules/cable_figures.hpp>

#include <algorithm>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"drop"};
constexpr std::array<std::string_view, 1> sources{
    "2 × length × Imp × resistance against a share of Vmp; 1 to 3 % is common practice (AS/NZS 5033 and UTE C15-712-1: "
    "3 % "
    "at most [from memory])"};
constexpr std::array rests{Quantity::panel_imp, Quantity::panel_vmp, Quantity::cable_resistance, Quantity::drop_target};

void check(const Situation& s, Findings& out) {
    if (s.setup.cables.empty()) return;
    const std::vector<CableFigures> all = cable_figures(s);
    if (all.empty()) return;
    double drop_v = 0.0;
    for (const CableFigures& f : all) drop_v += f.drop_v;
    out.push_back(at_most(drop_v, Interval(drop_v), s.setup.drop_target_ratio * working_voltage_v(s), Unit::volt,
                          Outcome::clips));
}

Words say(const Situation& s, const Finding& f) {
    const std::vector<CableFigures> all = cable_figures(s);
    const double working_v = working_voltage_v(s);
    const auto most = std::max_element(
        all.begin(), all.end(), [](const CableFigures& a, const CableFigures& b) { return a.drop_v < b.drop_v; });
    const Cable& cable = s.setup.cables[most->cable];
    Words w;
    w.because = fmt::format(
        "At work the cables take {} of {} ({:.2f} %); {} ({:.1f} %) is wanted. Most of it, {}, stays in the {}.",
        volts(f.value), volts(working_v), 100.0 * f.value / working_v, volts(f.limit),
        100.0 * s.setup.drop_target_ratio, volts(most->drop_v), cable_text(cable));
    if (f.outcome == Outcome::clips) {
        w.instead = most->smallest_for_drop
                        ? "A shorter way does it too."
                        : "Make every cable thicker or shorter, or put more panels in series if the cold allows it.";
    }
    return w;
}

void cure(const Situation& s, const Finding&, Cures& out) { add_cures_for_drop(cable_figures(s), out); }

}  // namespace

constinit const Rule cable_drop{
    .id = "cable-drop",
    .title = "Voltage that stays in the cables",
    .harm = "the cables turn some of the sun into heat",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
