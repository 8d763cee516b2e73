// One wiring of one input held against the rules, in numbers only: what both the ranking and the search need.
#pragma once

#include <plait/search/arrangement.hpp>

#include <plait/study/verdict.hpp>

#include <span>

namespace plait::search {

/// What the rules about whole plans need of a candidate besides its numbers.
struct Weighed {
    rules::ConditionPoints points;
    std::vector<rules::ConditionPoints> points_at_ends;  ///< by the system's other ends
    study::Tally tally;
};

/// The candidate without its harvest (`level_power_w`, `free_european_w`), judged by the rules about one input.
[[nodiscard]] Candidate weigh(const study::SystemModel& system, std::size_t input, InputWiring wiring, Weighed& weighed);
/// Its harvest filled in.
void fill_harvest(const study::SystemModel& system, Candidate& candidate);

/// The findings of the rules about all inputs together; `weighed` goes along with `wired`; `plan`, if not null, gets what
/// they ask to be added and which of them decides.
[[nodiscard]] study::Tally plan_tally(const study::SystemModel& system, std::span<const rules::WiredInput> wired,
                                      std::span<const Weighed* const> weighed,
                                      RankedPlan* plan = nullptr);

/// In which part of the list a plan is, the first first.
enum class RankClass { holds, may_exceed, falls_short, exceeds };
[[nodiscard]] RankClass rank_class(const study::Answers& verdict);

}  // namespace plait::search
