// What a search knows before it begins: the bounds of each input, which inputs are equal, and what the controller's
// shared limit does to the levels.
#pragma once

#include "input_table.hpp"
#include "reverse_table.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace plait::search {

/// How many different counts of panels the set-up's stock allows.
[[nodiscard]] double counts_of(const Setup& setup);

struct SearchTables {
    /// `likely_w` as in PlanSearch.
    SearchTables(const study::SystemModel& system, const study::LevelPowers& likely_w, Accept accept, Patience& patience);

    const study::SystemModel& system;
    Accept accept;
    PanelCounts counts;
    std::vector<WeightedLevel> levels;     ///< those the search works on
    std::vector<std::size_t> full_levels;  ///< those taken to be at the shared limit
    double full_w = 0.0;                   ///< and what they bring
    std::vector<std::unique_ptr<InputTable>> classes;
    std::vector<std::unique_ptr<ReverseTable>> driven_back;  ///< by class
    std::vector<std::size_t> class_of;  ///< by input
    std::vector<std::size_t> order;     ///< inputs in the order they are decided
    bool shared = false;                ///< the controller limits the sum of its inputs

private:
    void split_levels(const study::LevelPowers& likely_w);
};

}  // namespace plait::search
