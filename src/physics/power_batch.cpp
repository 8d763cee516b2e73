// The equation and its Halley step are those of DiodeCurve::maximum_power. Two steps from its first guess settle
// ordinary curves; here every curve takes just these two, in a loop of fixed length without calls or branches, of which
// the compiler makes vector instructions. What they do not settle goes to the careful form. Nothing is contracted to
// fused multiply-adds (the list of sources says so for this file), so every form gives the same bits.
#include <plait/physics/power_batch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>

// The wide form is the same source compiled for AVX2, where compiler and machine have it.
#if defined(__x86_64__) && defined(__GNUC__)
#define PLAIT_WIDE_BATCH 1
#endif

namespace plait::physics {
namespace {

constexpr std::size_t lanes = 64;
using Lanes = std::array<double, lanes>;

constexpr double last_step = 1e-5;  // what is left is of its third power
// Below this ratio of light to saturation current the first guess is too coarse; the curve is left to the careful form.
constexpr double least_light_over_saturation = 16.0;

#if defined(__GNUC__)
#define PLAIT_INLINE inline __attribute__((always_inline))
#else
#define PLAIT_INLINE inline
#endif

PLAIT_INLINE std::uint64_t bits_of(double x) {
    std::uint64_t bits;
    std::memcpy(&bits, &x, sizeof bits);
    return bits;
}
PLAIT_INLINE double double_of(std::uint64_t bits) {
    double x;
    std::memcpy(&x, &bits, sizeof x);
    return x;
}

/// exp(x) = 2^n·exp(r), |r| ≤ ln 2/2: n by adding 1.5·2^52, whose last bits then hold it; exp(r) by its Taylor series
/// to r^13, which leaves r^14/14! < 5e-18. ln 2 is taken off in two parts, the first with zeros at its end.
enum class Digits { all, some };
template <Digits digits>
PLAIT_INLINE double exponential(double x) {
    constexpr double per_ln2 = 1.4426950408889634;
    constexpr double ln2_high = 6.93147180369123816490e-01;
    constexpr double ln2_low = 1.90821492927058770002e-10;
    constexpr double shifter = 6755399441055744.0;  // 1.5·2^52
    const double shifted = x * per_ln2 + shifter;
    const double n = shifted - shifter;
    const double r = (x - n * ln2_high) - n * ln2_low;
    const double r2 = r * r;
    const double r4 = r2 * r2;
    // Pairs of terms, then pairs of pairs: shorter chains than one term after the other.
    const double p01 = 1.0 + r;
    const double p23 = 1.0 / 2.0 + r * (1.0 / 6.0);
    const double p45 = 1.0 / 24.0 + r * (1.0 / 120.0);
    if (digits == Digits::some) {  // to r^5: 3e-6 of its value
        return double_of(bits_of(p01 + r2 * p23 + r4 * p45) + (bits_of(shifted) << 52));
    }
    const double p67 = 1.0 / 720.0 + r * (1.0 / 5040.0);
    const double p89 = 1.0 / 40320.0 + r * (1.0 / 362880.0);
    const double pab = 1.0 / 3628800.0 + r * (1.0 / 39916800.0);
    const double pcd = 1.0 / 479001600.0 + r * (1.0 / 6227020800.0);
    const double p03 = p01 + r2 * p23;
    const double p47 = p45 + r2 * p67;
    const double p8d = p89 + r2 * pab + r4 * pcd;
    const double value = p03 + r4 * (p47 + r4 * p8d);
    return double_of(bits_of(value) + (bits_of(shifted) << 52));
}

/// ln of a positive, ordinary number to about 1e-4: enough to begin with.
PLAIT_INLINE double rough_logarithm(double x) {
    constexpr double ln2 = 0.6931471805599453;
    const std::uint64_t bits = bits_of(x);
    // The exponent as a number: its eleven bits in the last places of 2^52.
    const double exponent = double_of((bits >> 52) | 0x4330000000000000u) - 4503599627370496.0 - 1023.0;
    const double m = double_of((bits & 0x000fffffffffffffu) | 0x3ff0000000000000u);  // 1 … 2
    // ln m by its series in (m − √2)/(m + √2) needs a division; a polynomial does here. (Least squares at Chebyshev's
    // points.)
    const double m2 = m * m;
    const double p = (-1.73675974 + m * 2.80698053) + m2 * (-1.45519477 + m * 0.440502739 - m2 * 0.0554593137);
    return exponent * ln2 + p;
}

struct Batch {
    const double* light_a;
    const double* saturation_a;
    const double* ideality_v;
    const double* series_ohm;
    const double* shunt_s;
    double* voltage_v;
    double* current_a;
};

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

/// One block. Returns how many lanes two steps did not settle; `settled` says which. Its lists are copies that nothing
/// else points to, so the compiler need not ask whether a result is somebody's input; and short loops, so that the
/// machine can work at several rounds of one at a time.
PLAIT_INLINE std::size_t solve(const Batch& b, Lanes& settled) {
    Lanes light, saturation, ideality, series, rho, shunt, log_saturation, open, guess, x, diode, voltage, current,
        well;
    std::copy_n(b.light_a, lanes, light.begin());
    std::copy_n(b.saturation_a, lanes, saturation.begin());
    std::copy_n(b.ideality_v, lanes, ideality.begin());
    std::copy_n(b.series_ohm, lanes, series.begin());
    std::copy_n(b.shunt_s, lanes, shunt.begin());
    // As in DiodeCurve::maximum_power: exact without Rs and shunt but for a term of second order, then once through the
    // equation, a quadratic in the diode's current wherever x is outside the exponent.
    for (std::size_t i = 0; i < lanes; ++i) {
        rho[i] = series[i] / ideality[i];
        shunt[i] *= ideality[i];
        log_saturation[i] = rough_logarithm(saturation[i]);
        open[i] = rough_logarithm(light[i] + saturation[i]) - log_saturation[i];
    }
    for (std::size_t i = 0; i < lanes; ++i) {
        guess[i] = open[i] - rough_logarithm(1.0 + open[i]);
        const double supply = light[i] + saturation[i];
        const double k = supply - shunt[i] * guess[i];
        const double c = k * (1.0 + 2.0 * rho[i] * shunt[i]) - guess[i] * shunt[i];
        const double half_b = 1.0 + guess[i] + 2.0 * rho[i] * (shunt[i] - k);
        const double under_root = half_b * half_b + 8.0 * rho[i] * c;
        x[i] = 2.0 * c / (half_b + std::sqrt(under_root > 0.0 ? under_root : 0.0));
    }
    for (std::size_t i = 0; i < lanes; ++i) {
        const double better = rough_logarithm(x[i] > saturation[i] ? x[i] : 1.0) - log_saturation[i];
        x[i] = x[i] > saturation[i] ? better : guess[i];
        diode[i] = saturation[i] * exponential<Digits::some>(x[i]);
    }
    for (std::size_t i = 0; i < lanes; ++i) {
        x[i] += halley(x[i], diode[i], shunt[i], rho[i], light[i] + saturation[i]).change;
    }
    for (std::size_t i = 0; i < lanes; ++i) diode[i] = saturation[i] * exponential<Digits::all>(x[i]);
    for (std::size_t i = 0; i < lanes; ++i) {
        const Step last = halley(x[i], diode[i], shunt[i], rho[i], light[i] + saturation[i]);
        const double end = x[i] + last.change;
        const double size = last.change < 0.0 ? -last.change : last.change;
        voltage[i] = end * ideality[i] - series[i] * last.current_a;
        current[i] = last.current_a;
        double fine = size < last_step ? 1.0 : 0.0;
        fine = end > 0.0 ? fine : 0.0;
        fine = end < open[i] + 0.01 ? fine : 0.0;
        fine = x[i] < open[i] + 1.0 ? fine : 0.0;
        well[i] = light[i] > least_light_over_saturation * saturation[i] ? fine : 0.0;
    }
    std::copy_n(voltage.begin(), lanes, b.voltage_v);
    std::copy_n(current.begin(), lanes, b.current_a);
    settled = well;
    return static_cast<std::size_t>(std::count(well.begin(), well.end(), 0.0));
}

std::size_t solve_plain(const Batch& b, Lanes& settled) { return solve(b, settled); }
#if defined(PLAIT_WIDE_BATCH)
__attribute__((target("avx2"))) std::size_t solve_wide(const Batch& b, Lanes& settled) { return solve(b, settled); }
#endif

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

void maximum_power_points(const CurveBatch& curves, std::span<double> voltage_v, std::span<double> current_a,
                          BatchForm form) {
#if defined(PLAIT_WIDE_BATCH)
    const auto solve_block = form == BatchForm::wide && best_batch_form() == BatchForm::wide ? solve_wide : solve_plain;
#else
    static_cast<void>(form);
    const auto solve_block = solve_plain;
#endif
    Lanes settled;
    Lanes rest[7];
    for (std::size_t first = 0; first < curves.size(); first += lanes) {
        const std::size_t count = std::min(lanes, curves.size() - first);
        Batch b{curves.light_a() + first,    curves.saturation_a() + first, curves.ideality_v() + first,
                curves.series_ohm() + first, curves.shunt_s() + first,      voltage_v.data() + first,
                current_a.data() + first};
        const double* const sources[] = {b.light_a, b.saturation_a, b.ideality_v, b.series_ohm, b.shunt_s};
        if (count < lanes) {  // the last block, filled up with its last curve
            for (std::size_t k = 0; k < 5; ++k) {
                std::copy_n(sources[k], count, rest[k].begin());
                std::fill(rest[k].begin() + static_cast<std::ptrdiff_t>(count), rest[k].end(), rest[k][count - 1]);
            }
            b = {rest[0].data(), rest[1].data(), rest[2].data(), rest[3].data(),
                 rest[4].data(), rest[5].data(), rest[6].data()};
        }
        const bool all = solve_block(b, settled) == 0;
        if (count < lanes) {
            std::copy_n(rest[5].begin(), count, voltage_v.begin() + static_cast<std::ptrdiff_t>(first));
            std::copy_n(rest[6].begin(), count, current_a.begin() + static_cast<std::ptrdiff_t>(first));
        }
        if (all) continue;
        for (std::size_t i = 0; i < count; ++i) {
            if (settled[i] != 0.0) continue;
            const PowerPoint p = curves.at(first + i).maximum_power();
            voltage_v[first + i] = p.voltage_v;
            current_a[first + i] = p.current_a;
        }
    }
}

void maximum_power_points(const CurveBatch& curves, std::span<double> voltage_v, std::span<double> current_a) {
    maximum_power_points(curves, voltage_v, current_a, best_batch_form());
}

}  // namespace plait::physics
