#pragma once

#include <plait/base/temperature.hpp>

namespace plait {

/// Boltzmann constant over elementary charge, V/K. CODATA 2018; exact since the SI of 2019
/// (1.380649e-23 / 1.602176634e-19).
inline constexpr double boltzmann_over_charge_v_per_k = 1.380649e-23 / 1.602176634e-19;

/// Standard test conditions, IEC 60904-3 / IEC 61215: 1000 W/m², 25 °C cell, AM1.5.
inline constexpr double stc_irradiance_w_per_m2 = 1000.0;
inline constexpr Celsius stc_cell{25.0};

/// What two ways of adding up the same datasheet figures may differ by, as a share of them: 60 V against 60 V must be
/// within even when 3 × 20 V × 1.0 came out one rounding step high. Every comparison of a figure with a limit, and
/// every count made from one, allows for this and for no more.
inline constexpr double rounding_ratio = 1e-12;

}  // namespace plait
