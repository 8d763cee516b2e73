// The weather behind --weather, or clear days where there is none.
#pragma once

#include <plait/base/result.hpp>
#include <plait/model/setup.hpp>
#include <plait/model/weather.hpp>

#include "session.hpp"

#include <optional>
#include <string>

namespace plait::cli {

/// What was typed of it.
struct WeatherChoice {
    std::string file;         ///< empty: none
    std::string stamps;       ///< of a table: "begin", "end" or empty
    bool wall_clock = false;  ///< of a table: its times follow the clock on the wall
    std::optional<int> year;  ///< of clear days
};

/// Weather with a place: that of the set-up, or of the file. Complaints about the set-up name `setup_file`.
[[nodiscard]] Result<WeatherSeries> weather_of(const WeatherChoice& choice, const Setup& setup,
                                               const std::string& setup_file, Session& session);

}  // namespace plait::cli
