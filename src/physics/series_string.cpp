// Current of a string at a voltage. Unknown are the junction voltages of all groups and the current I common to them:
//
//     I_g(u_g) = I for every group,     Σ n_g·V_g(u_g) = V
//
// Newton on all of them at once: linearised, group g moves by (I_g − I)/s_g volts, s_g its conductance, and the sum
// fixes I. An exponential makes Newton overshoot from its flat side, so steps are cut to what the diode equation allows
// at the new current, as circuit simulators do. That converges in practice, not by proof: bisection on I stands behind.
#include <plait/physics/series_string.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace plait::physics {
namespace {

constexpr double last_step = 1e-7;  // of the length over which a curve bends: the error left is of second order
constexpr int most_steps = 60;
constexpr double rounding = 4e-15;
constexpr double least_conductance_s = 1e-280;  // an exponential that has underflowed

double linear_sum(std::span<const SeriesPart> parts, std::span<const GroupPoint> points) {
    double sum_v = 0.0;
    for (std::size_t i = 0; i < parts.size(); ++i) sum_v += parts[i].count * points[i].voltage_v;
    return sum_v;
}

/// The junction voltage to try next, for a linear step to the string current `current_a`; of a group facing forward.
double limited_forward_v(const GroupCurve& curve, const GroupPoint& p, double junction_step_v, double voltage_step_v,
                         double current_a) {
    const DiodeCurve& cells = curve.cells();
    const double a = cells.ideality_v;
    const ExponentialDiode& bypass = curve.bypass();
    if (bypass.present() && std::abs(voltage_step_v) > bypass.slope_v) {
        const double surplus_a = current_a - curve.short_circuit_a();
        double next_v = p.voltage_v + voltage_step_v;
        const bool leaves = p.voltage_v < 0.0 && voltage_step_v > 0.0;
        if (leaves || (voltage_step_v < 0.0 && next_v < 0.0)) {
            // Where the diode takes all of the surplus; the voltage is no lower than that.
            const double floor_v = surplus_a > 0.0 ? -bypass.forward_v(surplus_a) : 0.0;
            next_v = leaves ? std::max(next_v, floor_v) : std::max(next_v, std::min(floor_v, p.voltage_v));
            if (next_v <= 0.0) return next_v + cells.series_resistance_ohm * curve.short_circuit_a();
        }
    }
    if (junction_step_v > a) {
        const double junction_a = cells.light_current_a + cells.saturation_current_a - current_a;
        const double ceiling_v = junction_a > cells.saturation_current_a && cells.saturation_current_a > 0.0
                                     ? a * std::log(junction_a / cells.saturation_current_a)
                                     : 0.0;
        if (cells.saturation_current_a > 0.0) {
            return std::min(p.junction_v + junction_step_v, std::max(p.junction_v + a, ceiling_v));
        }
    }
    return p.junction_v + junction_step_v;
}

double limited_junction_v(const GroupCurve& curve, const GroupPoint& p, double junction_step_v, double voltage_step_v,
                          double current_a) {
    if (!curve.faces_backward()) return limited_forward_v(curve, p, junction_step_v, voltage_step_v, current_a);
    return -limited_forward_v(curve.turned(), GroupCurve::mirrored(p), -junction_step_v, -voltage_step_v, -current_a);
}

}  // namespace

double voltage_at_current(std::span<const SeriesPart> parts, double current_a, std::span<GroupPoint> points) {
    for (std::size_t i = 0; i < parts.size(); ++i) points[i] = parts[i].curve.at_current(current_a);
    return linear_sum(parts, points);
}

double current_at_voltage(std::span<const SeriesPart> parts, double voltage_v, std::span<GroupPoint> points) {
    for (int step = 0; step < most_steps; ++step) {
        // Everything relative to the stiffest group: its current is the best known, and a difference of two nearly
        // equal currents over a tiny conductance would be all noise.
        double resistance_ohm = 0.0;
        std::size_t pivot = 0;
        double pivot_ohm = -1.0;
        double excess_v = -voltage_v;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const double ohm = parts[i].count / std::max(points[i].conductance_s(), least_conductance_s);
            resistance_ohm += ohm;
            excess_v += parts[i].count * points[i].voltage_v;
            if (ohm > pivot_ohm) {
                pivot_ohm = ohm;
                pivot = i;
            }
        }
        const double pivot_a = points[pivot].current_a;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (i == pivot) continue;
            excess_v += parts[i].count * (points[i].current_a - pivot_a) /
                        std::max(points[i].conductance_s(), least_conductance_s);
        }
        const double change_a = excess_v / resistance_ohm;
        const double current_a = pivot_a + change_a;

        bool settled = true;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            GroupPoint& p = points[i];
            const GroupCurve& curve = parts[i].curve;
            const double s = std::max(p.conductance_s(), least_conductance_s);
            const double surplus_a = i == pivot ? -change_a : p.current_a - pivot_a - change_a;
            const double voltage_step_v =
                i == pivot ? -excess_v * (pivot_ohm / resistance_ohm) / parts[i].count : surplus_a / s;
            const double junction_step_v = voltage_step_v / curve.voltage_per_junction(p);
            if (std::abs(junction_step_v) <= last_step * curve.bend_v(p.voltage_v)) {
                curve.nudge(p, junction_step_v);
                p.current_a -= s * voltage_step_v;
                continue;
            }
            const double scale_a = std::max(curve.cells().light_current_a, std::abs(current_a));
            if (i != pivot && std::abs(surplus_a) <= rounding * scale_a) continue;
            settled = false;
            p = curve.at_junction(limited_junction_v(curve, p, junction_step_v, voltage_step_v, current_a));
        }
        if (settled) {
            for (GroupPoint& p : points) p.current_a = current_a;
            return current_a;
        }
    }
    return current_by_bisection(parts, voltage_v, points);
}

double current_from_scratch(std::span<const SeriesPart> parts, double voltage_v, std::span<GroupPoint> points) {
    double weakest_a = std::numeric_limits<double>::infinity();
    for (const SeriesPart& part : parts) {
        if (part.curve.cells().saturation_current_a > 0.0 && !part.curve.faces_backward())
            weakest_a = std::min(weakest_a, part.curve.short_circuit_a());
    }
    // In the dark, above open circuit, and where every group faces backward, any small current is as good a start.
    voltage_at_current(parts, std::isfinite(weakest_a) ? 0.9 * weakest_a : 0.0, points);
    return current_at_voltage(parts, voltage_v, points);
}

double current_by_bisection(std::span<const SeriesPart> parts, double voltage_v, std::span<GroupPoint> points) {
    double high_a = 0.0;
    for (const SeriesPart& part : parts) high_a = std::max(high_a, part.curve.short_circuit_a());
    double low_a = 0.0;
    for (double step = high_a + 1.0; voltage_at_current(parts, high_a, points) > voltage_v; step *= 2.0) high_a += step;
    for (double step = high_a + 1.0; voltage_at_current(parts, low_a, points) < voltage_v; step *= 2.0) low_a -= step;
    while (true) {
        const double middle_a = low_a + 0.5 * (high_a - low_a);
        if (!(middle_a > low_a && middle_a < high_a)) break;
        (voltage_at_current(parts, middle_a, points) > voltage_v ? low_a : high_a) = middle_a;
    }
    // Between two neighbouring numbers for I a stiff group may still cross volts: divide them by the sum.
    std::vector<GroupPoint> beside(points.size());
    const double low_v = voltage_at_current(parts, low_a, points);
    const double high_v = voltage_at_current(parts, high_a, beside);
    const double share = low_v > high_v ? std::clamp((low_v - voltage_v) / (low_v - high_v), 0.0, 1.0) : 0.0;
    const double current_a = low_a + share * (high_a - low_a);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        points[i] =
            parts[i].curve.at_junction(points[i].junction_v + share * (beside[i].junction_v - points[i].junction_v));
        points[i].current_a = current_a;
    }
    return current_a;
}

}  // namespace plait::physics
