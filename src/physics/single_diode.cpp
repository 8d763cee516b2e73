#include <plait/physics/single_diode.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::physics {
namespace {

constexpr double largest_exponent = 700.0;  // exp(709.8) is the last that fits a double

double bounded_exp(double x) { return std::exp(std::min(x, largest_exponent)); }

// Newton on a convex increasing function from the right of its root: every step stays on the right. The error after
// a step of size s is about s²/2a, so a step below 1e-8·a is the last one needed.
constexpr double last_step = 1e-8;
constexpr int most_steps = 100;

/// u with I0·expm1(u/a) + g·u + r·I0·... = s: solves  linear·u + saturation·exp(u/a) = target, all ≥ 0, linear + saturation > 0.
double junction_root(double linear, double saturation, double target, double a) {
    double u = std::numeric_limits<double>::infinity();
    if (linear > 0.0) u = target / linear;  // the exponential only lowers u
    if (saturation > 0.0 && target > saturation) {
        u = std::min(u, a * std::log(target / saturation));  // for u ≥ 0 the linear term only lowers u
    } else if (saturation > 0.0 && linear > 0.0) {
        u = std::min(u, 0.0);
    } else if (saturation > 0.0) {
        return target > 0.0 ? a * std::log(target / saturation) : -std::numeric_limits<double>::infinity();
    }
    for (int step = 0; step < most_steps; ++step) {
        const double e = saturation * bounded_exp(u / a);
        const double change = (linear * u + e - target) / (linear + e / a);
        u -= change;
        if (std::abs(change) <= last_step * a) break;
    }
    return u;
}

double junction_at_voltage(const DiodeCurve& c, double voltage_v) {
    const double rs = c.series_resistance_ohm;
    if (rs <= 0.0) return voltage_v;
    // V = u − Rs·I(u)
    return junction_root(1.0 + rs * c.shunt_conductance_s, rs * c.saturation_current_a,
                         voltage_v + rs * (c.light_current_a + c.saturation_current_a), c.ideality_v);
}

double current_at_junction(const DiodeCurve& c, double u) {
    return c.light_current_a - c.saturation_current_a * std::expm1(std::min(u / c.ideality_v, largest_exponent)) -
           c.shunt_conductance_s * u;
}

}  // namespace

double DiodeCurve::current_a(double voltage_v) const {
    return current_at_junction(*this, junction_at_voltage(*this, voltage_v));
}

double DiodeCurve::voltage_v(double current_a) const {
    const double u = junction_root(shunt_conductance_s, saturation_current_a,
                                   light_current_a - current_a + saturation_current_a, ideality_v);
    return u - current_a * series_resistance_ohm;
}

double DiodeCurve::slope_s(double voltage_v) const {
    const double u = junction_at_voltage(*this, voltage_v);
    const double g = saturation_current_a / ideality_v * bounded_exp(u / ideality_v) + shunt_conductance_s;
    return -g / (1.0 + series_resistance_ohm * g);
}

PowerPoint DiodeCurve::maximum_power() const {
    if (!(light_current_a > 0.0)) return {};
    const double a = ideality_v;
    const double rs = series_resistance_ohm;
    // dP/du = I·(1 + 2·Rs·g) − u·g with g = −dI/du. It is zero where I·(1/g + 2·Rs) = u; the left side falls with u
    // while I > 0, so there is one zero between u = 0 and open circuit. Newton, held inside a bracket.
    const double span = std::log1p(light_current_a / saturation_current_a);
    double low = 0.0;
    double high = a * span;
    double u = a * (span - std::log1p(span));  // exact for Rs = G = 0 but for a term of second order
    for (int step = 0; step < most_steps; ++step) {
        const double diode = saturation_current_a * std::exp(u / a);
        const double g_diode = diode / a;
        const double g = g_diode + shunt_conductance_s;
        const double current = light_current_a + saturation_current_a - diode - shunt_conductance_s * u;
        const double steep = 1.0 + 2.0 * rs * g;
        const double f = current * steep - u * g;
        (f > 0.0 ? low : high) = u;
        const double slope = -g * (steep + 1.0) + (2.0 * rs * current - u) * g_diode / a;
        double next = u - f / slope;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        const double change = next - u;
        u = next;
        if (std::abs(change) <= last_step * a) break;
    }
    const double current = current_at_junction(*this, u);
    return {u - rs * current, current};
}

double DiodeCurve::power_crossing_v(double power_w, double low_v, double high_v) const {
    const double a = ideality_v;
    const double rs = series_resistance_ohm;
    double low = junction_at_voltage(*this, low_v);
    double high = junction_at_voltage(*this, high_v);
    const double power_at_high_w = high_v * current_at_junction(*this, high);
    const bool falling = power_at_high_w < power_w;
    // The power is concave but for the deepest shunts, so Newton from the end that lies below it stays on that side.
    double u = falling ? high : low;
    for (int step = 0; step < most_steps; ++step) {
        const double diode = saturation_current_a * bounded_exp(u / a);
        const double g = diode / a + shunt_conductance_s;
        const double current = light_current_a + saturation_current_a - diode - shunt_conductance_s * u;
        const double excess_w = (u - rs * current) * current - power_w;
        ((excess_w < 0.0) == falling ? high : low) = u;
        double next = u - excess_w / (current + 2.0 * rs * g * current - u * g);
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        const double change = next - u;
        u = next;
        if (std::abs(change) <= last_step * a) break;
    }
    return u - rs * current_at_junction(*this, u);
}

DiodeCurve DiodeCurve::scaled(int in_series, int in_parallel) const {
    const double s = in_series;
    const double p = in_parallel;
    return {light_current_a * p, saturation_current_a * p, ideality_v * s, series_resistance_ohm * s / p,
            shunt_conductance_s * p / s};
}

}  // namespace plait::physics
