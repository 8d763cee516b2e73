// A battery's day as data.
#include <plait/base/civil_date.hpp>
#include <plait/base/names.hpp>
#include <plait/output/data.hpp>
#include <plait/study/charge_sheet.hpp>
#include <plait/study/judgement.hpp>

#include "csv_field.hpp"
#include "json_parts.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

using study::ChargeLimit;
using study::ChargeSheet;

/// Hours since midnight of the first day as a stamp of standard time, to the minute.
std::string stamp_text(const ChargeSheet& s, double h) {
    const auto minutes = static_cast<long>(std::lround(60.0 * h));
    return fmt::format("{}T{:02d}:{:02d}", iso_date(s.day + static_cast<int>(minutes / 1440)), minutes / 60 % 24,
                       minutes % 60);
}

std::string_view name_of(study::Skies skies) {
    static constexpr Names names{Name{study::Skies::clear, "clear"}, Name{study::Skies::monthly, "monthly"},
                                 Name{study::Skies::typical, "typical"}, Name{study::Skies::measured, "measured"}};
    return name_in(names, skies);
}

template <class Values>
Json by_limit(const Values& values) {
    Json j = Json::object();
    for (std::size_t i = 0; i < study::charge_limit_count; ++i) {
        j[std::string(study::name_of(static_cast<ChargeLimit>(i)))] = number(values[i]);
    }
    return j;
}

Json run_json(const ChargeSheet& s, const study::BatteryRun& run) {
    return {{"reached", run.target_h.has_value()},
            {"reached_after_h", maybe(run.target_h)},
            {"reached_at", run.target_h ? Json(stamp_text(s, s.clock_h(*run.target_h))) : Json(nullptr)},
            {"end_ratio", number(run.end_ratio)},
            {"lowest_ratio", number(run.lowest_ratio)},
            {"solar_used_wh", number(run.solar_used_wh)},
            {"turned_away_wh", number(run.turned_away_wh)},
            {"turned_away_by_wh", by_limit(run.turned_away_by_wh)},
            {"limited_h", by_limit(run.limited_h)},
            {"wall_wh", number(run.wall_wh)},
            {"load_wh", number(run.load_wh)},
            {"unserved_wh", number(run.unserved_wh)},
            {"unserved_h", number(run.unserved_h)},
            {"drain_wh", number(run.drain_wh)},
            {"charge_loss_wh", number(run.charge_loss_wh)},
            {"discharge_loss_wh", number(run.discharge_loss_wh)}};
}

}  // namespace

std::string charge_json(const Setup& setup, const study::Judgement& judgement, const ChargeSheet& s) {
    Json j = head("charge");
    j["title"] = setup.title;
    j.update(verdict_json(setup, judgement));
    j["light"] = name_of(s.skies);
    j["light_name"] = s.light.name;
    j["from_ratio"] = number(s.ask.from_ratio);
    j["to_ratio"] = number(s.ask.to_ratio);
    j["begins"] = stamp_text(s, s.start_h);
    j["begins_at_first_light"] = s.start_is_dawn;
    j["capacity_wh"] = number(s.storage.capacity_wh);
    j["wall_w"] = s.storage.wall ? number(s.storage.wall->limit_w) : Json(nullptr);
    j["autonomy_days"] = maybe(study::autonomy_days(s.storage));
    j["daily_load_wh"] = number(study::daily_load_wh(s.storage));
    j["standing_drain_w"] = number(s.storage.standing_drain_w);
    j["day_offered_wh"] = number(s.harvest.total.delivered_wh);
    j["day"] = run_json(s, s.first_day);
    j["run"] = run_json(s, s.run);
    j["sun_alone"] = s.sun_alone ? run_json(s, *s.sun_alone) : Json(nullptr);
    j["highest_of_day_ratio"] = number(s.first_day.highest().charge_ratio);
    j["highest_ratio"] = number(s.run.highest().charge_ratio);
    j["spans"] = Json::array();
    for (const study::ChargeSpan& span : s.spans) {
        j["spans"].push_back({{"begins", stamp_text(s, span.from_h)},
                              {"ends", stamp_text(s, span.to_h)},
                              {"limit", study::name_of(span.limit)},
                              {"offered_wh", number(span.offered_wh)},
                              {"solar_used_wh", number(span.solar_used_wh)},
                              {"wall_wh", number(span.wall_wh)},
                              {"charge_ratio", number(span.end_ratio)}});
    }
    j["intervals"] = Json::array();
    const std::size_t shown = s.shown_intervals();
    for (std::size_t i = 0; i < shown; ++i) {
        const study::BatteryStep& step = s.run.steps[i];
        j["intervals"].push_back({{"begins", stamp_text(s, s.clock_h(step.from_h))},
                                  {"hours", number(step.run_h)},
                                  {"offered_w", number(s.offered_w[s.first + i])},
                                  {"solar_used_w", number(step.solar_used_w)},
                                  {"turned_away_w", number(step.turned_away_w)},
                                  {"wall_w", number(step.wall_w)},
                                  {"load_w", number(step.load_w)},
                                  {"unserved_w", number(step.unserved_w)},
                                  {"charge_ratio", number(step.charge_ratio)},
                                  {"limit", study::name_of(step.limit)},
                                  {"air_degc", number(s.light.hours[s.first + i].air.degc)}});
    }
    j["months"] = Json::array();
    for (const study::ChargeMonth& m : s.months) {
        j["months"].push_back({{"month", m.month},
                               {"days", m.days},
                               {"reached_days", m.reached},
                               {"usual_time_h", maybe(m.usual_h)},
                               {"middle_highest_ratio", number(m.middle_highest_ratio)},
                               {"mean_offered_wh", number(m.mean_offered_wh)},
                               {"mean_turned_away_wh", number(m.mean_turned_away_wh)}});
    }
    j["notes"] = s.light.notes;
    j["cautions"] = cautions_json(judgement.cautions);
    return printed(j);
}

std::string charge_csv(const Setup& setup, const study::Judgement& judgement, const ChargeSheet& s) {
    std::string out =
        csv_remark("charge", setup, judgement.verdict) +
        "begins,hours,offered_w,solar_used_w,turned_away_w,wall_w,load_w,unserved_w,charge_ratio,limit,air_degc\n";
    const std::size_t shown = s.shown_intervals();
    for (std::size_t i = 0; i < shown; ++i) {
        const study::BatteryStep& step = s.run.steps[i];
        out +=
            fmt::format("{},{},{},{},{},{},{},{},{},{},{}\n", stamp_text(s, s.clock_h(step.from_h)), step.run_h, s.offered_w[s.first + i],
                        step.solar_used_w, step.turned_away_w, step.wall_w, step.load_w, step.unserved_w,
                        step.charge_ratio, study::name_of(step.limit), s.light.hours[s.first + i].air.degc);
    }
    return out;
}

}  // namespace plait::output
