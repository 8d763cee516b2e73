// A group that is shaded in part, or faces backward, as a member of a string. Its natural unknown is its own voltage:
// the rows of cells and the bypass diode all share that.
#include <plait/physics/group_curve.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

constexpr int most_steps = 200;
constexpr double last_step = 1e-9;      // of the length over which the curve bends: what is left is of its square
constexpr double no_voltage_v = -1e6;   // a current that no voltage drives is said to want this one
constexpr double rounding = 4e-16;

/// What stands in for the cells where a solver makes a guess: above the true curve, and as wide.
DiodeCurve stand_in(const PartShade& shade) {
    DiodeCurve sum;
    for (const CellRow& row : shade.rows()) {
        const DiodeCurve& lit = row.lit_cells();
        sum.light_current_a += lit.light_current_a;
        sum.saturation_current_a += lit.saturation_current_a;
        const double row_v = lit.ideality_v + (row.shaded() ? row.shaded_cells().ideality_v : 0.0);
        sum.ideality_v = std::max(sum.ideality_v, row_v);
    }
    return sum;
}

}  // namespace

GroupCurve::GroupCurve(PartShade shade, const ExponentialDiode& bypass)
    : GroupCurve(stand_in(shade), bypass) {
    shade_ = std::make_shared<const PartShade>(std::move(shade));
    plain_ = false;
    short_circuit_a_ = shaded_at_voltage(0.0).current_a;
}

GroupPoint GroupCurve::other_at_junction(double junction_v) const {
    if (shade_) return other_at_voltage(junction_v);
    return mirrored(own_at_junction(-junction_v));
}

GroupPoint GroupCurve::other_at_voltage(double voltage_v) const {
    const double own_v = backward_ ? -voltage_v : voltage_v;
    const GroupPoint own = shade_ ? shaded_at_voltage(own_v) : own_at_voltage(own_v);
    return backward_ ? mirrored(own) : own;
}

GroupPoint GroupCurve::other_at_current(double current_a) const {
    const double own_a = backward_ ? -current_a : current_a;
    const GroupPoint own = shade_ ? shaded_at_current(own_a) : own_at_current(own_a);
    return backward_ ? mirrored(own) : own;
}

GroupPoint GroupCurve::shaded_at_voltage(double voltage_v) const {
    const PartShade::Point cells = shade_->at_voltage(voltage_v);
    GroupPoint p;
    p.junction_v = p.voltage_v = voltage_v;
    p.cells_s = cells.bending.s;
    p.junction_s = cells.bending.s_per_v * cells_.ideality_v;
    p.current_a = cells.current_a;
    if (bypass_.present()) {
        const double bypass_a = bypass_.current_a(-voltage_v);
        p.bypass_s = (bypass_a + bypass_.saturation_current_a) * per_bypass_slope_v_;
        p.current_a += bypass_a;
    }
    return p;
}

GroupPoint GroupCurve::shaded_at_current(double current_a) const {
    double low = 0.0;
    double high = 0.0;
    double v = 0.0;
    if (current_a > short_circuit_a_ && bypass_.present()) {
        // The diode alone would take the surplus there.
        v = low = -bypass_.forward_v(current_a - short_circuit_a_);
    } else if (current_a > short_circuit_a_) {
        for (low = -1.0; shaded_at_voltage(low).current_a < current_a; low *= 2.0) {
            high = low;
            if (low > no_voltage_v) continue;
            GroupPoint p = shaded_at_voltage(no_voltage_v);
            p.current_a = current_a;
            return p;
        }
        v = 0.5 * (low + high);
    } else {
        high = shade_->open_circuit_v();
        for (double step = high + 1.0; current_a < 0.0 && shaded_at_voltage(high).current_a > current_a; step *= 2.0) {
            low = high;
            high += step;
        }
        v = high;
    }
    const double bend_v = own_bend_v(low);
    const double noise_a = rounding * std::max(cells_.light_current_a, std::abs(current_a));
    double last_change_v = 2.0 * (high - low);
    GroupPoint p = shaded_at_voltage(v);
    for (int step = 0; step < most_steps; ++step) {
        const double surplus_a = p.current_a - current_a;
        if (std::abs(surplus_a) <= noise_a) break;
        (surplus_a > 0.0 ? low : high) = v;
        double next = v + surplus_a / p.conductance_s();
        const bool slow = std::abs(next - v) > std::max(last_step * bend_v, 0.5 * std::abs(last_change_v));
        if (slow || !(next >= low && next <= high)) next = 0.5 * (low + high);
        last_change_v = next - v;
        const bool last = std::abs(last_change_v) <= last_step * bend_v || !(low < high);
        v = next;
        p = shaded_at_voltage(v);
        if (last) break;
    }
    p.current_a = current_a;
    return p;
}

BendingBounds GroupCurve::shade_bounds(const GroupPoint& low, const GroupPoint& high) const {
    const double low_v = backward_ ? -low.voltage_v : low.voltage_v;
    const double high_v = backward_ ? -high.voltage_v : high.voltage_v;
    BendingBounds b = shade_->bounds(low_v, high_v);
    // What the bypass diode adds falls with V.
    b.low.s += high.bypass_s;
    b.high.s += low.bypass_s;
    b.low.s_per_v -= low.bypass_s * per_bypass_slope_v_;
    b.high.s_per_v -= high.bypass_s * per_bypass_slope_v_;
    return b;
}

}  // namespace plait::physics
