// Figures that the hypotheses of a log share. All of them are ours, *no source*; docs/explain.md lists them.
#pragma once

#include <algorithm>
#include <cmath>

namespace plait::measured {

inline constexpr double model_volt_ratio = 0.01;  // a curve from a datasheet against a real panel
inline constexpr double model_amp_ratio = 0.015;
inline constexpr double weak_volt_ratio = 0.015;  // … more in a fifth of full light
inline constexpr double weak_amp_ratio = 0.015;
inline constexpr double bow_ratio = 0.01;         // … and at open circuit against the maximum, of the volts
inline constexpr double limit_ratio = 0.04;       // a real limit against its print
inline constexpr double window_ratio = 0.01;      // … the edges of its window
inline constexpr double volt_step_v = 0.03;       // a display of one decimal, 0.1/√12
inline constexpr double amp_step_a = 0.03;
inline constexpr double watt_step_w = 0.3;
inline constexpr double irradiance_step_w_per_m2 = 1.0;
inline constexpr double rise_error_ratio = 0.15;
inline constexpr double far_sd = 12.0;
/// The share of a sensor's variance that is a bias, the same for about a day; the rest is new in every row.
inline constexpr double lasting_share = 0.5;
/// In light below this a curve from a datasheet strays more and more, by these shares for each factor of e.
inline constexpr double dim_w_per_m2 = 150.0;
inline constexpr double dim_volt_ratio = 0.025;
inline constexpr double dim_amp_ratio = 0.02;
/// How far from its maximum an input that hunts for it may be in one row.
inline constexpr double hunting_volt_ratio = 0.005;
inline constexpr double hunting_amp_ratio = 0.005;
/// A temperature that nobody measured, against the one the site's warm day and mounting would give.
inline constexpr double unknown_temperature_sd_k = 12.0;

[[nodiscard]] inline double square(double x) { return x * x; }

/// What readings in the dusk are worth: there a curve from a datasheet is wrong for all of them alike.
[[nodiscard]] inline double dusk_trust(double irradiance_w_per_m2) {
    return std::min(1.0, square(square(irradiance_w_per_m2 / dim_w_per_m2)));
}

/// What a row says, by its step: rows nearer to each other than a quarter of an hour err alike, so that each says only its share.
[[nodiscard]] inline double row_weight(double step_s) { return std::clamp(step_s / 900.0, 0.1, 1.0); }

/// How sure it is that something is above zero, from its distance in standard deviations.
[[nodiscard]] inline double surely(double sd) { return 1.0 / (1.0 + std::exp(-1.702 * std::clamp(sd, -40.0, 40.0))); }

}  // namespace plait::measured
