// The best wiring of everything on hand, proven: each input gets strings in parallel, each string any panels in series,
// and panels may stay unused. Only wirings that can be used count: nothing exceeds, nothing falls short, and no tolerance
// carries them past a limit that protects something.
//
// Not every wiring is solved. An upper bound of the harvest of any part that is still open (src/search/input_table.hpp)
// rules out all the rest; what is left is solved exactly. The same panels on equal inputs are looked at once. When the
// search ends, no usable wiring outside the list brings more than the last one on it.
#pragma once

#include <plait/study/system_model.hpp>

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace plait::search {

struct SearchProgress {
    std::size_t solved = 0;  ///< wirings of one input solved so far
    double best_w = 0.0;     ///< the best plan so far, European weighting
    double bound_w = 0.0;    ///< no plan brings more
};
/// Asked now and then; `false` stops the search.
using KeepGoing = std::function<bool(const SearchProgress&)>;

/// Which plans count.
enum class Accept {
    holds,       ///< usable, and no tolerance carries them past a limit that protects something
    may_exceed,  ///< usable on the nominal figures: for where nothing holds
};

struct SearchRequest {
    std::size_t keep = 1;            ///< how many of the best plans to list, at least one
    double above_w = 0.0;            ///< only plans that harvest more than this
    std::optional<int> most_joints;  ///< at most so many strings beyond the first of an input, summed
    bool like_strings_only = false;  ///< one kind in each string
    KeepGoing keep_going;            ///< empty: to the end
};

struct FoundPlan {
    ArrayPlan plan;
    double european_w = 0.0;
};

struct SearchResult {
    std::vector<FoundPlan> plans;  ///< best first, at most `keep`
    bool finished = true;          ///< false: stopped; there may be better ones, up to `bound_w`
    double bound_w = 0.0;          ///< no usable plan (of the request) that is not listed harvests more than this
    std::size_t solved = 0;        ///< wirings of one input that were solved for it
};

struct SearchTables;  // src/search/search_tables.hpp

class PlanSearch {
public:
    /// Sets up the bounds. `system` must outlive the search. `likely_w`: watts of some good plan at each level, before
    /// the controller's shared limit; it changes the time a search takes, never its result. `go_on` is asked now and
    /// then; when it says no before the bounds are known, every run ends at once, unfinished.
    explicit PlanSearch(const study::SystemModel& system, const study::LevelPowers& likely_w = {},
                        const std::function<bool()>& go_on = {}, Accept accept = Accept::holds);
    ~PlanSearch();
    PlanSearch(PlanSearch&&) noexcept;
    PlanSearch& operator=(PlanSearch&&) noexcept;

    /// False where there are so many kinds and panels that no table of their counts can be held (more than
    /// `most_counts`): then nothing is searched.
    [[nodiscard]] bool possible() const { return possible_; }
    static constexpr std::size_t most_counts = 50000;

    /// How many wirings there are of strings that may be built: any strings on any inputs, every input told apart. 0
    /// where it would take a good part of a second to count them, or `go_on` said no.
    [[nodiscard]] double count(const std::function<bool()>& go_on = {}) const;

    [[nodiscard]] SearchResult run(const SearchRequest& request);

private:
    bool possible_ = false;
    std::unique_ptr<SearchTables> tables_;  // null: not possible, or stopped before they were complete
};

/// Strings beyond the first of each input: each wants a pair of branch connectors.
[[nodiscard]] int joints(const ArrayPlan& plan);
/// Kinds beyond the first in each string, summed.
[[nodiscard]] int unlike_panels(const InputWiring& wiring);
[[nodiscard]] int unlike_panels(const ArrayPlan& plan);

}  // namespace plait::search
