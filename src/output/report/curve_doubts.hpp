// What a panel's curve does not meet of its datasheet, in words.
#pragma once

#include <plait/model/setup.hpp>
#include <plait/physics/datasheet_fit.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// A sentence for each figure the curve misses by more than one percent: at test conditions, or, for the coefficients,
/// 50 K away from them. Most panels have none.
[[nodiscard]] std::vector<std::string> curve_doubts(const Panel& panel, const physics::FittedPanel& fit);

/// The set-up's doubts with those about the curve of each kind.
[[nodiscard]] std::vector<std::string> all_doubts(const Setup& setup, const std::vector<physics::FittedPanel>& curves);

}  // namespace plait::output
