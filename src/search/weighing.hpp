// One wiring of one input held against the rules, in numbers only: what both the ranking and the search need.
#pragma once

#include <plait/search/arrangement.hpp>

#include <plait/study/tally.hpp>

#include <span>

namespace plait::search {

/// What the rules about whole plans need of a candidate besides its numbers.
struct Weighed {
    rules::ConditionPoints points;
    study::Tally tally;
};

/// The candidate without its harvest (`level_power_w`, `free_european_w`), judged by the rules about one input.
[[nodiscard]] Candidate weigh(const study::SystemModel& system, std::size_t input, InputWiring wiring, Weighed& weighed);
/// Its harvest filled in.
void fill_harvest(const study::SystemModel& system, Candidate& candidate);

/// The findings of the rules about all inputs together.
[[nodiscard]] study::Tally plan_tally(const study::SystemModel& system, std::span<const rules::WiredInput> wired);

/// 0: can be used; 1: falls short; 2: exceeds.
[[nodiscard]] int rank_class(rules::Outcome outcome);

}  // namespace plait::search
