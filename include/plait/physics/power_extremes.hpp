// All local maxima and minima of an array's power V·I over a range of voltage.
//
// Not by sampling. Between two solved voltages every group's conductance is bounded by its values at the two
// (group_curve .hpp), so those of strings and array are too: dP/dV = I − V·S and d²P/dV² = −2·S − V·S' lie in known
// intervals. A piece where dP/dV keeps its sign has no extreme; one where d²P/dV² keeps its sign has at most one, and
// the signs of dP/dV at its ends say whether. Any other piece is halved, until what could hide in it is too shallow to
// matter.
#pragma once

#include <plait/physics/array_curve.hpp>

#include <cstddef>
#include <vector>

namespace plait::physics {

struct PowerExtreme {
    PowerPoint point;
    bool maximum = true;
    bool at_end = false;  ///< an end of the range, where the power would rise further outside it
};

struct PowerExtremes {
    /// By rising voltage, maxima and minima in turn, a maximum first and last. Never empty.
    std::vector<PowerExtreme> points;

    /// The global maximum; of two equal ones the one at the higher voltage.
    [[nodiscard]] const PowerExtreme& best() const;
    /// What a tracker that comes down from open circuit meets first. If it is not `best`, it may stay there.
    [[nodiscard]] const PowerExtreme& first_from_open_circuit() const { return points.back(); }
    [[nodiscard]] std::size_t maximum_count() const { return (points.size() + 1) / 2; }
};

/// No maximum that stands higher than this share of Voc·Isc above its neighbourhood is missed.
inline constexpr double least_prominence_ratio = 1e-9;

/// The extremes over low_v ≤ V ≤ high_v, with 0 ≤ low_v. Places are good to about 1e-11 V/V, powers to 1e-12.
[[nodiscard]] PowerExtremes power_extremes(const ArrayCurve& array, double low_v, double high_v);
/// The same from 0 to open circuit.
[[nodiscard]] PowerExtremes power_extremes(const ArrayCurve& array);

}  // namespace plait::physics
