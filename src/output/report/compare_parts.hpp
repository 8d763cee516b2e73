// What the forms of a comparison share.
#pragma once

#include <plait/output/compare.hpp>

#include <algorithm>
#include <string>

namespace plait::output {

/// The finding that decides a plan's verdict; null when all is within.
struct Decider {
    std::string input;  ///< empty for a rule about the inputs together
    const study::RuleVerdict* verdict = nullptr;
};
[[nodiscard]] Decider decider(const Setup& setup, const study::Judgement& judgement);

[[nodiscard]] inline bool any_prices(const search::Comparison& c) {
    return std::any_of(c.setups.begin(), c.setups.end(), [](const search::ComparedSetup& s) { return s.priced; });
}

}  // namespace plait::output
