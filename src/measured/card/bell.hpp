// Student's t with four degrees of freedom: a bell with heavy tails, so that one bad reading does not decide
// everything.
#pragma once

#include <cmath>

namespace plait::measured {

/// Density of a deviation of a quantity with this scale².
[[nodiscard]] inline double bell(double off, double var) {
    const double q = 1.0 + 0.25 * off * off / var;
    return 0.375 / (std::sqrt(var * q) * q * q);
}

/// The same of two quantities that vary together.
[[nodiscard]] inline double bell(double off_x, double off_y, double var_x, double var_y, double covariance) {
    constexpr double per_turn = 0.15915494309189535;  // 1/2π
    const double det = var_x * var_y - covariance * covariance;
    const double d2 = (var_y * off_x * off_x - 2.0 * covariance * off_x * off_y + var_x * off_y * off_y) / det;
    const double q = 1.0 + 0.25 * d2;
    return per_turn / (std::sqrt(det) * q * q * q);
}

}  // namespace plait::measured
