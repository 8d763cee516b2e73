#include <plait/physics/sun_position.hpp>

#include "angles.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

constexpr double days_per_century = 36525.0;
constexpr double terrestrial_minus_universal_s = 69.0;  // 29 s in 1950, about 200 s in 2100: 0.0015° of the sun's way
constexpr double polar_over_equatorial_radius = 0.99664719;
constexpr double earth_radius_m = 6378137.0;
constexpr double astronomical_unit_m = 1.495978707e11;
constexpr double rise_elevation_deg = -0.8333;

}  // namespace

SunEphemeris sun_ephemeris(Moment moment) {
    const double days = moment.j2000_days;
    const double t = (days + terrestrial_minus_universal_s / 86400.0) / days_per_century;
    const double mean_longitude_deg = 280.46646 + t * (36000.76983 + t * 0.0003032);
    const double anomaly_deg = 357.52911 + t * (35999.05029 - t * 0.0001537);
    const double centre_deg = (1.914602 - t * (0.004817 + t * 0.000014)) * sin_deg(anomaly_deg) +
                              (0.019993 - t * 0.000101) * sin_deg(2.0 * anomaly_deg) +
                              0.000289 * sin_deg(3.0 * anomaly_deg);
    const double from_1900 = t + 1.0;  // the disturbances count from 1900
    const double disturbed_deg = 0.00134 * cos_deg(153.23 + 22518.7541 * from_1900) +  // Venus
                                 0.00154 * cos_deg(216.57 + 45037.5082 * from_1900) +  // Venus
                                 0.00200 * cos_deg(312.69 + 32964.3577 * from_1900) +  // Jupiter
                                 0.00179 * sin_deg(350.74 + 445267.1142 * from_1900 - 0.00144 * from_1900 * from_1900) +
                                 0.00178 * sin_deg(231.19 + 20.20 * from_1900);  // long period
    const double eccentricity = 0.016708634 - 0.000042037 * t;
    const double node_deg = 125.04 - 1934.136 * t;
    const double sin_node = sin_deg(node_deg);
    constexpr double aberration_deg = -0.00569;
    const double longitude_deg = mean_longitude_deg + centre_deg + disturbed_deg + aberration_deg - 0.00478 * sin_node;
    const double obliquity_deg = 23.4392911 - 0.0130042 * t + 0.00256 * cos_deg(node_deg);
    const double sin_longitude = sin_deg(longitude_deg);
    const double ascension_deg = atan2_deg(cos_deg(obliquity_deg) * sin_longitude, cos_deg(longitude_deg));
    const double centuries_ut = days / days_per_century;
    const double sidereal_deg = 280.46061837 + 360.98564736629 * days + 0.000387933 * centuries_ut * centuries_ut -
                                0.00478 * sin_node * cos_deg(obliquity_deg);
    SunEphemeris sun;
    sun.greenwich_hour_angle_deg = turned_to_zero_deg(sidereal_deg - ascension_deg);
    sun.declination_deg = asin_deg(sin_deg(obliquity_deg) * sin_longitude);
    sun.distance_au =
        1.000001018 * (1.0 - eccentricity * eccentricity) / (1.0 + eccentricity * cos_deg(anomaly_deg + centre_deg));
    return sun;
}

SunDirection sun_direction(const SunEphemeris& sun, const Observer& from) {
    const double hour_angle_deg = sun.greenwich_hour_angle_deg + from.longitude_deg;
    const double sin_latitude = sin_deg(from.latitude_deg);
    const double cos_latitude = cos_deg(from.latitude_deg);
    // The place and the sun from the middle of the Earth, in earth radii: towards the meridian, east, north pole.
    const double reduced = std::atan2(polar_over_equatorial_radius * sin_latitude, cos_latitude);
    const double height = from.height_m / earth_radius_m;
    const double place_meridian = std::cos(reduced) + height * cos_latitude;
    const double place_pole = polar_over_equatorial_radius * std::sin(reduced) + height * sin_latitude;
    const double radii = sun.distance_au * astronomical_unit_m / earth_radius_m;
    const double cos_declination = cos_deg(sun.declination_deg);
    const double meridian = radii * cos_declination * cos_deg(hour_angle_deg) - place_meridian;
    const double east = -radii * cos_declination * sin_deg(hour_angle_deg);
    const double pole = radii * sin_deg(sun.declination_deg) - place_pole;
    const double up = meridian * cos_latitude + pole * sin_latitude;
    const double north = pole * cos_latitude - meridian * sin_latitude;
    const double distance = std::sqrt(up * up + north * north + east * east);
    SunDirection out;
    out.east_ratio = east / distance;
    out.north_ratio = north / distance;
    out.up_ratio = up / distance;
    out.elevation_deg = asin_deg(out.up_ratio);
    out.azimuth_deg = turned_to_positive_deg(atan2_deg(east, north));
    return out;
}

double refraction_deg(double elevation_deg, double pressure_pa, Celsius air) {
    if (elevation_deg < -0.83) return 0.0;
    return pressure_pa / 101000.0 * 283.0 / (273.0 + air.degc) * 1.02 /
           (60.0 * tan_deg(elevation_deg + 10.3 / (elevation_deg + 5.11)));
}

double incidence_cosine(const SunDirection& sun, double tilt_deg, double azimuth_deg) {
    return cos_deg(tilt_deg) * sun.up_ratio +
           sin_deg(tilt_deg) * (cos_deg(azimuth_deg) * sun.north_ratio + sin_deg(azimuth_deg) * sun.east_ratio);
}

SunDay sun_day(CivilDate date, const Observer& at) {
    constexpr double degrees_per_h = 15.0;
    SunDay day;
    // The sun gains or loses under half a minute a day on mean time, so each round leaves an hour-angle error a
    // thousandth of the last.
    day.transit_h = 12.0 - at.longitude_deg / degrees_per_h;
    const auto hour_angle_deg = [&](const SunEphemeris& sun) {
        return turned_to_zero_deg(sun.greenwich_hour_angle_deg + at.longitude_deg);
    };
    SunEphemeris sun;
    for (int round = 0; round < 3; ++round) {
        sun = sun_ephemeris(Moment::of(date, day.transit_h));
        day.transit_h -= hour_angle_deg(sun) / degrees_per_h;
    }
    day.transit_elevation_deg = sun_direction(sun, at).elevation_deg;

    const double sin_latitude = sin_deg(at.latitude_deg);
    const double cos_latitude = cos_deg(at.latitude_deg);
    const auto edge = [&](double sign) -> std::optional<double> {
        double h = day.transit_h;
        for (int round = 0; round < 6; ++round) {
            sun = sun_ephemeris(Moment::of(date, h));
            const double cosine = (sin_deg(rise_elevation_deg) - sin_latitude * sin_deg(sun.declination_deg)) /
                                  std::max(cos_latitude * cos_deg(sun.declination_deg), 1e-12);
            if (!(cosine > -1.0 && cosine < 1.0)) {
                day.up_all_day = day.up_all_day || cosine <= -1.0;
                return std::nullopt;
            }
            const double wanted_deg = sign * std::acos(cosine) / radians_per_degree;
            h += turned_to_zero_deg(wanted_deg - hour_angle_deg(sun)) / degrees_per_h;
        }
        return h;
    };
    day.rise_h = edge(-1.0);
    day.set_h = edge(1.0);
    return day;
}

}  // namespace plait::physics
