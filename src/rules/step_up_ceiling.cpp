// A step-up stage can only raise the array's voltage. Above the battery's own voltage the array feeds the battery
// through the stage, unregulated.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"below-battery"};
constexpr std::array<std::string_view, 1> sources{
    "common practice, no source: a step-up stage does not hold back an array above its battery; the manual's window "
    "counts"};

void check(const Situation& s, Findings& out) {
    if (s.controller().type != ControllerType::step_up || !s.controller().battery) return;
    const Figure voc = cold_voc_v(s);
    out.push_back(at_most(voc.value, voc.spread, s.controller().battery->min_voltage_v, Unit::volt, Outcome::exceeds));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("In the cold the array reaches {}; the emptiest battery stands at {}.", volts(f.value),
                            volts(f.limit));
    if (f.outcome == Outcome::exceeds) {
        w.instead = most_in_series(s, step_up_ceiling, f)
                        ? "A step-up controller needs strings that stay below the battery."
                        : "Not even one of these panels stays below the battery: use another controller.";
    } else if (!f.even_at_worst) {
        w.instead = at_top(f) + ", above the battery: measure Voc in the cold before you rely on it.";
    }
    return w;
}

void cure(const Situation& s, const Finding& f, Cures& out) { add_fewer_in_series(s, step_up_ceiling, f, out); }

}  // namespace

constinit const Rule step_up_ceiling{
    .id = "step-up-ceiling",
    .title = "Array voltage below the battery (step-up controller)",
    .harm = "the battery is charged without any regulation",
    .tests = tests,
    .sources = sources,
    .rests_on = cold_voc_rests_on,
    .stays_broken = true,
    .check = &check,
    .say = &say,
    .cure = &cure,
};

}  // namespace plait::rules
