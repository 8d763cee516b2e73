// How much an array can give anywhere between two voltages, at most: what a search over many wirings needs to leave out
// the hopeless ones without solving them.
//
// The bounds of power_extremes.hpp: between two solved voltages the power rises no faster, and falls no faster, than
// its slope's bounds allow, so it stays under two straight lines.
#pragma once

#include <plait/physics/array_curve.hpp>

#include <span>

namespace plait::physics {

/// The current at each of `nodes_v` (rising, ≥ 0) into `current_a`, as many; and for each pair of neighbours a power
/// that V·I does not exceed anywhere between them into `ceiling_w`, one less. Ceilings of several arrays in parallel
/// may be added. Below zero where the array only consumes.
void power_ceilings(const ArrayCurve& array, std::span<const double> nodes_v, std::span<double> current_a,
                    std::span<double> ceiling_w);

}  // namespace plait::physics
