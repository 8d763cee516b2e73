// How strong the sun is above the air and below a cloudless sky. Check figures: docs/sun.md.
#pragma once

namespace plait::physics {

/// Total solar irradiance at one astronomical unit: Kopp & Lean, Geophysical Research Letters 38 (2011), rounded.
inline constexpr double solar_constant_w_per_m2 = 1361.0;

/// The constant over the square of the distance.
[[nodiscard]] double extraterrestrial_w_per_m2(double distance_au);
/// The same from the day of the year, 1 … 366: Spencer, Search 2 (1971).
[[nodiscard]] double extraterrestrial_of_day_w_per_m2(int day_of_year);

/// How many times the air straight above the light has to pass, at sea level: Kasten & Young, Applied Optics 28 (1989).
/// `apparent_elevation_deg` has the refraction in it; below 0 the value at 0 (about 38).
[[nodiscard]] double air_mass_ratio(double apparent_elevation_deg);
/// Pressure at a height over that at sea level: exp(−h/8434.5 m), the standard atmosphere's scale height.
[[nodiscard]] double pressure_ratio(double height_m);

/// Light on flat ground (GHI), square to the sun (DNI) and from the sky on flat ground (DHI).
struct SkyLight {
    double global_w_per_m2 = 0.0;
    double direct_normal_w_per_m2 = 0.0;
    double diffuse_w_per_m2 = 0.0;
};

/// Linke turbidity: how many clean, dry atmospheres dim as much as the air does. 2 clean and cold, 3 usual, 5 hazy,
/// 7 dusty [the last from memory].
struct ClearAir {
    double turbidity_value = 3.0;
    double height_m = 0.0;
};

/// Ineichen & Perez, Solar Energy 73 (2002), with the relative air mass × pressure ratio of the height. All zero with
/// the sun at or below the horizon.
[[nodiscard]] SkyLight clear_sky(double apparent_elevation_deg, double extraterrestrial_w_per_m2, ClearAir air);

/// Haurwitz, Journal of Meteorology 2 (1945): global only, with no knowledge of the air: 1098·cos z·exp(−0.057/cos z).
[[nodiscard]] double clear_global_by_haurwitz_w_per_m2(double apparent_elevation_deg);

/// Diffuse and direct from global: Erbs, Klein & Duffie, Solar Energy 28 (1982). `elevation_deg` without refraction.
/// With the sun lower than 3° all of it is diffuse. Direct light does not exceed the extraterrestrial.
[[nodiscard]] SkyLight split_global(double global_w_per_m2, double elevation_deg, double extraterrestrial_w_per_m2);

}  // namespace plait::physics
