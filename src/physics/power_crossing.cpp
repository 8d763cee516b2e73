#include <plait/physics/single_diode.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {

double DiodeCurve::power_crossing_v(double power_w, double low_v, double high_v) const {
    // In the junction voltage u, V·I is explicit; it is concave but for the deepest shunts, so Newton from the end
    // that lies below the wanted power stays on that side of the crossing. A bracket guards the rest.
    constexpr int most_steps = 100;
    const double a = ideality_v;
    const double rs = series_resistance_ohm;
    const double current_at_high_a = current_a(high_v);
    const bool falling = high_v * current_at_high_a < power_w;
    double low = low_v + rs * current_a(low_v);
    double high = high_v + rs * current_at_high_a;
    double u = falling ? high : low;
    for (int step = 0; step < most_steps; ++step) {
        const double diode = saturation_current_a * std::exp(std::min(u / a, 700.0));
        const double g = diode / a + shunt_conductance_s;
        const double current = light_current_a + (saturation_current_a - diode) - shunt_conductance_s * u;
        const double excess_w = (u - rs * current) * current - power_w;
        ((excess_w < 0.0) == falling ? high : low) = u;
        double next = u - excess_w / (current + 2.0 * rs * g * current - u * g);
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        const double change = next - u;
        u = next;
        // The error after a step of size s is about s²/2a.
        if (std::abs(change) <= 1e-8 * a) break;
    }
    const double diode = saturation_current_a * std::exp(std::min(u / a, 700.0));
    return u - rs * (light_current_a + (saturation_current_a - diode) - shunt_conductance_s * u);
}

}  // namespace plait::physics
