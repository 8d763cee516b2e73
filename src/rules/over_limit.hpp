// An array that could give more than the input takes is harmless only where the maker says so. Where the file states
// `over_current = "clips"` the sentence may promise that nothing breaks; anywhere else it asks.
#pragma once

#include <plait/rules/rule.hpp>

#include "words.hpp"

#include <algorithm>

namespace plait::rules {

inline bool maker_says_it_clips(const Situation& s) { return s.input().over_current == OverCurrent::only_clips; }

/// The same of every used input of the plan.
inline bool maker_says_all_clip(const Situation& s) {
    return std::all_of(s.plan.begin(), s.plan.end(), [&](const WiredInput& w) {
        return s.controller().inputs[w.input].over_current == OverCurrent::only_clips;
    });
}

/// Whether the maker allows an array above the power limit: he says that it clips, or how many watts may be connected.
inline bool maker_allows_more_watts(const Situation& s) {
    return maker_says_it_clips(s) || s.input().max_array_power_w.has_value();
}

/// What to ask about watts, where nobody has said that more of them do no harm.
inline std::string ask_for_watts(std::string_view limit) {
    return fmt::format(
        "Whether more panels than that harm it, the file does not say. Ask the maker how many watts of panels may be "
        "connected above {}, and write the answer as max_array_power or over_current.",
        limit);
}

}  // namespace plait::rules
