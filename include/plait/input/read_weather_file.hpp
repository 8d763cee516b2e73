// Weather over time from files: EPW and plain CSV. What the forms are: docs/weather.md.
#pragma once

#include <plait/base/result.hpp>
#include <plait/model/weather.hpp>

#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

/// Reads an EPW file. Fails with every complaint, but stops after twenty.
[[nodiscard]] Result<WeatherSeries> read_epw(std::string_view text, const std::string& file);

/// What a plain table does not say of itself.
struct WeatherTableForm {
    Location location;                   ///< whose clock the stamps follow where they name no zone
    bool clock_has_summer_time = false;  ///< stamps follow the clock on the wall, summer time and all
    std::optional<StampMeaning> stamps;  ///< absent: the beginning of the interval, noted as assumed
};

/// Reads a CSV table with a header: a time column, GHI or GHI with DNI and DHI (any two make the third), air, wind.
/// Fails with every complaint, but stops after twenty.
[[nodiscard]] Result<WeatherSeries> read_weather_table(std::string_view text, const std::string& file,
                                                       const WeatherTableForm& form);

/// Whether a text begins as an EPW file does.
[[nodiscard]] bool looks_like_epw(std::string_view text);

}  // namespace plait::input
