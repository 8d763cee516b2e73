// What the header of a plain weather table calls its columns.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

enum class WeatherColumn : unsigned char { time, date, global, direct_normal, diffuse, air, wind, pressure, albedo };

struct WeatherHeading {
    WeatherColumn column = WeatherColumn::time;
    double factor = 1.0;  ///< value = number·factor + offset, in W/m², °C, m/s, Pa, 1
    double offset = 0.0;
    bool energy = false;  ///< Wh/m² in the interval: still to be parted by its length
    bool unit_given = false;
    std::string bad_unit{};  ///< not empty: known, but not in this unit
};

/// The column a header cell names: "GHI", "ghi [W/m²]", "Direct normal irradiance (Wh/m2)", "air_temperature_F" …;
/// empty if none.
[[nodiscard]] std::optional<WeatherHeading> weather_heading(std::string_view cell);

/// "a light (W/m²)": for messages.
[[nodiscard]] std::string_view describe(WeatherColumn column);

/// Whether its values have a unit: times and the albedo have none.
[[nodiscard]] bool has_unit(WeatherColumn column);

struct WeatherLimits {
    double least;
    double most;
};
[[nodiscard]] WeatherLimits limits_of(WeatherColumn column);

}  // namespace plait::input
