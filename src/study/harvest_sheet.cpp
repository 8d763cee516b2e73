#include <plait/study/harvest_sheet.hpp>

#include <plait/base/civil_date.hpp>
#include <plait/physics/sun_position.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

// What 21 June and its like fall on in any year; the sun's way differs by minutes.
constexpr int solstice_day = 21;
constexpr int some_year = 2025;
constexpr double days_of_a_year = 365.25;

bool is_in(const LightHour& hour, const HarvestPeriod& period, int only_day) {
    if (period.span == HarvestSpan::day) return hour.day == only_day;
    if (period.year && year_of(date_of(hour.day)) != *period.year) return false;
    return period.span == HarvestSpan::year || hour.month == period.month;
}

}  // namespace

HarvestPeriod longest_day(const Location& location) {
    return {HarvestSpan::day, location.in_the_south() ? 12 : 6, solstice_day, std::nullopt};
}

HarvestPeriod shortest_day(const Location& location) {
    return {HarvestSpan::day, location.in_the_south() ? 6 : 12, solstice_day, std::nullopt};
}

std::optional<std::size_t> first_of_day(const LightSeries& light, const HarvestPeriod& day, bool any_year) {
    const bool by_year = day.year && !any_year;
    const auto first = std::find_if(light.hours.begin(), light.hours.end(), [&](const LightHour& h) {
        if (h.month != day.month) return false;
        const CivilDate date = date_of(h.day);
        return day_of(date) == day.day && (!by_year || year_of(date) == *day.year);
    });
    if (first == light.hours.end()) return std::nullopt;
    return static_cast<std::size_t>(first - light.hours.begin());
}

LightSeries light_in(const LightSeries& light, const HarvestPeriod& period) {
    if (period.span == HarvestSpan::year && !period.year) return light;
    std::vector<std::size_t> intervals;
    std::optional<std::size_t> first = 0;
    if (period.span == HarvestSpan::day) first = first_of_day(light, period);
    for (std::size_t i = first.value_or(light.hours.size()); i < light.hours.size(); ++i) {
        if (is_in(light.hours[i], period, light.hours[*first].day)) intervals.push_back(i);
    }
    return part_of(light, intervals);
}

std::vector<HarvestPart> parts_of(const LightSeries& light, const HarvestYear& harvest, HarvestStep step) {
    std::vector<HarvestPart> parts;
    std::array<std::size_t, 12> of_month{};
    std::fill(of_month.begin(), of_month.end(), light.hours.size());
    for (std::size_t i = 0; i < light.hours.size(); ++i) {
        const LightHour& h = light.hours[i];
        const double hour = std::floor(h.local_h + 1e-6);
        std::size_t place = parts.size();
        if (step == HarvestStep::month) {
            place = std::min(place, of_month[static_cast<std::size_t>(h.month - 1)]);
        } else if (!parts.empty() && parts.back().first_day == h.day && (step == HarvestStep::day || parts.back().from_h == hour)) {
            place = parts.size() - 1;
        }
        if (place == parts.size()) {
            of_month[static_cast<std::size_t>(h.month - 1)] = place;
            parts.push_back({});
            parts.back().first_day = h.day;
            parts.back().from_h = step == HarvestStep::hour ? hour : 0.0;
        }
        HarvestPart& part = parts[place];
        part.covered_h += light.step_h;
        part.possible_wh += harvest.possible_w[i] * light.step_h;
        part.limited_wh += harvest.limited_w[i] * light.step_h;
        part.delivered_wh += harvest.delivered_w[i] * light.step_h;
        if (harvest.limited_by[i]) part.limited_h[static_cast<std::size_t>(*harvest.limited_by[i])] += light.step_h;
    }
    if (step == HarvestStep::month) {
        std::sort(parts.begin(), parts.end(), [](const HarvestPart& a, const HarvestPart& b) {
            return month_of(date_of(a.first_day)) < month_of(date_of(b.first_day));
        });
    }
    return parts;
}

void HarvestPart::add(const HarvestPart& other) {
    covered_h += other.covered_h;
    possible_wh += other.possible_wh;
    limited_wh += other.limited_wh;
    delivered_wh += other.delivered_wh;
    for (std::size_t i = 0; i < limited_h.size(); ++i) limited_h[i] += other.limited_h[i];
}

HarvestPart HarvestSheet::whole() const {
    HarvestPart sum;
    for (const HarvestPart& part : parts_of(light, harvest, HarvestStep::month)) sum.add(part);
    return sum;
}

double HarvestSheet::usual_wh_or_h(double sum_wh_or_h) const {
    if (period.span == HarvestSpan::day || period.year || light.hours.empty()) return sum_wh_or_h;
    double one_days = days_of_a_year;
    if (period.span == HarvestSpan::month) {
        const auto next = civil_date(some_year + (period.month == 12 ? 1 : 0), period.month % 12 + 1, 1);
        one_days = day_number(next) - day_number(civil_date(some_year, period.month, 1));
    }
    return light.covered_days() > one_days + 1.0 ? sum_wh_or_h * one_days / light.covered_days() : sum_wh_or_h;
}

ClearDays clear_day_harvest(const SystemModel& system, const ArrayPlan& plan) {
    const auto on = [&](int month) {
        const WeatherSeries day = clear_days(system.setup(), day_number(civil_date(some_year, month, solstice_day)), 1);
        const LightSeries light = light_series(system.setup(), day);
        return HarvestStudy(system, light).run(plan).total.delivered_wh;
    };
    return {on(6), on(12)};
}

std::vector<SunWay> sun_ways(const Location& location) {
    constexpr int steps_per_h = 6;
    const physics::Observer from{location.latitude_deg, location.longitude_deg, location.height_m};
    std::vector<SunWay> ways;
    for (const int month : {6, 3, 9, 12}) {
        SunWay way{month, solstice_day, {}};
        for (int i = 0; i <= 24 * steps_per_h; ++i) {
            const double local_h = static_cast<double>(i) / steps_per_h;
            const physics::Moment then =
                physics::Moment::of(civil_date(some_year, month, solstice_day), local_h - location.from_utc_h);
            const physics::SunDirection sun = physics::sun_direction(physics::sun_ephemeris(then), from);
            if (sun.elevation_deg > 0.0) way.places.push_back({sun.azimuth_deg, sun.elevation_deg, local_h});
        }
        ways.push_back(std::move(way));
    }
    return ways;
}

}  // namespace plait::study
