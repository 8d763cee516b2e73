// Weather turned into light on each plane: worked out once for a place and its planes, whatever is wired to them.
#pragma once

#include <plait/model/setup.hpp>
#include <plait/model/weather.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::study {

/// One interval's time and air.
struct LightHour {
    double start_ut_h = 0.0;     ///< since 1970-01-01
    int day = 0;                 ///< of the place's standard time, since 1970-01-01
    int month = 1;               ///< 1 … 12
    double local_h = 0.0;        ///< standard time of day at its beginning
    double elevation_deg = 0.0;  ///< of the sun at the middle of its time above the horizon, or of the interval
    double azimuth_deg = 0.0;
    Celsius air;
    double wind_m_per_s = 0.0;
    double global_w_per_m2 = 0.0;
    bool known = true;    ///< false: too little is known of its light, and nothing is counted
    bool filled = false;  ///< its light is that of its neighbours, by clearness
};

/// A plane's light, one value for each interval, W/m².
struct PlaneSeries {
    std::vector<double> open_w_per_m2;      ///< on the plane, were there no horizon
    std::vector<double> light_w_per_m2;     ///< on the plane
    std::vector<double> entering_w_per_m2;  ///< through the glass, against light from straight ahead
};

struct LightSeries {
    std::string name;
    double step_h = 1.0;
    std::vector<LightHour> hours;
    std::vector<PlaneSeries> planes;  ///< as in the set-up; one if it has none
    Plane assumed_plane;              ///< taken where the set-up states none
    bool plane_is_assumed = false;
    WarmingModel warming = WarmingModel::nominal;
    std::size_t filled = 0;          ///< intervals by day whose light is that of neighbours
    std::size_t unknown = 0;         ///< intervals by day left out
    std::size_t air_assumed = 0;     ///< intervals whose air is not known: neighbours', or the site's warm day
    double night_light_ratio = 0.0;  ///< of the global light, what fell while the sun was down: stamps or zone are off
    std::vector<std::string> notes;
    [[nodiscard]] double covered_days() const { return step_h * static_cast<double>(hours.size()) / 24.0; }
    [[nodiscard]] double filled_h() const { return step_h * static_cast<double>(filled); }
    [[nodiscard]] double unknown_h() const { return step_h * static_cast<double>(unknown); }
};

/// Set-up or weather must have a location; the set-up's goes first. Without planes one is assumed: towards the equator,
/// as steep as the latitude, at most 60°. Global light is split where direct or diffuse is missing; a gap of up to
/// three hours is filled by the clearness of its neighbours; longer ones are left out and counted.
[[nodiscard]] LightSeries light_series(const Setup& setup, const WeatherSeries& weather);

/// So many whole days of clear sky from a day (of the place's standard time, since 1970-01-01) on, by the location's
/// turbidity, with the climate's monthly air (else the warm day) and no wind.
[[nodiscard]] WeatherSeries clear_days(const Setup& setup, int first_day, int days);

/// Some intervals of a series, in the order given.
[[nodiscard]] LightSeries part_of(const LightSeries& light, const std::vector<std::size_t>& intervals);

/// How a month's days share the month's light.
enum class DaysOfMonth {
    alike,  ///< each has the mean: what one day of the month usually brings
    mixed,  ///< clear and dull ones in the usual shares (`physics::day_clearness`): what limits take over a month
};

/// A year of hours without a weather file: clear skies by the location's turbidity, scaled month by month to the
/// climate's daily light if it is stated, its monthly air (else the warm day) with no wind. 365 days from 1 January of
/// `year`.
[[nodiscard]] WeatherSeries climate_year(const Setup& setup, int year = 2025, DaysOfMonth days = DaysOfMonth::alike);

}  // namespace plait::study
