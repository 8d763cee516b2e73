#include <plait/study/charge_sheet.hpp>

#include <plait/base/civil_date.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace plait::study {
namespace {

constexpr std::size_t least_days_for_months = 28;

/// So many intervals of a series; after its end from its beginning on.
LightSeries stretch_of(const LightSeries& light, std::size_t first, std::size_t count) {
    std::vector<std::size_t> intervals(count);
    for (std::size_t i = 0; i < count; ++i) intervals[i] = (first + i) % light.hours.size();
    return part_of(light, intervals);
}

std::size_t intervals_of_day(const LightSeries& light, std::size_t first) {
    std::size_t count = 0;
    while (first + count < light.hours.size() && light.hours[first + count].day == light.hours[first].day) ++count;
    return count;
}

/// Where in a day it begins: the interval, and how much of that has passed.
struct Begin {
    std::size_t interval = 0;  // of the day
    double skipped_h = 0.0;
    double start_h = 0.0;
    bool dawn = false;
};

Begin begin_of(const LightSeries& light, std::size_t first, std::size_t count, const std::optional<double>& at_h) {
    Begin begin;
    begin.start_h = light.hours[first].local_h;
    for (std::size_t i = 0; i < count; ++i) {
        const LightHour& h = light.hours[first + i];
        if (!at_h) {
            if (!(h.global_w_per_m2 > 0.0)) continue;
            return {i, 0.0, h.local_h, true};
        }
        if (h.local_h > *at_h + 1e-9) break;
        begin = {i, std::min(*at_h - h.local_h, light.step_h), *at_h, false};
    }
    return begin;
}

std::vector<ChargeSpan> spans_of(const BatteryRun& run, std::size_t first, const std::vector<double>& offered_w,
                                 double start_h) {
    std::vector<ChargeSpan> spans;
    for (std::size_t i = 0; i < run.steps.size(); ++i) {
        const BatteryStep& step = run.steps[i];
        const double at_h = start_h + step.from_h;
        if (spans.empty() || spans.back().limit != step.limit) spans.push_back({at_h, at_h, step.limit});
        ChargeSpan& span = spans.back();
        span.to_h = start_h + step.to_h();
        span.offered_wh += offered_w[first + i] * step.run_h;
        span.solar_used_wh += step.solar_used_w * step.run_h;
        span.wall_wh += step.wall_w * step.run_h;
        span.end_ratio = step.charge_ratio;
    }
    return spans;
}

double middle(std::vector<double>& values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

std::vector<ChargeMonth> months_of(const LightSeries& light, const std::vector<double>& offered_w,
                                   const Storage& storage, const ChargeAsk& ask) {
    struct Days {
        ChargeMonth month;
        std::vector<double> times_h;
        std::vector<double> highest;
    };
    std::array<Days, 12> all;
    std::size_t days = 0;
    for (std::size_t i = 0; i < light.hours.size();) {
        const std::size_t count = intervals_of_day(light, i);
        const bool whole = static_cast<double>(count) * light.step_h > 24.0 - 1e-6;
        Days& here = all[static_cast<std::size_t>(light.hours[i].month - 1)];
        if (whole) {
            const Begin begin = begin_of(light, i, count, ask.at_h);
            const BatteryRun run =
                battery_run(storage, light, offered_w,
                            {i + begin.interval, count - begin.interval, ask.from_ratio, ask.to_ratio, begin.skipped_h});
            ++days;
            ++here.month.days;
            here.highest.push_back(run.highest().charge_ratio);
            if (run.target_h) {
                ++here.month.reached;
                here.times_h.push_back(begin.start_h + *run.target_h);
            }
            for (std::size_t k = 0; k < count; ++k) here.month.mean_offered_wh += offered_w[i + k] * light.step_h;
            here.month.mean_turned_away_wh += run.turned_away_wh;
        }
        i += count;
    }
    std::vector<ChargeMonth> months;
    if (days < least_days_for_months) return months;
    for (std::size_t m = 0; m < all.size(); ++m) {
        Days& d = all[m];
        if (d.month.days == 0) continue;
        d.month.month = static_cast<int>(m) + 1;
        d.month.mean_offered_wh /= static_cast<double>(d.month.days);
        d.month.mean_turned_away_wh /= static_cast<double>(d.month.days);
        d.month.middle_highest_ratio = middle(d.highest);
        if (!d.times_h.empty()) d.month.usual_h = middle(d.times_h);
        months.push_back(d.month);
    }
    return months;
}

}  // namespace

std::optional<ChargeSheet::Reached> ChargeSheet::reached(const BatteryRun& by) const {
    if (!by.target_h) return std::nullopt;
    const double at_h = clock_h(*by.target_h);
    const int later = static_cast<int>(std::floor(at_h / 24.0 + 1e-9));
    return Reached{later, at_h - 24.0 * later};
}

int ChargeSheet::days_later() const { return reached(run).value_or(Reached{}).days_later; }
double ChargeSheet::target_time_h() const { return reached(run).value_or(Reached{}).time_h; }
std::size_t ChargeSheet::shown_intervals() const {
    const double end_h = 24.0 * (run.target_h ? days_later() + 1 : most_charge_days);
    std::size_t count = 0;
    while (count < run.steps.size() && clock_h(run.steps[count].from_h) < end_h - 1e-6) ++count;
    return count;
}

ChargeSheet charge_sheet(const SystemModel& system, const ArrayPlan& plan, const LightSeries& light,
                         const Storage& storage, const ChargeAsk& ask, std::size_t first, Skies skies,
                         const LightSeries* months_light) {
    assert(first < light.hours.size() && storage.capacity_wh > 0.0);
    ChargeSheet sheet;
    sheet.storage = storage;
    sheet.skies = skies;
    sheet.ask = ask;
    sheet.day = light.hours[first].day;
    // The station's own draw is the battery's drain under another name; both are not counted.
    const double own_use_w = system.setup().losses.own_use_w.value_or(0.0);
    if (own_use_w > 0.0 && !(storage.standing_drain_w > 0.0)) {
        sheet.storage.standing_drain_w = own_use_w;
        sheet.own_use_is_drain = true;
    }
    const std::vector<double> whole_w = HarvestStudy(system, light).run(plan).delivered_w;
    const auto wanted = static_cast<std::size_t>(std::lround(24.0 * most_charge_days / light.step_h));
    const std::size_t count = std::min(wanted, skies != Skies::measured ? light.hours.size() : light.hours.size() - first);
    sheet.light = stretch_of(light, first, count);
    sheet.offered_w.reserve(count);
    for (std::size_t i = 0; i < count; ++i) sheet.offered_w.push_back(whole_w[(first + i) % whole_w.size()]);
    sheet.day_intervals = intervals_of_day(sheet.light, 0);
    const LightSeries day = stretch_of(light, first, sheet.day_intervals);
    sheet.dark_intervals = day.unknown;
    sheet.harvest = HarvestStudy(system, day).run(plan);

    const Begin begin = begin_of(sheet.light, 0, sheet.day_intervals, ask.at_h);
    sheet.first = begin.interval;
    sheet.start_h = begin.start_h;
    sheet.start_is_dawn = begin.dawn;
    BatteryAsk whole{begin.interval, 0, ask.from_ratio, ask.to_ratio, begin.skipped_h};
    sheet.run = battery_run(sheet.storage, sheet.light, sheet.offered_w, whole);
    BatteryAsk today = whole;
    today.count = sheet.day_intervals - begin.interval;
    sheet.first_day = battery_run(sheet.storage, sheet.light, sheet.offered_w, today);
    if (sheet.storage.wall) {
        Storage alone = sheet.storage;
        alone.wall.reset();
        sheet.sun_alone = battery_run(alone, sheet.light, sheet.offered_w, whole);
    }
    sheet.spans = spans_of(sheet.first_day, begin.interval, sheet.offered_w, sheet.start_h);
    sheet.months = months_light == nullptr
                       ? months_of(light, whole_w, sheet.storage, ask)
                       : months_of(*months_light, HarvestStudy(system, *months_light).run(plan).delivered_w, sheet.storage, ask);
    return sheet;
}

}  // namespace plait::study
