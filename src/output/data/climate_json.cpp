#include <plait/base/civil_date.hpp>
#include <plait/output/subjects.hpp>

#include "json_parts.hpp"

#include <fmt/core.h>

namespace plait::output {
namespace {

Json side_json(const std::optional<study::ExtremeSide>& side) {
    if (!side) return nullptr;
    Json seasons = Json::array();
    for (const study::YearExtreme& y : side->seasons) {
        seasons.push_back({{"year", y.year}, {"date", iso_date(y.day)}, {"air_degc", number(y.value_degc)}});
    }
    Json gaps = Json::array();
    for (const study::YearGap& g : side->gaps) {
        gaps.push_back({{"year", g.year}, {"missing_days", g.missing}, {"of_days", g.quarter}});
    }
    Json levels = Json::array();
    for (const study::ReturnLevel& l : side->levels) {
        levels.push_back({{"period_years", number(l.period_years)},
                          {"air_degc", number(l.level.degc)},
                          {"low_degc", number(l.low.degc)},
                          {"high_degc", number(l.high.degc)}});
    }
    return {{"record", {{"date", iso_date(side->record.day)}, {"air_degc", number(side->record.value_degc)}}},
            {"days", side->days},
            {"mean_yearly_degc", maybe(side->mean_yearly_degc)},
            {"mean_years", side->mean_years},
            {"levels", levels},
            {"shape_held", side->fit ? Json(side->fit->shape_held) : Json(nullptr)},
            {"trend_per_decade_k", side->trend ? number(side->trend->per_decade_k) : Json(nullptr)},
            {"trend_uncertain_k", side->trend ? number(side->trend->uncertain_k) : Json(nullptr)},
            {"seasons", seasons},
            {"gaps", gaps}};
}

Json station_json(const study::ClimateSheet& s) {
    return {{"id", s.id},
            {"name", s.name},
            {"in_the_south", s.in_the_south},
            {"first_day", iso_date(s.first_day)},
            {"last_day", iso_date(s.last_day)},
            {"flagged", s.flagged},
            {"cold", side_json(s.cold)},
            {"hot", side_json(s.hot)},
            {"coldest_air_degc", s.coldest_air ? number(s.coldest_air->degc) : Json(nullptr)},
            {"coldest_basis", plait::name_of(s.coldest_basis)},
            {"hottest_air_degc", s.hottest_air ? number(s.hottest_air->degc) : Json(nullptr)},
            {"hottest_basis", plait::name_of(s.hottest_basis)},
            {"site_lines", study::site_lines(s)},
            {"notes", s.notes}};
}

Json weather_json(const WeatherSeries& w) {
    Json extremes = nullptr;
    if (w.extremes) {
        Json periods = Json::array();
        for (const PeriodExtremes& p : w.extremes->periods) {
            periods.push_back({{"period_years", number(p.period_years)},
                               {"lowest_degc", number(p.lowest.degc)},
                               {"highest_degc", number(p.highest.degc)}});
        }
        extremes = {{"source", w.extremes->source},
                    {"mean_yearly_lowest_degc", number(w.extremes->mean_yearly_lowest.degc)},
                    {"mean_yearly_highest_degc", number(w.extremes->mean_yearly_highest.degc)},
                    {"periods", periods}};
    }
    return {{"name", w.name}, {"pieced_together", w.pieced_together}, {"extremes", extremes}, {"notes", w.notes}};
}

}  // namespace

std::string climate_json(const std::vector<ClimateSource>& sources) {
    Json j = head("climate");
    j["files"] = Json::array();
    for (const ClimateSource& s : sources) {
        j["files"].push_back({{"file", s.file},
                              {"station", s.sheet ? station_json(*s.sheet) : Json(nullptr)},
                              {"weather_file", s.weather ? weather_json(*s.weather) : Json(nullptr)}});
    }
    return printed(j);
}

}  // namespace plait::output
