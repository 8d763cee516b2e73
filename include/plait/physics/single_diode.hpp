// One single-diode curve, at one irradiance and temperature:
//
//     I = IL − I0·(exp(u/a) − 1) − G·u        u = V + I·Rs   (the junction voltage)
//
// Everything is explicit in u (Bishop, Solar Cells 25, 1988); only "which u" ever needs a root, and every such root
// is of a convex increasing function, so Newton from the right of it cannot miss.
#pragma once

#include <optional>

namespace plait::physics {

struct PowerPoint {
    double voltage_v = 0.0;
    double current_a = 0.0;
    [[nodiscard]] double power_w() const { return voltage_v * current_a; }
};

/// The five numbers of one curve. light ≥ 0, saturation > 0, a > 0, Rs ≥ 0, G ≥ 0.
/// An array of ns × np equal panels has such a curve again: see `scaled`.
struct DiodeCurve {
    double light_current_a = 0.0;
    double saturation_current_a = 0.0;
    double ideality_v = 0.0;  ///< a = n·N·kT/q
    double series_resistance_ohm = 0.0;
    double shunt_conductance_s = 0.0;

    /// I at a terminal voltage; any finite voltage, falling in V. Finite: exponents stop at 700.
    [[nodiscard]] double current_a(double voltage_v) const;
    /// V at a current; falling in I. −infinity where no voltage carries that much (no shunt, current above light).
    [[nodiscard]] double voltage_v(double current_a) const;
    [[nodiscard]] double open_circuit_v() const { return voltage_v(0.0); }
    [[nodiscard]] double short_circuit_a() const { return current_a(0.0); }
    /// The maximum of V·I, good to about 1e-12. Zero for a dark curve.
    [[nodiscard]] PowerPoint maximum_power() const;
    /// The point between two others, `left` at the lower voltage, at which V·I is `power_w`; the power must be monotone
    /// there and pass it.
    [[nodiscard]] PowerPoint power_crossing(double power_w, PowerPoint left, PowerPoint right) const;
    /// dI/dV at a terminal voltage, ≤ 0.
    [[nodiscard]] double slope_s(double voltage_v) const;
    /// The curve of `in_series` × `in_parallel` such panels, exactly.
    [[nodiscard]] DiodeCurve scaled(int in_series, int in_parallel) const;
};

}  // namespace plait::physics
