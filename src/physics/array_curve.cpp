#include "point_buffer.hpp"

#include <plait/physics/array_curve.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::physics {
namespace {

constexpr double last_step = 1e-8;
constexpr int most_steps = 200;
constexpr double least_conductance_s = 1e-90;  // its third power is still a number

struct ValueAndSlope {
    double value = 0.0;
    double slope = 0.0;
};

struct Bracket {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    void include(double x) {
        low = std::min(low, x);
        high = std::max(high, x);
    }
};

/// The root of a falling (or, `rising`, a rising) function between low and high, by Newton inside the bracket. `scale`
/// is the length over which it bends.
template <class F>
double bracketed_root(F f, double low, double high, double start, bool rising, double scale) {
    double x = std::clamp(start, low, high);
    double last_change = high - low;
    for (int step = 0; step < most_steps; ++step) {
        const ValueAndSlope at = f(x);
        ((at.value > 0.0) == rising ? high : low) = x;
        double next = x - at.value / at.slope;
        // From far up an exponential Newton comes down by one bend a step; halving is faster.
        const bool slow = std::abs(next - x) > std::max(last_step * scale, 0.5 * std::abs(last_change));
        if (slow || !(next >= low && next <= high)) next = 0.5 * (low + high);
        const double change = next - x;
        last_change = change;
        x = next;
        if (std::abs(change) <= last_step * scale || low >= high) break;
    }
    return x;
}

/// The least voltage over which the array's curve bends.
double bend_of(const ArrayCurve& array) {
    double scale = 1.0;
    for (const SeriesPart& part : array.parts()) scale = std::min(scale, part.curve.bend_v(0.0));
    return scale;
}

}  // namespace

double ArrayCurve::solve_at_joint(double voltage_v, std::span<GroupPoint> points, bool from_scratch) const {
    double current_a = 0.0;
    for (const Branch& branch : branches_) {
        const std::span<const SeriesPart> parts = parts_of(branch);
        const std::span<GroupPoint> own = points.subspan(branch.first, branch.size);
        double string_a = 0.0;
        if (parts.size() == 1) {
            own.front() = parts.front().curve.at_voltage(voltage_v / parts.front().count);
            string_a = own.front().current_a;
        } else {
            string_a =
                from_scratch ? current_from_scratch(parts, voltage_v, own) : current_at_voltage(parts, voltage_v, own);
        }
        current_a += branch.count * string_a;
    }
    return current_a;
}

Conductance conductance_at_joint(const ArrayCurve& array, std::span<const GroupPoint> points) {
    Conductance sum;
    for (const ArrayCurve::Branch& branch : array.branches()) {
        // In series resistances add: r = Σ n/s, dr/dI = Σ n·s'/s³ with s' = ds/dV of the group; then s = 1/r and
        // ds/dV = (dr/dI)/r³.
        double ohm = 0.0;
        double ohm_per_a = 0.0;
        for (std::size_t i = branch.first; i < branch.first + branch.size; ++i) {
            const SeriesPart& part = array.parts()[i];
            const GroupPoint& p = points[i];
            const double per_v = part.curve.conductance_per_v(p);
            const double r = 1.0 / std::max(p.conductance_s(), least_conductance_s);
            ohm += part.count * r;
            ohm_per_a += part.count * per_v * r * r * r;
        }
        sum.s += branch.count / ohm;
        sum.per_v += branch.count * ohm_per_a / (ohm * ohm * ohm);
    }
    return sum;
}

// −dI/dV at the terminals. Behind a resistance R with V' = V − R·I: dV'/dV = 1 + R·s, so s' = s/(1 + R·s).
static double conductance_s(const ArrayCurve& array, std::span<const GroupPoint> points) {
    const double joint_s = conductance_at_joint(array, points).s;
    return joint_s / (1.0 + array.trunk_ohm() * joint_s);
}

double ArrayCurve::solve(double voltage_v, std::span<GroupPoint> points, bool from_scratch) const {
    const double without_drop_a = solve_at_joint(voltage_v, points, from_scratch);
    if (!(trunk_ohm_ > 0.0)) return without_drop_a;
    // V − R·I(V) rises with V, by at least one volt a volt; the current at a lower voltage than the joint's is too
    // large. Above open circuit the array takes current at the joint too, so that lies above open circuit as well.
    double end_v = voltage_v + trunk_ohm_ * without_drop_a;
    if (without_drop_a < 0.0) end_v = std::max(end_v, std::min(open_circuit_v(), voltage_v));
    const auto excess = [&](double joint_v) {
        const double a = solve_at_joint(joint_v, points, false);
        return ValueAndSlope{joint_v - trunk_ohm_ * a - voltage_v,
                             1.0 + trunk_ohm_ * conductance_at_joint(*this, points).s};
    };
    const double joint_v =
        bracketed_root(excess, std::min(voltage_v, end_v), std::max(voltage_v, end_v), end_v, true, bend_of(*this));
    return solve_at_joint(joint_v, points, false);
}

double ArrayCurve::current_a(double voltage_v) const {
    PointBuffer buffer(parts_.size());
    return solve(voltage_v, buffer.all(), true);
}

double ArrayCurve::slope_s(double voltage_v) const {
    PointBuffer buffer(parts_.size());
    solve(voltage_v, buffer.all(), true);
    return -conductance_s(*this, buffer.all());
}

double ArrayCurve::voltage_v(double current_a) const {
    if (branches_.empty()) return 0.0;
    PointBuffer buffer(parts_.size());
    const std::span<GroupPoint> points = buffer.all();
    const double drop_v = trunk_ohm_ * current_a;
    if (branches_.size() == 1) return voltage_at_current(parts_, current_a / branches_.front().count, points) - drop_v;
    double strings = 0.0;
    for (const Branch& branch : branches_) strings += branch.count;
    // Two brackets. If every string carried an equal share, each would want a voltage of its own: the true one lies
    // between them. And if a string carried all of it, the others nothing or less, the voltage would lie beyond.
    Bracket share;
    Bracket alone;
    Bracket open;
    for (const Branch& branch : branches_) {
        const auto at = [&](double a) {
            return voltage_at_current(parts_of(branch), a, points.subspan(branch.first, branch.size));
        };
        share.include(at(current_a / strings));
        alone.include(at(current_a / branch.count));
        open.include(at(0.0));
    }
    const double low_v = std::max(share.low, std::min(alone.high, open.low));
    const double high_v = std::min(share.high, std::max(alone.low, open.high));
    if (!(low_v < high_v)) return low_v - drop_v;
    const auto surplus = [&](double v) {
        const double a = solve_at_joint(v, points, false);
        return ValueAndSlope{a - current_a, -conductance_at_joint(*this, points).s};
    };
    return bracketed_root(surplus, low_v, high_v, 0.5 * (low_v + high_v), false, bend_of(*this)) - drop_v;
}

PowerPoint ArrayCurve::power_crossing(double power_w, PowerPoint left, PowerPoint right) const {
    PointBuffer buffer(parts_.size());
    const std::span<GroupPoint> points = buffer.all();
    bool from_scratch = true;
    const auto excess = [&](double v) {
        const double a = solve(v, points, from_scratch);
        from_scratch = false;
        return ValueAndSlope{v * a - power_w, a - v * conductance_s(*this, points)};
    };
    const bool rising = left.power_w() < right.power_w();
    const double v = bracketed_root(excess, left.voltage_v, right.voltage_v, rising ? left.voltage_v : right.voltage_v,
                                    rising, bend_of(*this));
    return {v, solve(v, points, false)};
}

}  // namespace plait::physics
