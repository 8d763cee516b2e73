#include <plait/measured/log_sun.hpp>

#include <plait/base/civil_date.hpp>
#include <plait/physics/clear_sky.hpp>
#include <plait/study/harvest_year.hpp>

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double day_s = 86400.0;
constexpr double hour_s = 3600.0;
constexpr double unix_to_j2000_days = 10957.5;
// Clouds beside the sun add to it for minutes: a quarter more than a clear sky is seldom passed (common practice, no
// source), and in a low sun some watts more.
constexpr double bright_edges_factor = 1.25;
constexpr double bright_edges_w_per_m2 = 20.0;

}  // namespace

std::optional<LogSun> LogSun::of(const Setup& setup, const InputWiring& wiring) {
    if (!setup.location || setup.planes.empty()) return std::nullopt;
    std::optional<std::size_t> plane;
    for (const SeriesString& string : wiring.strings) {
        for (const PanelPlace& place : string.panels) {
            const std::size_t here = study::plane_of(setup, place);
            if (plane && *plane != here) return std::nullopt;
            plane = here;
        }
    }
    if (!plane) return std::nullopt;
    return LogSun(*setup.location, setup.planes[*plane], setup.light_models.sky);
}

LogSun::LogSun(const Location& location, const Plane& plane, SkyModel sky)
    : location_(location), plane_(plane), sky_model_(sky) {}

double LogSun::universal_s(double written_s, const LogClock& clock) const {
    const double right_s = written_s - clock.ahead_s;
    if (clock.zoned) return right_s;
    if (!clock.wall_clock) return right_s - hour_s * location_.from_utc_h;
    const CivilDate date = date_of(static_cast<int>(std::floor(right_s / day_s)));
    return right_s - hour_s * clock_ahead_h(location_, month_of(date), day_of(date));
}

physics::SkyMoment LogSun::sky_at(double universal_s) const {
    const physics::SunEphemeris sun = physics::sun_ephemeris({universal_s / day_s - unix_to_j2000_days});
    physics::SkyMoment now;
    now.sun = physics::sun_direction(sun, {location_.latitude_deg, location_.longitude_deg, location_.height_m});
    now.apparent_elevation_deg = now.sun.elevation_deg + physics::refraction_deg(now.sun.elevation_deg);
    now.extraterrestrial_w_per_m2 = physics::extraterrestrial_w_per_m2(sun.distance_au);
    return now;
}

SunBound LogSun::bound(double universal_s) const {
    physics::SkyMoment now = sky_at(universal_s);
    SunBound bound;
    bound.elevation_deg = now.sun.elevation_deg;
    if (!(now.apparent_elevation_deg > 0.0)) return bound;
    now.light = physics::clear_sky(now.apparent_elevation_deg, now.extraterrestrial_w_per_m2,
                                   {location_.turbidity_value, location_.height_m});
    bound.clear_w_per_m2 = plane_.light(now, sky_model_).total_w_per_m2();
    // Thin clouds before the sun spread its light over planes that do not see it.
    const double most = std::max(bound.clear_w_per_m2, now.light.global_w_per_m2 * plane_.sky_view_ratio());
    bound.brightest_w_per_m2 = bright_edges_factor * most + bright_edges_w_per_m2;
    return bound;
}

std::optional<double> LogSun::turned_w_per_m2(double global_w_per_m2, double universal_s) const {
    physics::SkyMoment now = sky_at(universal_s);
    const double flat = std::max(0.0, global_w_per_m2);
    if (!(now.apparent_elevation_deg > 0.0)) return flat;
    if (now.sun.elevation_deg < least_turned_deg) return std::nullopt;
    now.light = physics::split_global(flat, now.sun.elevation_deg, now.extraterrestrial_w_per_m2);
    return plane_.light(now, sky_model_).total_w_per_m2();
}

}  // namespace plait::measured
