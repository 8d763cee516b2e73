#include <plait/physics/single_diode.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::physics {
namespace {

constexpr double largest_exponent = 700.0;  // exp(709.8) is the last that fits a double
constexpr int most_steps = 100;

/// Where the junction stands: its voltage u and the term I0·exp(u/a).
struct Junction {
    double u_v;
    double diode_a;
};

/// w with w + ln w = x, to a few rounding errors (the Wright omega function). Lambert's W of exp(x), without the exp
/// that overflows. The iteration is that of Fritsch, Shafer & Crowley, Comm. ACM 16 (1973): fourth order, so after
/// a relative correction below 1e-4 nothing is left to correct.
double wright_omega(double x) {
    if (x < -37.0) return std::exp(x);  // w·(1 + w) = w in double
    double w = x > 1.0 ? x - std::log(x) * (1.0 - 1.0 / x) : std::exp(x < -1.5 ? x : (2.0 / 3.0) * (x - 1.0));
    for (int step = 0; step < most_steps; ++step) {
        const double r = x - w - std::log(w);
        const double s = 1.0 + w;
        const double t = 2.0 * s * (s + (2.0 / 3.0) * r);
        const double change = r / s * (t - r) / (t - 2.0 * r);
        w *= 1.0 + change;
        if (std::abs(change) < 1e-4) break;
    }
    return w;
}

Junction junction_at_voltage(const DiodeCurve& c, double voltage_v) {
    const double rs = c.series_resistance_ohm;
    const double a = c.ideality_v;
    if (rs <= 0.0) {
        return {voltage_v, c.saturation_current_a * std::exp(std::min(voltage_v / a, largest_exponent))};
    }
    // V = u − Rs·I(u) is  l·u + Rs·I0·exp(u/a) = target.  With w = Rs·I0·exp(u/a)/(l·a) that is w + ln w = x.
    const double l = 1.0 + rs * c.shunt_conductance_s;
    const double target = voltage_v + rs * (c.light_current_a + c.saturation_current_a);
    const double w = wright_omega(target / (l * a) + std::log(rs * c.saturation_current_a / (l * a)));
    const double drop_v = l * a * w;
    return {(target - drop_v) / l, drop_v / rs};
}

/// u at a current. f(u) = G·u + I0·exp(u/a) − target is convex and increasing: Newton from the right of its root stays
/// on the right. Within half an a of it Halley's step is third order, its error below (step/a)³/12.
/// (Not by Wright's function: its argument grows as 1/G, and the digits would go.)
double junction_at_current(const DiodeCurve& c, double current_a) {
    const double g = c.shunt_conductance_s;
    const double i0 = c.saturation_current_a;
    const double a = c.ideality_v;
    const double target = c.light_current_a - current_a + i0;
    if (g <= 0.0) return target > 0.0 ? a * std::log(target / i0) : -std::numeric_limits<double>::infinity();
    double u = target > i0 ? a * std::log(target / i0) : 0.0;  // for u > 0 the shunt only lowers u
    u = std::min(u, target / g);                               // and the diode only lowers this one
    for (int step = 0; step < most_steps; ++step) {
        const double diode = i0 * std::exp(u / a);
        const double slope = g + diode / a;
        double change = (g * u + diode - target) / slope;
        if (std::abs(change) < 0.5 * a) change /= 1.0 - 0.5 * change * diode / (a * a * slope);
        u -= change;
        if (std::abs(change) <= 1e-5 * a) break;
    }
    return u;
}

}  // namespace

double DiodeCurve::current_a(double voltage_v) const {
    const Junction j = junction_at_voltage(*this, voltage_v);
    return light_current_a + (saturation_current_a - j.diode_a) - shunt_conductance_s * j.u_v;
}

double DiodeCurve::voltage_v(double current_a) const {
    return junction_at_current(*this, current_a) - current_a * series_resistance_ohm;
}

double DiodeCurve::slope_s(double voltage_v) const {
    const double g = junction_at_voltage(*this, voltage_v).diode_a / ideality_v + shunt_conductance_s;
    return -g / (1.0 + series_resistance_ohm * g);
}

PowerPoint DiodeCurve::maximum_power() const {
    if (!(light_current_a > 0.0)) return {};
    // With x = u/a, D = I0·exp(x), Ga = a·G, ρ = Rs/a and  g = D + Ga = −dI/dx:
    //     dP/dx ~ f(x) = I·(1 + 2ρg) − x·g.
    // f = 0 is I·(1/g + 2ρ) = x; its left side falls with x while I > 0, so there is one zero between x = 0 and open
    // circuit. Halley's step (third order), held inside a bracket.
    const double i0 = saturation_current_a;
    const double shunt = ideality_v * shunt_conductance_s;
    const double rho = series_resistance_ohm / ideality_v;
    const double supply = light_current_a + i0;
    double low = 0.0;
    double high = light_current_a > i0 ? std::log(supply / i0) : std::log1p(light_current_a / i0);

    // First guess: exact for Rs = G = 0 but for a term of second order; then once through f = 0, which is a quadratic
    // in D wherever x stands outside the exponent.
    double x = high - std::log(1.0 + high);
    {
        const double k = supply - shunt * x;
        const double c = k * (1.0 + 2.0 * rho * shunt) - x * shunt;
        const double b = 1.0 + x + 2.0 * rho * (shunt - k);
        const double diode = 2.0 * c / (b + std::sqrt(b * b + 8.0 * rho * c));
        if (diode > i0 && diode < supply) x = std::log(diode / i0);
    }
    double current = 0.0;
    for (int step = 0; step < most_steps; ++step) {
        const double diode = i0 * std::exp(x);
        const double g = diode + shunt;
        current = supply - diode - shunt * x;
        const double f = current * (1.0 + 2.0 * rho * g) - x * g;
        (f > 0.0 ? low : high) = x;
        const double lean = 2.0 * rho * current - x;
        const double f1 = diode * lean - 2.0 * g * (1.0 + rho * g);
        const double f2 = diode * (lean - 3.0 - 6.0 * rho * g);
        double change = -2.0 * f * f1 / (2.0 * f1 * f1 - f * f2);
        if (std::abs(change) < 1e-5) {  // what is left is of the order of change³
            x += change;
            current -= change * (g + change * diode * (0.5 + change / 6.0));
            break;
        }
        if (!(x + change > low && x + change < high)) change = 0.5 * (low + high) - x;
        x += change;
    }
    return {x * ideality_v - series_resistance_ohm * current, current};
}

DiodeCurve DiodeCurve::scaled(int in_series, int in_parallel) const {
    const double s = in_series;
    const double p = in_parallel;
    return {light_current_a * p, saturation_current_a * p, ideality_v * s, series_resistance_ohm * s / p,
            shunt_conductance_s * p / s};
}

}  // namespace plait::physics
