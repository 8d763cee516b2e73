// The equation and its Halley step are those of DiodeCurve::maximum_power. Two steps from its first guess settle
// ordinary curves; here every curve takes just these two, and what they do not settle goes to the careful form.
#include "batch_lanes.hpp"

namespace plait::physics {
namespace {

// Below this ratio of light to saturation current the first guess is too coarse; the curve is left to the careful form.
constexpr double least_light_over_saturation = 16.0;

/// Halley's step of DiodeCurve::maximum_power from a place x = u/a, with the diode's current there: how far, and the
/// current at its end.
struct Step {
    double change;
    double current_a;
};
PLAIT_INLINE Step halley(double x, double diode, double shunt, double rho, double supply) {
    const double g = diode + shunt;
    const double now_a = supply - diode - shunt * x;
    const double f = now_a * (1.0 + 2.0 * rho * g) - x * g;
    const double lean = 2.0 * rho * now_a - x;
    const double f1 = diode * lean - 2.0 * g * (1.0 + rho * g);
    const double f2 = diode * (lean - 3.0 - 6.0 * rho * g);
    const double change = -2.0 * f * f1 / (2.0 * f1 * f1 - f * f2);
    return {change, now_a - change * (g + change * diode * (0.5 + change * (1.0 / 6.0)))};
}

/// Its loops are short, so that the machine can work at several rounds of one at a time.
struct MaximumPower {
    static PLAIT_INLINE void solve(Block& b) {
        Lanes rho, shunt, log_saturation, open, guess, x, diode;
        // As in DiodeCurve::maximum_power: exact without Rs and shunt but for a term of second order, then once through
        // the equation, a quadratic in the diode's current wherever x is outside the exponent.
        for (std::size_t i = 0; i < lanes; ++i) {
            rho[i] = b.series[i] / b.ideality[i];
            shunt[i] = b.shunt[i] * b.ideality[i];
            log_saturation[i] = rough_logarithm(b.saturation[i]);
            open[i] = rough_logarithm(b.light[i] + b.saturation[i]) - log_saturation[i];
        }
        for (std::size_t i = 0; i < lanes; ++i) {
            guess[i] = open[i] - rough_logarithm(1.0 + open[i]);
            const double supply = b.light[i] + b.saturation[i];
            const double k = supply - shunt[i] * guess[i];
            const double c = k * (1.0 + 2.0 * rho[i] * shunt[i]) - guess[i] * shunt[i];
            const double half_b = 1.0 + guess[i] + 2.0 * rho[i] * (shunt[i] - k);
            const double under_root = half_b * half_b + 8.0 * rho[i] * c;
            x[i] = 2.0 * c / (half_b + std::sqrt(under_root > 0.0 ? under_root : 0.0));
        }
        for (std::size_t i = 0; i < lanes; ++i) {
            const double better = rough_logarithm(x[i] > b.saturation[i] ? x[i] : 1.0) - log_saturation[i];
            x[i] = x[i] > b.saturation[i] ? better : guess[i];
            diode[i] = b.saturation[i] * exponential<Digits::some>(x[i]);
        }
        for (std::size_t i = 0; i < lanes; ++i) {
            x[i] += halley(x[i], diode[i], shunt[i], rho[i], b.light[i] + b.saturation[i]).change;
        }
        for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::all>(x[i]);
        for (std::size_t i = 0; i < lanes; ++i) {
            const Step last = halley(x[i], diode[i], shunt[i], rho[i], b.light[i] + b.saturation[i]);
            const double end = x[i] + last.change;
            const double size = last.change < 0.0 ? -last.change : last.change;
            b.voltage[i] = end * b.ideality[i] - b.series[i] * last.current_a;
            b.current[i] = last.current_a;
            double fine = size < last_step ? 1.0 : 0.0;
            fine = end > 0.0 ? fine : 0.0;
            fine = end < open[i] + 0.01 ? fine : 0.0;
            fine = x[i] < open[i] + 1.0 ? fine : 0.0;
            b.well[i] = b.light[i] > least_light_over_saturation * b.saturation[i] ? fine : 0.0;
        }
    }
};

}  // namespace

BatchForm best_batch_form() {
#if defined(PLAIT_WIDE_BATCH)
    static const bool wide = __builtin_cpu_supports("avx2") != 0;
    if (wide) return BatchForm::wide;
#endif
    return BatchForm::plain;
}

double batch_exponential_factor(double x_value) { return exponential<Digits::all>(x_value); }

void CurveBatch::reserve(std::size_t count) {
    for (std::vector<double>* list : {&light_a_, &saturation_a_, &ideality_v_, &series_ohm_, &shunt_s_}) {
        list->reserve(count);
    }
}

void CurveBatch::add(const DiodeCurve& curve) {
    light_a_.push_back(curve.light_current_a);
    saturation_a_.push_back(curve.saturation_current_a);
    ideality_v_.push_back(curve.ideality_v);
    series_ohm_.push_back(curve.series_resistance_ohm);
    shunt_s_.push_back(curve.shunt_conductance_s);
}

CurveBatch CurveBatch::scaled(int in_series, int in_parallel, double more_ohm) const {
    const double s = in_series;
    const double p = in_parallel;
    CurveBatch out = *this;
    for (double& v : out.light_a_) v *= p;
    for (double& v : out.saturation_a_) v *= p;
    for (double& v : out.ideality_v_) v *= s;
    for (double& v : out.series_ohm_) v = v * s / p + more_ohm;
    for (double& v : out.shunt_s_) v = v * p / s;
    return out;
}

CurveBatch CurveBatch::picked(std::span<const std::size_t> which) const {
    CurveBatch out;
    const auto take = [&](const std::vector<double>& from, std::vector<double>& to) {
        to.reserve(which.size());
        for (const std::size_t i : which) to.push_back(from[i]);
    };
    take(light_a_, out.light_a_);
    take(saturation_a_, out.saturation_a_);
    take(ideality_v_, out.ideality_v_);
    take(series_ohm_, out.series_ohm_);
    take(shunt_s_, out.shunt_s_);
    return out;
}

void maximum_power_points(const CurveBatch& curves, std::span<double> voltage_v, std::span<double> current_a,
                          BatchForm form) {
    in_blocks<MaximumPower>(
        curves, {}, form,
        [&](std::size_t k, PowerPoint p) {
            voltage_v[k] = p.voltage_v;
            current_a[k] = p.current_a;
        },
        [&](std::size_t i, double) { return curves.at(i).maximum_power(); });
}

void maximum_power_points(const CurveBatch& curves, std::span<double> voltage_v, std::span<double> current_a) {
    maximum_power_points(curves, voltage_v, current_a, best_batch_form());
}

}  // namespace plait::physics
