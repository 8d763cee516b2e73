#include "sun_prior.hpp"

#include "log_figures.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double lit_per_w_m2 = (1.0 - night_share) / open_sky_w_per_m2;

// All of these are ours, *no source*; docs/explain.md lists them.
constexpr double dusk_w_per_m2 = 20.0;       // below it, dawn, dusk and night
constexpr double dark_at_night = 0.9;
constexpr double dark_at_dusk = 0.3;
constexpr double dark_by_day = 0.01;         // snow or a cover on the panels
constexpr double clear_share = 0.5;          // of the time, near what a clear sky gives
constexpr double clear_sd_ratio = 0.08;      // … haze, a plane a little off, the model
constexpr double level_share = 0.77;         // of the most there can be: up to here every light under clouds is alike

/// Light under clouds, per W/m²: level, and falling off where only their bright edges give more.
double cloudy_density(double irradiance_w_per_m2, double most_w_per_m2) {
    constexpr double area = level_share + 0.5 * (1.0 - level_share);
    const double share = irradiance_w_per_m2 / most_w_per_m2;
    const double falls = share <= level_share ? 1.0 : std::max(0.0, (1.0 - share) / (1.0 - level_share));
    return falls / (area * most_w_per_m2);
}

double clear_density(double share) {
    constexpr double root_two_pi = 2.5066282746310002;
    return std::exp(-0.5 * square((share - 1.0) / clear_sd_ratio)) / (clear_sd_ratio * root_two_pi);
}

}  // namespace

double sun_prior_factor(double irradiance_w_per_m2, SunLight sun) {
    const bool dark = !(irradiance_w_per_m2 > 0.0);
    const double clear = sun.clear_w_per_m2;
    if (clear < dusk_w_per_m2) {
        const double dark_share = clear > 0.0 ? dark_at_dusk : dark_at_night;
        if (dark) return dark_share / night_share;
        const double most = dusk_w_per_m2 + clear;
        return irradiance_w_per_m2 < most ? (1.0 - dark_share) / most / lit_per_w_m2 : 0.0;
    }
    if (dark) return dark_by_day / night_share;
    const double density = clear_share * clear_density(irradiance_w_per_m2 / clear) / clear +
                           (1.0 - clear_share) * cloudy_density(irradiance_w_per_m2, sun.most_w_per_m2);
    return (1.0 - dark_by_day) * density / lit_per_w_m2;
}

}  // namespace plait::measured
