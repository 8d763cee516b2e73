#include "command.hpp"
#include "time_options.hpp"
#include "weather_file.hpp"

#include <plait/base/civil_date.hpp>
#include <plait/input/read_charging.hpp>
#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/study/charge_sheet.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>

#include <fmt/core.h>

#include <optional>
#include <utility>

namespace plait::cli {
namespace {

constexpr const char* no_storage =
    "there is no [storage], so there is nothing to charge; add [storage] with at least capacity = \"… Wh\", better with "
    "charge_power = \"… W\", taper_from = \"… %\", charge_efficiency = \"… %\" and a [[storage.load]] (docs/input.md)";

/// The question as typed.
struct Asked {
    study::ChargeAsk ask;
    std::optional<double> wall_w;  ///< what the wall gives at most; 0: there is none; absent: as in the file
};

void set_wall(Storage& storage, double limit_w) {
    if (!(limit_w > 0.0)) return storage.wall.reset();
    if (!storage.wall) storage.wall.emplace();
    storage.wall->limit_w = limit_w;
}

Result<Asked> asked_of(const ChargeOptions& o, const Setup& setup) {
    Asked asked;
    Diagnostics complaints;
    const auto take = [&](const auto& read, auto store) {
        if (read) {
            store(*read);
        } else {
            complaints.insert(complaints.end(), read.error().begin(), read.error().end());
        }
    };
    asked.ask.from_ratio = 1.0 - setup.storage->usable_ratio;
    if (setup.location && setup.location->in_the_south()) asked.ask.day.month = 12;
    if (o.from) take(input::read_charge_ratio(*o.from, "--from"), [&](double v) { asked.ask.from_ratio = v; });
    take(input::read_charge_ratio(o.to, "--to"), [&](double v) { asked.ask.to_ratio = v; });
    if (o.at) take(input::read_time_of_day_h(*o.at, "--at"), [&](double v) { asked.ask.at_h = v; });
    if (o.day) {
        take(asked_day(*o.day, setup), [&](const study::HarvestPeriod& d) { asked.ask.day = d; });
    }
    if (o.wall) {
        take(input::read_wall_power_w(*o.wall, "--wall"),
             [&](const std::optional<double>& watts) { asked.wall_w = watts.value_or(0.0); });
    }
    if (complaints.empty() && !(asked.ask.to_ratio > asked.ask.from_ratio)) {
        complaints.push_back(
            {"--to", 0, 0, Complaint::disagreement,
             fmt::format("it begins with {:.0f} % and is to become {:.0f} %; write a --to above --from",
                         100.0 * asked.ask.from_ratio, 100.0 * asked.ask.to_ratio)});
    }
    if (!complaints.empty()) return Failure{std::move(complaints)};
    return asked;
}

study::Skies skies_of(const ChargeOptions& o, const Setup& setup, const WeatherSeries& weather) {
    if (o.weather.file.empty()) {
        return setup.climate.daily_global_wh_per_m2 ? study::Skies::monthly : study::Skies::clear;
    }
    return weather.pieced_together ? study::Skies::typical : study::Skies::measured;
}

}  // namespace

CommandResult run_command(const ChargeOptions& o, Session& session) {
    Result<Setup> setup_read = setup_of(o.file, session);
    if (!setup_read) return refused(setup_read.error());
    Setup setup = *std::move(setup_read);
    if (!setup.storage) return refused(o.file, Complaint::missing, no_storage);
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    const Result<Asked> asked = asked_of(o, setup);
    if (!asked) return refused(asked.error());
    if (asked->wall_w) set_wall(*setup.storage, *asked->wall_w);
    const Result<ReadWeather> read = weather_of(o.weather, asked->ask.day.year, study::DaysOfMonth::alike, o.file, setup, session);
    if (!read) return refused(read.error());
    const WeatherSeries& weather = read->series;
    if (weather.hours.empty()) return refused(o.weather.file, Complaint::no_rows, "has no rows of weather");

    const study::SystemModel system(setup);
    const study::LightSeries light = study::light_series(setup, weather);
    const study::Skies skies = skies_of(o, setup, weather);
    const auto first = study::first_of_day(light, asked->ask.day, skies != study::Skies::measured);
    if (!first) {
        return refused("--day", Complaint::no_answer,
                       fmt::format("the weather does not have that day; it goes from {} to {}",
                                   iso_date(light.hours.front().day), iso_date(light.hours.back().day)));
    }
    const study::LookedUp looked_up = study::judge_and_look_up(system, *plan);
    const study::Judgement& judgement = looked_up.judgement;
    if (const auto figure = study::impossible_figure(system, judgement)) return impossible(*figure);
    // One day has the mean light of its month; how many days of a month do something, only unlike days can say.
    std::optional<study::LightSeries> mixed;
    if (skies == study::Skies::monthly) {
        mixed = study::light_series(setup, study::climate_year(setup, year_of(date_of(light.hours[*first].day)), study::DaysOfMonth::mixed));
    }
    const study::ChargeSheet sheet =
        study::charge_sheet(system, *plan, light, *setup.storage, asked->ask, *first, skies, mixed ? &*mixed : nullptr);
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::charge_json(setup, judgement, sheet); };
    if (o.form.csv) data = [&] { return output::charge_csv(setup, judgement, sheet); };
    CommandResult result =
        shown(exit_code_of(judgement.verdict), o.form, session,
              output::charge_report(setup, judgement, sheet,
                                    session.provenance(o.weather.file.empty() ? o.file : o.file + ", " + o.weather.file, o.form)),
              data);
    if (!o.form.svg.empty()) {
        result.files.push_back(
            picture_file(o.form, output::charge_svg(setup, sheet, judgement.verdict, output::PictureUse::in_file)));
    }
    return result;
}

}  // namespace plait::cli
