// Weather over time, as files have it, and what weather files say of extremes.
#pragma once

#include <plait/base/temperature.hpp>
#include <plait/model/place.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait {

/// Means over one interval. Absent: not measured, or marked as missing.
struct WeatherHour {
    double start_ut_h = 0.0;                       ///< its beginning, in hours of universal time since 1970-01-01
    std::optional<double> global_w_per_m2;         ///< on flat ground
    std::optional<double> direct_normal_w_per_m2;  ///< square to the sun
    std::optional<double> diffuse_w_per_m2;        ///< from the sky, on flat ground
    std::optional<Celsius> air;
    std::optional<double> wind_m_per_s;  ///< at 10 m
    std::optional<double> pressure_pa;
    std::optional<double> albedo_ratio;
};

/// The once-in-n-years extremes of a header.
struct PeriodExtremes {
    double period_years = 0.0;
    Celsius lowest;
    Celsius highest;
};

/// What the header of a weather file says of extremes; its rows are no source of them.
struct StatedExtremes {
    std::string source;  ///< the handbook it names
    Celsius mean_yearly_lowest;
    Celsius mean_yearly_highest;
    std::vector<PeriodExtremes> periods;  ///< rising; usually 5, 10, 20, 50 years
};

/// What the stamp of a row means.
enum class StampMeaning { interval_begin, interval_end };

/// One weather file, read.
struct WeatherSeries {
    std::string name;
    std::string source;
    std::optional<Location> location;  ///< as the file says
    double step_h = 1.0;               ///< length of every interval
    bool pieced_together = false;      ///< months of different years: a typical year
    std::vector<WeatherHour> hours;    ///< in the file's order; by time, but where years are pieced together
    std::optional<StatedExtremes> extremes;
    std::vector<std::string> notes;  ///< sentences about what was skipped, assumed or is odd

    /// How many rows lack a figure.
    struct Gaps {
        std::size_t global = 0;
        std::size_t direct_normal = 0;
        std::size_t diffuse = 0;
        std::size_t air = 0;
        std::size_t wind = 0;
        std::size_t rows = 0;  ///< intervals between the first and the last for which there is no row
    } gaps;
};

/// One day's extremes of the air at a station.
struct StationDay {
    int day = 0;  ///< since 1970-01-01
    std::optional<double> lowest_degc;
    std::optional<double> highest_degc;
};

/// A station's daily record.
struct StationRecord {
    std::string id;
    std::string name;                    ///< where the file has it
    std::optional<double> latitude_deg;  ///< where the file has it
    std::optional<double> longitude_deg;
    std::optional<double> height_m;
    std::vector<StationDay> days;  ///< rising, each once; days without either value are left out
    std::size_t flagged = 0;       ///< values left out because they failed a quality check of the data set
    std::vector<std::string> notes;
};

}  // namespace plait
