#include <plait/physics/single_diode.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {

PowerPoint DiodeCurve::power_crossing(double power_w, PowerPoint left, PowerPoint right) const {
    // In the junction voltage u, V·I is explicit. Halley's step from the end that lies below the wanted power; a
    // bracket guards the rest.
    constexpr int most_steps = 100;
    constexpr double last_step = 1e-5;  // of the lengths over which V·I bends: what is left is of its third power
    const double a = ideality_v;
    const double rs = series_resistance_ohm;
    const bool falling = right.power_w() < left.power_w();
    double low = left.voltage_v + rs * left.current_a;
    double high = right.voltage_v + rs * right.current_a;
    double u = falling ? high : low;
    double last_change = high - low;
    for (int step = 0; step < most_steps; ++step) {
        const double diode = saturation_current_a * std::exp(std::min(u / a, 700.0));
        const double g = diode / a + shunt_conductance_s;
        const double current = light_current_a + (saturation_current_a - diode) - shunt_conductance_s * u;
        const double f = (u - rs * current) * current - power_w;
        const double f1 = current + 2.0 * rs * g * current - u * g;
        const double f2 = (2.0 * rs * current - u) * diode / (a * a) - 2.0 * g * (1.0 + rs * g);
        ((f < 0.0) == falling ? high : low) = u;
        double next = u - 2.0 * f * f1 / (2.0 * f1 * f1 - f * f2);
        const bool slow = std::abs(next - u) > std::max(last_step * a, 0.5 * last_change);
        if (slow || !(next >= low && next <= high)) next = 0.5 * (low + high);
        const double change = std::abs(next - u);
        last_change = change;
        u = next;
        if (change <= last_step * a && change * std::abs(f2) <= last_step * std::abs(f1)) break;
    }
    const double diode = saturation_current_a * std::exp(std::min(u / a, 700.0));
    const double current = light_current_a + (saturation_current_a - diode) - shunt_conductance_s * u;
    return {u - rs * current, current};
}

}  // namespace plait::physics
