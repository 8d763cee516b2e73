// Which light is how probable before volts and amps are seen, where nobody measured it.
#pragma once

namespace plait::measured {

/// Without a place: dark for this share of the time, else every light up to the brightest alike.
inline constexpr double night_share = 0.4;
inline constexpr double open_sky_w_per_m2 = 1300.0;

/// How much more probable a light is than that, where the sun is known: 0 W/m² is the dark. A clear sky gives `clear` on
/// the panels, 0 at night; with bright edges of clouds there are `most`.
struct SunLight {
    double clear_w_per_m2 = 0.0;
    double most_w_per_m2 = 0.0;
};
[[nodiscard]] double sun_prior_factor(double irradiance_w_per_m2, SunLight sun);

}  // namespace plait::measured
