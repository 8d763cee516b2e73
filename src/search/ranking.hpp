// Candidates and plans as they are met, each with its figures.
#pragma once

#include "weighing.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace plait::search {

class Ranking {
public:
    Ranking(const study::SystemModel& system, Arrangement& arrangement) : system_(system), out_(arrangement) {}

    [[nodiscard]] Arrangement& arrangement() { return out_; }

    /// Judges a wiring of one input; its index.
    std::size_t add_candidate(std::size_t input, InputWiring wiring);
    /// Judges candidates together, at most one an input, rising by input; the plan's index.
    std::size_t add_plan(const std::vector<std::size_t>& candidates);
    /// A plan written out, unless it is there already; its index.
    std::size_t add_written_out(const ArrayPlan& plan);

private:
    /// Fills in the plan's conditions and what decides it.
    [[nodiscard]] study::Tally tally_of(const std::vector<std::size_t>& candidates, RankedPlan& plan);

    const study::SystemModel& system_;
    Arrangement& out_;
    std::vector<Weighed> weighed_;
    std::vector<rules::WiredInput> wired_;       // of the plan being judged
    std::vector<const Weighed*> together_;      // along with it
};

/// The share of an input's maximum that a string leaves in the cold; `unknown_margin_ratio` where nobody knows the maximum.
[[nodiscard]] double cold_margin_ratio(const std::optional<double>& max_voltage_v, double cold_voc_v);

/// Every plan of one kind in equal strings per input.
void add_equal_plans(const Setup& setup, Ranking& ranking);

/// Fewer joints, then fewer unlike panels in a string, then more room in the cold (as a share of the limit).
[[nodiscard]] bool simpler(const RankedPlan& a, const RankedPlan& b);

}  // namespace plait::search
