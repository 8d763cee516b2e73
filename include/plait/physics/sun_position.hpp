// Where the sun stands. Equations, sources and check figures: docs/sun.md.
#pragma once

#include <plait/base/civil_date.hpp>
#include <plait/base/temperature.hpp>

#include <optional>

namespace plait::physics {

/// A moment, in days of universal time since 2000-01-01 12:00.
struct Moment {
    double j2000_days = 0.0;

    /// `ut_h`: hours since 0:00 UT of the day; it may be below 0 or above 24.
    [[nodiscard]] static constexpr Moment of(CivilDate date, double ut_h) {
        return {day_number(date) - 10957.5 + ut_h / 24.0};  // 10957: 2000-01-01
    }
    [[nodiscard]] constexpr Moment later(double by_h) const { return {j2000_days + by_h / 24.0}; }
};

/// The sun as seen from the middle of the Earth.
struct SunEphemeris {
    double greenwich_hour_angle_deg = 0.0;  ///< westward from the meridian of Greenwich, −180 … 180
    double declination_deg = 0.0;
    double distance_au = 1.0;
};

/// The low-accuracy series of Meeus, Astronomical Algorithms (1998), chapter 25, with the five largest disturbances by
/// Venus, Jupiter and the Moon of his Astronomical Formulae for Calculators (1979), chapter 18 [from memory; they halve
/// the error]. Good to 0.006° from 1950 to 2100, with TT − UT taken as 69 s throughout; the distance to 0.00015 au.
[[nodiscard]] SunEphemeris sun_ephemeris(Moment moment);

/// North and east positive.
struct Observer {
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    double height_m = 0.0;
};

/// Towards the sun from a place, parallax counted, without air.
struct SunDirection {
    double east_ratio = 0.0;  ///< the three parts of the unit vector
    double north_ratio = 0.0;
    double up_ratio = 0.0;
    double elevation_deg = 0.0;
    double azimuth_deg = 0.0;  ///< from north through east, 0 … 360
};

[[nodiscard]] SunDirection sun_direction(const SunEphemeris& sun, const Observer& from);

/// How much the air lifts the sun: NREL/TP-560-34302 (Reda & Andreas 2004, rev. 2008), equation 42. 0 below −0.83°,
/// where the sun is not to be seen.
[[nodiscard]] double refraction_deg(double elevation_deg, double pressure_pa = 101000.0, Celsius air = {10.0});

/// cos of the angle between the sun and a plane's normal; below 0 the sun is behind the plane. A tilt of 0 looks up.
[[nodiscard]] double incidence_cosine(const SunDirection& sun, double tilt_deg, double azimuth_deg);

/// One day's sun at a place, in hours of universal time since 0:00 UT of the date; a value may fall into the day before
/// or after.
struct SunDay {
    double transit_h = 12.0;
    double transit_elevation_deg = 0.0;
    std::optional<double> rise_h;  ///< neither: the sun stays up, or down, all day
    std::optional<double> set_h;
    bool up_all_day = false;
};

/// The transit nearest to noon of local mean time on the date. Rise and set: the upper limb at a flat horizon, 34′ of
/// refraction and 16′ of radius below it.
[[nodiscard]] SunDay sun_day(CivilDate date, const Observer& at);

}  // namespace plait::physics
