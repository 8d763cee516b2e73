#pragma once

#include <plait/base/temperature.hpp>

namespace plait {

/// Boltzmann constant over elementary charge, V/K. CODATA 2018; exact since the SI of 2019
/// (1.380649e-23 / 1.602176634e-19).
inline constexpr double boltzmann_over_charge_v_per_k = 1.380649e-23 / 1.602176634e-19;

/// Standard test conditions, IEC 60904-3 / IEC 61215: 1000 W/m², 25 °C cell, AM1.5.
inline constexpr double stc_irradiance_w_per_m2 = 1000.0;
inline constexpr Celsius stc_cell{25.0};

}  // namespace plait
