#include "weather_file.hpp"

#include <plait/input/read_weather_file.hpp>
#include <plait/study/light_series.hpp>

namespace plait::cli {
namespace {

constexpr const char* no_place =
    "there is no place, so nobody knows where the sun is; add to [site] the lines latitude = 48.1, longitude = 11.6 and "
    "from_utc = 1 with your own figures, and a [[plane]] with tilt and azimuth (docs/input.md)";

}  // namespace

Result<WeatherSeries> weather_of(const WeatherChoice& choice, const Setup& setup, const std::string& setup_file,
                                 Session& session) {
    const auto fault = [](const std::string& file, const std::string& message) {
        return Failure{Diagnostics{{file, 0, 0, message}}};
    };
    if (choice.file.empty()) {
        if (!setup.location) return fault(setup_file, no_place);
        return study::climate_year(setup, choice.year.value_or(2025));
    }
    const Result<std::string, std::string> text = session.read_long_file(choice.file);
    if (!text) return fault(choice.file, text.error());
    if (input::looks_like_epw(*text)) {
        Result<WeatherSeries> read = input::read_epw(*text, choice.file);
        if (read && !setup.location && !read->location) return fault(setup_file, no_place);
        return read;
    }
    if (!setup.location) return fault(setup_file, no_place);
    input::WeatherTableForm form{*setup.location, choice.wall_clock, std::nullopt};
    if (choice.stamps == "begin") form.stamps = StampMeaning::interval_begin;
    if (choice.stamps == "end") form.stamps = StampMeaning::interval_end;
    return input::read_weather_table(*text, choice.file, form);
}

}  // namespace plait::cli
