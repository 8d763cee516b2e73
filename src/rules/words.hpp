// What the rules' sentences share.
#pragma once

#include <plait/rules/finding.hpp>
#include <plait/rules/number_words.hpp>

#include <fmt/core.h>

#include <string>

namespace plait::rules {

// How the two ends of a tolerance begin their advice: what the voltage would be there.
inline std::string at_top(const Finding& f) {
    return fmt::format("At the top of the Voc tolerance it would be {}", volts(f.spread.upper()));
}
inline std::string at_bottom(const Finding& f) {
    return fmt::format("At the bottom of the tolerance it would be {}", volts(f.spread.lower()));
}

}  // namespace plait::rules
