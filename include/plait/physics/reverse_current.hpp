// Strings in parallel share one voltage. At open circuit it lies between their own open-circuit voltages, and the
// stronger drive current back through the weaker. In operation the voltage is lower and every string carries more, so
// no string is driven back harder than at open circuit.
#pragma once

#include <plait/base/interval.hpp>
#include <plait/physics/array_curve.hpp>

#include <cstddef>
#include <span>
#include <vector>

namespace plait::physics {

/// What each string of the wiring carries at a terminal voltage, A, in the wiring's order; negative: backwards. 0 for a
/// string without panels.
[[nodiscard]] std::vector<double> string_currents_a(const ArrayCurve& array, double voltage_v);

/// How far a string may lie off its curve, as ratios ≥ 0.
struct StringTolerance {
    double voltage_ratio = 0.0;
    double current_ratio = 0.0;  ///< of its short-circuit current
    [[nodiscard]] friend bool operator==(const StringTolerance&, const StringTolerance&) = default;
};

/// What a string carries, A, off its curve by so much of its tolerance: 1 at the strong end, −1 at the weak end. Voltages
/// stretch by it, currents shift. `string` is the curve of one string that has panels, `short_circuit_a` its current at 0 V.
[[nodiscard]] double current_at_tolerance_a(const ArrayCurve& string, const StringTolerance& tolerance,
                                            double of_tolerance_ratio, double short_circuit_a, double voltage_v);

/// The least and the greatest current driven back through each string at open circuit, A ≥ 0: the string at one end of
/// its tolerance, all others at the other. Voltages stretch by the tolerance, currents shift by it; the two are taken
/// together, which is cautious. One tolerance a string, in the wiring's order as the answer is; 0 for a string without
/// panels. Strings that are alike are worked out once.
[[nodiscard]] std::vector<Interval> reverse_spreads_a(const ArrayCurve& array, std::span<const StringTolerance> tolerances);

}  // namespace plait::physics
