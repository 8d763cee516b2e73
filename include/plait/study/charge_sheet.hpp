// When a battery is full: one day's charging from a stated charge on, the days after it until the wanted charge is
// reached, and how the other days of the year would go. What the battery does: docs/battery.md.
#pragma once

#include <plait/study/battery_run.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/system_model.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

namespace plait::study {

/// How long it is waited for the wanted charge.
inline constexpr int most_charge_days = 14;

/// What the light is made of.
enum class Skies {
    clear,    ///< no weather: every day clear
    monthly,  ///< no weather: the site's light by month, one day has its month's mean, a month clear days and dull ones
    typical,  ///< a file pieced together from usual months: its years say nothing
    measured  ///< a file of days that have been
};

struct ChargeAsk {
    double from_ratio = 0.0;
    double to_ratio = 1.0;
    HarvestPeriod day{HarvestSpan::day, 6, 21, std::nullopt};
    std::optional<double> at_h;  ///< standard time, 0 … 24; absent: the interval in which light begins, else midnight
};

/// A stretch of the first day in which one thing sets the pace.
struct ChargeSpan {
    double from_h = 0.0;  ///< since midnight of the first day
    double to_h = 0.0;
    ChargeLimit limit = ChargeLimit::idle;
    double offered_wh = 0.0;  ///< by the sun
    double solar_used_wh = 0.0;
    double wall_wh = 0.0;
    double end_ratio = 0.0;
};

/// What the days of a month come to, each begun with the same charge at the same time.
struct ChargeMonth {
    int month = 1;
    std::size_t days = 0;
    std::size_t reached = 0;          ///< days on which the wanted charge is reached before midnight
    std::optional<double> usual_h;    ///< the middle of the times at which it is, standard time
    double mean_offered_wh = 0.0;     ///< by the sun, midnight to midnight
    double mean_turned_away_wh = 0.0;
    double middle_highest_ratio = 0.0;  ///< of the highest charge of each day
};

struct ChargeSheet {
    Storage storage;  ///< as it is run
    Skies skies = Skies::clear;
    ChargeAsk ask;
    int day = 0;                    ///< the first, since 1970-01-01
    double start_h = 0.0;           ///< standard time of that day
    bool start_is_dawn = false;     ///< nobody asked for another time
    LightSeries light;              ///< from midnight of the first day on: fourteen days, or as many as there are
    std::size_t first = 0;          ///< interval of `light` in which it begins
    std::vector<double> offered_w;  ///< by the sun to the battery, by interval of `light`
    std::size_t day_intervals = 0;  ///< of the first day
    HarvestYear harvest;            ///< of the first day, midnight to midnight
    BatteryRun run;                 ///< to the end of `light`
    BatteryRun first_day;           ///< the same to midnight
    std::optional<BatteryRun> sun_alone;  ///< where a wall takes part: the run without it
    std::vector<ChargeSpan> spans;        ///< of the first day
    std::vector<ChargeMonth> months;      ///< rising; empty where the weather covers less than four weeks
    std::size_t dark_intervals = 0;       ///< of the first day, by day: light unknown, counted as none
    bool own_use_is_drain = false;        ///< [losses] own_use is counted as the drain, as the battery states none
    /// Hours since midnight of the first day, of hours since the start.
    [[nodiscard]] double clock_h(double after_start_h) const { return start_h + after_start_h; }
    /// What the sun offers on the first day before it begins.
    [[nodiscard]] double offered_before_wh() const { return harvest.total.delivered_wh - first_day.offered_wh(); }
    /// Intervals of `run` until the end of the day on which it ends.
    [[nodiscard]] std::size_t shown_intervals() const;
    /// When one of the runs reaches the wanted charge.
    struct Reached {
        int days_later = 0;   ///< whole days after the first
        double time_h = 0.0;  ///< standard time of that day
    };
    [[nodiscard]] std::optional<Reached> reached(const BatteryRun& by) const;
    /// Hours from the start until the wanted charge, as `run` has it.
    [[nodiscard]] const std::optional<double>& target_h() const { return run.target_h; }
    /// Whole days after the first on which it is reached.
    [[nodiscard]] int days_later() const;
    /// Standard time of that day.
    [[nodiscard]] double target_time_h() const;
};

/// `first` is that day's first interval. Unless the days are measured ones, the series begins again after its end, as a
/// typical year does. `storage` is the set-up's, or made from it. `months_light` is what `months` are counted in, where that
/// is another series than the one that is run through (`Skies::monthly`).
[[nodiscard]] ChargeSheet charge_sheet(const SystemModel& system, const ArrayPlan& plan, const LightSeries& light,
                                       const Storage& storage, const ChargeAsk& ask, std::size_t first, Skies skies,
                                       const LightSeries* months_light = nullptr);

}  // namespace plait::study
