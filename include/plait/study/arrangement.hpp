#pragma once

#include <plait/study/judgement.hpp>

#include <cstddef>
#include <vector>

namespace plait::study {

/// One wiring of one input, in numbers.
struct Candidate {
    std::size_t input = 0;
    InputWiring wiring;
    rules::Outcome outcome = rules::Outcome::undecided;
    bool proven = false;
    const rules::Rule* worst_rule = nullptr;  ///< the deciding finding behind the outcome; null when all is within
    double cold_voc_v = 0.0;
    double cold_margin_v = 0.0;  ///< to the input's absolute maximum
    LevelPowers level_power_w{};
    double free_european_w = 0.0;  ///< its panels one by one
};

/// One way to use the panels on hand: at most one candidate per input.
struct RankedPlan {
    std::vector<std::size_t> candidates;  ///< indices, rising by input
    rules::Outcome outcome = rules::Outcome::undecided;
    bool proven = false;
    Harvest harvest;
    double lost_ratio = 0.0;  ///< of what its panels could give one by one, not taken
    int panels_used = 0;
    int strings = 0;
    double cold_margin_v = 0.0;  ///< the smallest of its inputs
};

struct Arrangement {
    std::vector<Candidate> candidates;
    std::vector<RankedPlan> plans;  ///< usable ones by harvest, then those that fall short, then those that exceed
    bool thinned =
        false;  ///< too many combinations: of each input only the best wiring per number of panels was combined
};

/// Every wiring of up to the panels on hand over the inputs, one kind in equal strings per input.
[[nodiscard]] Arrangement arrange(const Bench& bench);

/// The plan with every place written out.
[[nodiscard]] ArrayPlan written_out(const Arrangement& arrangement, const RankedPlan& plan, std::size_t inputs);

}  // namespace plait::study
