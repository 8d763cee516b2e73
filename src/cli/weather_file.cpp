#include "weather_file.hpp"

#include <plait/input/read_weather_file.hpp>
#include <plait/study/light_series.hpp>

namespace plait::cli {
namespace {

constexpr const char* no_place =
    "there is no place, so nobody knows where the sun is; add to [site] the lines latitude = 48.1, longitude = 11.6 and "
    "from_utc = 1 with your own figures (from_utc: hours that standard time is ahead of universal time), and a [[plane]] with "
    "tilt and azimuth (docs/input.md)";

Failure<Diagnostics> fault(const std::string& file, Complaint kind, const std::string& message) {
    return Failure{Diagnostics{{file, 0, 0, kind, message}}};
}

template <class Models, class Model>
void choose(const Models& models, const std::optional<std::string>& typed, Model& to) {
    if (!typed) return;
    for (const auto m : models) {
        if (name_of(m) == *typed) to = m;
    }
}

Result<WeatherSeries> read_series(const WeatherOptions& o, const std::string& setup_file, const Setup& setup, Session& session) {
    const Result<std::string, std::string> text = session.read_long_file(o.file);
    if (!text) return fault(o.file, Complaint::unreadable, text.error());
    if (input::looks_like_epw(*text)) return input::read_epw(*text, o.file);
    if (!setup.location) return fault(setup_file, Complaint::missing, no_place);
    input::WeatherTableForm form{*setup.location, o.wall_clock, std::nullopt};
    if (o.stamps) form.stamps = *o.stamps == "end" ? StampMeaning::interval_end : StampMeaning::interval_begin;
    return input::read_weather_table(*text, o.file, form);
}

}  // namespace

Result<ReadWeather> weather_of(const WeatherOptions& o, std::optional<int> year, study::DaysOfMonth days,
                               const std::string& setup_file, Setup& setup, Session& session) {
    choose(sky_models, o.sky, setup.light_models.sky);
    choose(incidence_models, o.glass, setup.light_models.incidence);
    if (o.warmth) setup.light_models.warming.emplace();
    if (o.warmth) choose(warming_models, o.warmth, *setup.light_models.warming);
    ReadWeather out;
    if (!o.file.empty()) {
        Result<WeatherSeries> read = read_series(o, setup_file, setup, session);
        if (!read) return Failure{read.error()};
        out.series = *std::move(read);
        out.from_file = true;
        if (!setup.location && out.series.location) {
            setup.location = out.series.location;
            out.series.notes.emplace_back("The place is that of the weather file: the set-up has none.");
        }
    }
    if (!setup.location) return fault(setup_file, Complaint::missing, no_place);
    if (out.from_file) return out;
    constexpr int usual_year = 2025;
    out.series = study::climate_year(setup, year.value_or(usual_year), days);
    out.dimmed = setup.climate.daily_global_wh_per_m2.has_value();
    return out;
}

}  // namespace plait::cli
