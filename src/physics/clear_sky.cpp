#include <plait/physics/clear_sky.hpp>

#include "angles.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {

double extraterrestrial_w_per_m2(double distance_au) { return solar_constant_w_per_m2 / (distance_au * distance_au); }

double extraterrestrial_of_day_w_per_m2(int day_of_year) {
    const double b = 2.0 * std::numbers::pi * (day_of_year - 1) / 365.0;
    return solar_constant_w_per_m2 * (1.00011 + 0.034221 * std::cos(b) + 0.00128 * std::sin(b) +
                                      0.000719 * std::cos(2.0 * b) + 0.000077 * std::sin(2.0 * b));
}

double air_mass_ratio(double apparent_elevation_deg) {
    const double elevation_deg = std::max(apparent_elevation_deg, 0.0);
    return 1.0 / (sin_deg(elevation_deg) + 0.50572 * std::pow(6.07995 + elevation_deg, -1.6364));
}

double pressure_ratio(double height_m) { return std::exp(-height_m / 8434.5); }

SkyLight clear_sky(double apparent_elevation_deg, double extraterrestrial_w_per_m2, ClearAir air) {
    if (!(apparent_elevation_deg > 0.0)) return {};
    const double cos_zenith = sin_deg(apparent_elevation_deg);
    const double mass = air_mass_ratio(apparent_elevation_deg) * pressure_ratio(air.height_m);
    const double fh1 = std::exp(-air.height_m / 8000.0);
    const double fh2 = std::exp(-air.height_m / 1250.0);
    const double cg1 = 5.09e-5 * air.height_m + 0.868;
    const double cg2 = 3.92e-5 * air.height_m + 0.0387;
    const double haze = air.turbidity_value - 1.0;
    SkyLight light;
    light.global_w_per_m2 = cg1 * extraterrestrial_w_per_m2 * cos_zenith * std::exp(-cg2 * mass * (fh1 + fh2 * haze));
    const double by_mass_w_per_m2 = extraterrestrial_w_per_m2 * (0.664 + 0.163 / fh1) * std::exp(-0.09 * mass * haze);
    const double by_global_w_per_m2 =
        light.global_w_per_m2 * (1.0 - (0.1 - 0.2 * std::exp(-air.turbidity_value)) / (0.1 + 0.882 / fh1)) / cos_zenith;
    light.direct_normal_w_per_m2 = std::min(by_mass_w_per_m2, by_global_w_per_m2);
    light.diffuse_w_per_m2 = light.global_w_per_m2 - light.direct_normal_w_per_m2 * cos_zenith;
    return light;
}

double clear_global_by_haurwitz_w_per_m2(double apparent_elevation_deg) {
    const double cos_zenith = sin_deg(apparent_elevation_deg);
    return cos_zenith > 0.0 ? 1098.0 * cos_zenith * std::exp(-0.057 / cos_zenith) : 0.0;
}

SkyLight split_global(double global_w_per_m2, double elevation_deg, double extraterrestrial_w_per_m2) {
    constexpr double least_elevation_deg = 3.0;
    constexpr double least_cos_zenith = 0.065;
    SkyLight light{std::max(global_w_per_m2, 0.0), 0.0, std::max(global_w_per_m2, 0.0)};
    const double cos_zenith = sin_deg(elevation_deg);
    if (!(elevation_deg >= least_elevation_deg)) return light;
    const double kt = light.global_w_per_m2 / (extraterrestrial_w_per_m2 * std::max(cos_zenith, least_cos_zenith));
    const double fraction = kt <= 0.22   ? 1.0 - 0.09 * kt
                            : kt <= 0.80 ? 0.9511 + kt * (-0.1604 + kt * (4.388 + kt * (-16.638 + kt * 12.336)))
                                         : 0.165;
    light.diffuse_w_per_m2 = fraction * light.global_w_per_m2;
    light.direct_normal_w_per_m2 = (light.global_w_per_m2 - light.diffuse_w_per_m2) / cos_zenith;
    if (light.direct_normal_w_per_m2 > extraterrestrial_w_per_m2) {
        light.direct_normal_w_per_m2 = extraterrestrial_w_per_m2;
        light.diffuse_w_per_m2 = light.global_w_per_m2 - extraterrestrial_w_per_m2 * cos_zenith;
    }
    return light;
}

}  // namespace plait::physics
