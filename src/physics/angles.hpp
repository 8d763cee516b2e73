// Angles are degrees wherever they are kept, radians only inside a formula.
#pragma once

#include <cmath>
#include <numbers>

namespace plait::physics {

inline constexpr double radians_per_degree = std::numbers::pi / 180.0;

[[nodiscard]] inline double sin_deg(double deg) { return std::sin(deg * radians_per_degree); }
[[nodiscard]] inline double cos_deg(double deg) { return std::cos(deg * radians_per_degree); }
[[nodiscard]] inline double tan_deg(double deg) { return std::tan(deg * radians_per_degree); }
[[nodiscard]] inline double atan2_deg(double y, double x) { return std::atan2(y, x) / radians_per_degree; }
[[nodiscard]] inline double asin_deg(double x) {
    return std::asin(x < -1.0 ? -1.0 : x > 1.0 ? 1.0 : x) / radians_per_degree;
}

/// The same direction in [0, 360).
[[nodiscard]] inline double turned_to_positive_deg(double deg) {
    const double turned = std::fmod(deg, 360.0);
    return turned < 0.0 ? turned + 360.0 : turned;
}
/// The same direction in [−180, 180).
[[nodiscard]] inline double turned_to_zero_deg(double deg) { return turned_to_positive_deg(deg + 180.0) - 180.0; }

}  // namespace plait::physics
