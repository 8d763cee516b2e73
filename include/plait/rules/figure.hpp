#pragma once

#include <plait/base/interval.hpp>
#include <plait/model/setup.hpp>
#include <plait/physics/datasheet_fit.hpp>

#include <span>

namespace plait::rules {

/// A figure of an array, with what the stated tolerances make of it.
struct Figure {
    double value = 0.0;
    Interval spread{0.0};
};

/// What an array's figures are worked out from: the set-up and the curve of each of its kinds, in their order. Rules,
/// reports and searches all ask the same functions with the same two.
struct StatedArray {
    const Setup& setup;
    std::span<const physics::FittedPanel> curves;
};

}  // namespace plait::rules
