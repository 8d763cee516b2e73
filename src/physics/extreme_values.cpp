#include <plait/physics/extreme_values.hpp>

#include "root.hpp"

#include <boost/math/distributions/chi_squared.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <vector>

namespace plait::physics {
namespace {

constexpr double least_shape = -0.9;  // at −1 the likelihood grows without end
constexpr double most_shape = 1.5;
constexpr double infinite = std::numeric_limits<double>::infinity();

struct Parameters {
    double location;
    double log_scale;
    double shape;
};

/// A function's value with its slopes; not finite outside its domain.
template <std::size_t N>
struct Sloped {
    double value = infinite;
    std::array<double, N> slope{};
};

/// −log L. With s = (x − μ)/σ, t = 1 + ξs, y = ln t/ξ:  n ln σ + Σ (1 + ξ)·y + exp(−y).
Sloped<3> unlikelihood(std::span<const double> x, const Parameters& p) {
    Sloped<3> out;
    if (!(p.shape >= least_shape && p.shape <= most_shape)) return out;
    const double scale = std::exp(p.log_scale);
    const double n = static_cast<double>(x.size());
    double sum = n * p.log_scale;
    std::array<double, 3> slope{0.0, n, 0.0};
    for (const double value : x) {
        const double s = (value - p.location) / scale;
        const double z = p.shape * s;
        const double t = 1.0 + z;
        if (!(t > 0.0)) return out;
        double y = 0.0;
        double y_by_shape = 0.0;
        if (std::abs(z) < 1e-4) {  // the first terms of the series: the differences below would lose their digits
            y = s * (1.0 - z * (1.0 / 2.0 - z * (1.0 / 3.0 - z / 4.0)));
            y_by_shape = -s * s * (1.0 / 2.0 - z * (2.0 / 3.0 - z * 3.0 / 4.0));
        } else {
            y = std::log1p(z) / p.shape;
            y_by_shape = (s / t - y) / p.shape;
        }
        const double e = std::exp(-y);
        const double weight = 1.0 + p.shape - e;
        sum += (1.0 + p.shape) * y + e;
        slope[0] -= weight / (scale * t);
        slope[1] -= weight * s / t;
        slope[2] += y + weight * y_by_shape;
    }
    out.value = std::isfinite(sum) ? sum : infinite;
    out.slope = slope;
    return out;
}

/// k = (exp(ξ·y) − 1)/ξ: a level is μ + σ·k. And its slope by ξ.
struct Growth {
    double k;
    double by_shape;
};
Growth growth(double shape, double y) {
    const double z = shape * y;
    if (std::abs(z) < 1e-4) {
        return {y * (1.0 + z * (1.0 / 2.0 + z / 6.0)), y * y * (1.0 / 2.0 + z * (1.0 / 3.0 + z / 8.0))};
    }
    const double k = std::expm1(z) / shape;
    return {k, (y * std::exp(z) - k) / shape};
}

double reduced_value(double period_years) { return -std::log(-std::log1p(-1.0 / period_years)); }

/// Solves A·x = b for a symmetric positive A by Cholesky; false if it is not positive.
template <std::size_t N>
bool solve_positive(std::array<std::array<double, N>, N> a, std::array<double, N>& b) {
    for (std::size_t j = 0; j < N; ++j) {
        for (std::size_t k = 0; k < j; ++k) a[j][j] -= a[j][k] * a[j][k];
        if (!(a[j][j] > 0.0)) return false;
        a[j][j] = std::sqrt(a[j][j]);
        for (std::size_t i = j + 1; i < N; ++i) {
            for (std::size_t k = 0; k < j; ++k) a[i][j] -= a[i][k] * a[j][k];
            a[i][j] /= a[j][j];
        }
    }
    for (std::size_t i = 0; i < N; ++i) {
        for (std::size_t k = 0; k < i; ++k) b[i] -= a[i][k] * b[k];
        b[i] /= a[i][i];
    }
    for (std::size_t i = N; i-- > 0;) {
        for (std::size_t k = i + 1; k < N; ++k) b[i] -= a[k][i] * b[k];
        b[i] /= a[i][i];
    }
    return true;
}

/// The least value of a smooth function near a start: Newton's steps with second slopes by differences of the first,
/// held back until the value falls. Returns the value there; `x` is the place.
template <std::size_t N, class F>
double minimise(const F& f, std::array<double, N>& x) {
    constexpr int most_rounds = 200;
    constexpr double difference = 1e-5;
    Sloped<N> here = f(x);
    for (int round = 0; round < most_rounds && std::isfinite(here.value); ++round) {
        std::array<std::array<double, N>, N> curvature{};
        for (std::size_t j = 0; j < N; ++j) {
            std::array<double, N> right = x;
            std::array<double, N> left = x;
            right[j] += difference;
            left[j] -= difference;
            const Sloped<N> r = f(right);
            const Sloped<N> l = f(left);
            const bool both = std::isfinite(r.value) && std::isfinite(l.value);
            for (std::size_t i = 0; i < N; ++i) {
                curvature[i][j] = both ? (r.slope[i] - l.slope[i]) / (2.0 * difference) : (i == j ? 1.0 : 0.0);
            }
        }
        double greatest = 0.0;
        for (std::size_t i = 0; i < N; ++i) {
            for (std::size_t j = 0; j < i; ++j) {
                curvature[i][j] = curvature[j][i] = 0.5 * (curvature[i][j] + curvature[j][i]);
            }
            greatest = std::max(greatest, std::abs(curvature[i][i]));
        }
        std::array<double, N> step{};
        // Where the function is no bowl, the more of a plain descent is mixed in until it is one.
        double lift = 0.0;
        for (int tries = 0; tries<40; ++tries, lift = lift> 0.0 ? 10.0 * lift : 1e-6 * greatest + 1e-12) {
            auto lifted = curvature;
            for (std::size_t i = 0; i < N; ++i) {
                lifted[i][i] += lift;
                step[i] = -here.slope[i];
            }
            if (solve_positive(lifted, step)) break;
        }
        double falls = 0.0;
        double size = 0.0;
        for (std::size_t i = 0; i < N; ++i) {
            falls += step[i] * here.slope[i];
            size = std::max(size, std::abs(step[i]));
        }
        bool moved = false;
        for (double share = 1.0; share > 1e-12; share *= 0.5) {
            std::array<double, N> there = x;
            for (std::size_t i = 0; i < N; ++i) there[i] += share * step[i];
            const Sloped<N> at = f(there);
            if (!(at.value <= here.value + 1e-4 * share * falls)) continue;
            x = there;
            here = at;
            moved = true;
            break;
        }
        if (!moved || size < 1e-10) break;
    }
    return here.value;
}

/// The values moved and scaled to mean 0 and spread 1, so that steps and differences mean the same for all.
struct Standard {
    std::vector<double> x;
    double mean = 0.0;
    double spread = 0.0;
};

Standard standard(std::span<const double> values) {
    Standard s;
    const double n = static_cast<double>(values.size());
    s.mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    for (const double v : values) s.spread += (v - s.mean) * (v - s.mean);
    s.spread = std::sqrt(s.spread / n);
    for (const double v : values) s.x.push_back(s.spread > 0.0 ? (v - s.mean) / s.spread : 0.0);
    return s;
}

constexpr double euler_gamma = 0.5772156649015329;

/// The best of fits that start from Gumbel's moments with several shapes.
double fit_standard(std::span<const double> x, Shape shape, Parameters& best) {
    const double scale = std::sqrt(6.0) / 3.141592653589793;
    const double location = -euler_gamma * scale;
    if (shape == Shape::held_at_zero) {
        std::array<double, 2> p{location, std::log(scale)};
        const double value = minimise<2>(
            [&](const std::array<double, 2>& q) {
                const Sloped<3> full = unlikelihood(x, {q[0], q[1], 0.0});
                return Sloped<2>{full.value, {full.slope[0], full.slope[1]}};
            },
            p);
        best = {p[0], p[1], 0.0};
        return value;
    }
    double least = infinite;
    for (const double start : {0.0, -0.2, 0.15}) {
        std::array<double, 3> p{location, std::log(scale), start};
        const double value = minimise<3>(
            [&](const std::array<double, 3>& q) {
                return unlikelihood(x, {q[0], q[1], q[2]});
            },
            p);
        if (!(value < least)) continue;
        least = value;
        best = {p[0], p[1], p[2]};
    }
    return least;
}

/// The least −log L with a level held; `scale_and_shape` starts at the last answer.
double profile(std::span<const double> x, double level, double y, bool shape_held,
               std::array<double, 2>& scale_and_shape) {
    if (shape_held) {
        std::array<double, 1> p{scale_and_shape[0]};
        const double value = minimise<1>(
            [&](const std::array<double, 1>& q) {
                const double scale = std::exp(q[0]);
                const Sloped<3> full = unlikelihood(x, {level - scale * y, q[0], 0.0});
                return Sloped<1>{full.value, {full.slope[1] - full.slope[0] * scale * y}};
            },
            p);
        scale_and_shape[0] = p[0];
        return value;
    }
    return minimise<2>(
        [&](const std::array<double, 2>& q) {
            const double scale = std::exp(q[0]);
            const Growth g = growth(q[1], y);
            const Sloped<3> full = unlikelihood(x, {level - scale * g.k, q[0], q[1]});
            return Sloped<2>{
                full.value,
                {full.slope[1] - full.slope[0] * scale * g.k, full.slope[2] - full.slope[0] * scale * g.by_shape}};
        },
        scale_and_shape);
}

}  // namespace

std::optional<ExtremeValues> fit_extremes(std::span<const double> maxima, Shape shape) {
    if (maxima.size() < 3) return std::nullopt;
    const Standard s = standard(maxima);
    if (!(s.spread > 0.0) || !std::isfinite(s.spread)) return std::nullopt;
    Parameters p{};
    const double value = fit_standard(s.x, shape, p);
    if (!std::isfinite(value)) return std::nullopt;
    ExtremeValues fit;
    fit.location_value = s.mean + s.spread * p.location;
    fit.scale_value = s.spread * std::exp(p.log_scale);
    fit.shape_value = p.shape;
    fit.log_likelihood_value = -value - static_cast<double>(maxima.size()) * std::log(s.spread);
    fit.shape_held = shape == Shape::held_at_zero;
    return fit;
}

double return_level_value(const ExtremeValues& fit, double period_years) {
    return fit.location_value + fit.scale_value * growth(fit.shape_value, reduced_value(period_years)).k;
}

LevelRange return_level_range(std::span<const double> maxima, const ExtremeValues& fit, double period_years,
                              double confidence_ratio) {
    const Standard s = standard(maxima);
    const double y = reduced_value(period_years);
    const double level = (return_level_value(fit, period_years) - s.mean) / s.spread;
    const double least = -fit.log_likelihood_value - static_cast<double>(maxima.size()) * std::log(s.spread);
    // Without promotion to long double, which a browser build computes in software.
    using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
    const double allowed =
        0.5 * boost::math::quantile(boost::math::chi_squared_distribution<double, Policy>(1.0), confidence_ratio);
    const std::array<double, 2> at_fit{std::log(fit.scale_value / s.spread), fit.shape_value};
    const auto edge = [&](double direction) {
        // Out in growing steps, each fit starting from the last, until too unlikely; then in between.
        std::array<double, 2> inner_state = at_fit;
        double inner = 0.0;
        double width = 0.1;
        for (int i = 0; i < 60; ++i, width *= 1.4) {
            std::array<double, 2> state = inner_state;
            const double excess =
                profile(s.x, level + direction * (inner + width), y, fit.shape_held, state) - least - allowed;
            if (!(excess < 0.0)) break;
            inner += width;
            inner_state = state;
        }
        const auto excess = [&](double off) {
            std::array<double, 2> state = inner_state;
            const double value = profile(s.x, level + direction * off, y, fit.shape_held, state) - least - allowed;
            return std::isfinite(value) ? value : 1e3;
        };
        const auto found = crossing(excess, inner, inner + width, 1e-9);
        return s.mean + s.spread * (level + direction * found.value_or(inner));
    };
    return {edge(-1.0), edge(1.0)};
}

}  // namespace plait::physics
