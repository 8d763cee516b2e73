// The weather behind --weather, or clear days where there is none.
#pragma once

#include <plait/base/result.hpp>
#include <plait/model/setup.hpp>
#include <plait/model/weather.hpp>
#include <plait/study/light_series.hpp>

#include "session.hpp"

#include <optional>
#include <string>

namespace plait::cli {

struct ReadWeather {
    WeatherSeries series;
    bool from_file = false;
    bool dimmed = false;  ///< clear days, scaled to the light that the set-up states by month
};

/// Puts the models that were typed into the set-up and reads the weather. A set-up without a place gets that of the file;
/// without either, the complaint, about `setup_file`, says what to write. `year` and `days`:
/// of the year that is made where there is no file.
[[nodiscard]] Result<ReadWeather> weather_of(const WeatherOptions& o, std::optional<int> year, study::DaysOfMonth days,
                                             const std::string& setup_file, Setup& setup, Session& session);

}  // namespace plait::cli
