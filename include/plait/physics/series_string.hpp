// Groups in series: the same current through all, the voltages add.
#pragma once

#include <plait/physics/group_curve.hpp>

#include <span>

namespace plait::physics {

/// `count` equal groups of a string. They need not be neighbours: the order in a string changes nothing.
struct SeriesPart {
    GroupCurve curve;
    double count = 1.0;
};

/// The string's voltage at a current, falling; `points` (one a part) get the states of the groups.
double voltage_at_current(std::span<const SeriesPart> parts, double current_a, std::span<GroupPoint> points);

/// The string's current at a voltage, falling; good to about 1e-13 of the light current. `points` hold any state of the
/// groups at the call, the nearer the better, and the true one at return.
double current_at_voltage(std::span<const SeriesPart> parts, double voltage_v, std::span<GroupPoint> points);

/// The same, with a state of its own to begin from.
double current_from_scratch(std::span<const SeriesPart> parts, double voltage_v, std::span<GroupPoint> points);

/// The same by bisection: slow, and sure. `current_at_voltage` falls back on it.
double current_by_bisection(std::span<const SeriesPart> parts, double voltage_v, std::span<GroupPoint> points);

}  // namespace plait::physics
