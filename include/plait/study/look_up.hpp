// Which of the assumed figures are worth looking up: those that could turn the verdict, the gravest turn first.
#pragma once

#include <plait/study/judgement.hpp>
#include <plait/study/plausible_range.hpp>

#include <cstddef>
#include <string_view>
#include <vector>

namespace plait::study {

/// What looking a figure up could do, from slight to grave.
enum class Turn {
    none,
    doubt,   ///< the same answers, within the tolerances or not
    milder,  ///< at an end of the range the answers are less grave, at none graver
    graver,
};

[[nodiscard]] std::string_view name_of(Turn turn);

struct LookUp {
    std::size_t assumption = 0;  ///< index into the judgement's list
    PlausibleRange range;
    Answers
        at_low;  ///< the plan's, with this figure at that end and every other as it is; "proven" is here a matter of
    Answers at_high;  ///< stated tolerances alone
    Turn turn = Turn::none;
    Answers gravest;  ///< of both ends
    std::string_view where_printed;
    std::vector<const rules::Rule*> settles;  ///< which find something else at an end, in the order of the report
};

struct LookUpList {
    Answers now;
    std::vector<LookUp> first;  ///< what could turn the verdict by itself, the gravest first
    std::size_t others = 0;     ///< assumed figures of which none could
};

/// Whether one pair of answers is less grave than another: whether the plan may be connected goes before what the input
/// then takes.
[[nodiscard]] bool milder(const Answers& a, const Answers& b);

/// The plan's answers in numbers only, as `judge` would find them were every figure stated.
[[nodiscard]] Answers answers_at(const SystemModel& system, const ArrayPlan& plan);

/// Judges the plan with each assumed figure at both ends of its plausible range. Figures that can reach no deciding
/// finding are not tried. `judgement` is that of the plan.
[[nodiscard]] LookUpList look_up(const SystemModel& system, const ArrayPlan& plan, const Judgement& judgement);

struct LookedUp {
    Judgement judgement;  ///< its verdict knows whether an assumed figure could carry the plan past a limit
    LookUpList look_ups;
};
[[nodiscard]] LookedUp judge_and_look_up(const SystemModel& system, const ArrayPlan& plan);

}  // namespace plait::study
