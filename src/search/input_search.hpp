// The wirings of one input that use exactly certain panels and may harvest more than a given power (over the table's
// levels): found by adding string after string, turning back as soon as the bound says that nothing below is worth it,
// and solved exactly.
#pragma once

#include "input_table.hpp"
#include "reverse_table.hpp"

#include <cstdint>
#include <functional>
#include <unordered_map>
#include <vector>

namespace plait::search {

/// A wiring of one input, solved.
struct SolvedWiring {
    InputWiring wiring;
    study::LevelPowers level_power_w{};  ///< at the table's levels only
    double weighted_w = 0.0;             ///< over those levels
    std::size_t id = 0;                  ///< in the order of solving
    int strings = 0;
    int unlike = 0;  ///< kinds beyond the first in its strings, summed
};

class InputSearch {
public:
    /// `keep_going` is asked now and then; when it says no, what was found so far stands and `stopped()` is true.
    InputSearch(InputTable& table, ReverseTable& driven_back, const PanelCounts& counts, std::function<bool()> keep_going);

    /// Every wiring of exactly these panels in at most `most_strings` strings that harvests more than `above_w`, best
    /// first, and perhaps others. Kept, so that asking again is cheap. Pointers stay good.
    const std::vector<const SolvedWiring*>& wirings(std::size_t panels, int most_strings, double above_w);

    /// What no wiring of exactly these panels passes, by all that is known by now.
    [[nodiscard]] double bound_w(std::size_t panels, int most_strings);

    [[nodiscard]] InputTable& table() { return *table_; }
    [[nodiscard]] std::size_t solved() const { return solved_; }
    [[nodiscard]] bool stopped() const { return stopped_; }

    static constexpr int any_number = 1000;

private:
    struct List {
        double above_w = 0.0;
        bool filled = false;
        std::vector<const SolvedWiring*> wirings;
    };
    /// A wiring met before: solved, or known to harvest no more than some power.
    struct Met {
        bool solved = false;
        double at_most_w = 0.0;
        SolvedWiring wiring;
    };
    using Key = std::vector<std::uint32_t>;
    struct KeyHash {
        std::size_t operator()(const Key& key) const;
    };

    void extend(std::size_t first_type, std::size_t panels, int strings_left, std::size_t depth, List& list);
    void finish(List& list);
    const SolvedWiring* solve(double above_w, double bound_w);

    InputTable* table_;
    ReverseTable* driven_back_;
    const PanelCounts* counts_;
    std::function<bool()> keep_going_;
    std::unordered_map<std::uint64_t, List> lists_;
    std::unordered_map<Key, Met, KeyHash> met_;
    std::vector<std::size_t> chosen_;
    std::vector<double> sums_w_;    // ceilings of the strings chosen so far, by depth
    std::vector<double> levels_w_;  // what each level brings at most with them, weighted, by depth
    std::vector<double> trial_w_;
    std::size_t solved_ = 0;
    std::size_t steps_ = 0;
    bool stopped_ = false;
};

}  // namespace plait::search
