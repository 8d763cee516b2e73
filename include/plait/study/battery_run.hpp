// A battery over time: what the sun and the wall put in, what loads take, and what keeps it from taking more.
// Equations and sources: docs/battery.md.
#pragma once

#include <plait/model/harvest.hpp>
#include <plait/study/light_series.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace plait::study {

/// What sets how fast it charges at a moment.
enum class ChargeLimit : unsigned char {
    idle,      ///< nothing is on offer
    offer,     ///< all that is on offer goes in
    rate,      ///< the most it may be charged with
    combined,  ///< the most wall and sun may give together
    taper,     ///< near full it takes less
    full,
    cold,  ///< below its lowest charging temperature
};
inline constexpr std::size_t charge_limit_count = 7;
[[nodiscard]] std::string_view name_of(ChargeLimit limit);

/// One interval of the series, means over it; of the first one over the part that is run.
struct BatteryStep {
    double from_h = 0.0;                    ///< since the run's start
    double run_h = 0.0;                     ///< how long it is run
    double charge_ratio = 0.0;              ///< state of charge at its end
    double solar_used_w = 0.0;              ///< into load and battery
    double turned_away_w = 0.0;             ///< of the sun
    double wall_w = 0.0;                    ///< drawn from the wall, into load and battery
    double load_w = 0.0;                    ///< served
    double unserved_w = 0.0;                ///< of the loads
    ChargeLimit limit = ChargeLimit::idle;  ///< what limited most of it
    [[nodiscard]] double to_h() const { return from_h + run_h; }
};

/// The highest charge of a run, and when it is reached, from the start.
struct HighestCharge {
    double charge_ratio = 0.0;
    double after_h = 0.0;  ///< 0 where it never rises
};

struct BatteryRun {
    std::vector<BatteryStep> steps;
    double start_ratio = 0.0;
    double end_ratio = 0.0;
    double lowest_ratio = 0.0;
    double solar_used_wh = 0.0;
    double turned_away_wh = 0.0;
    double wall_wh = 0.0;
    double load_wh = 0.0;
    double unserved_wh = 0.0;
    double drain_wh = 0.0;
    double charge_loss_wh = 0.0;                         ///< between what is put in and what is stored
    double discharge_loss_wh = 0.0;                      ///< between what is drawn and what loads get
    std::array<double, charge_limit_count> limited_h{};  ///< hours under each limit, with something on offer
    std::array<double, charge_limit_count> turned_away_by_wh{};  ///< of the sun, by what kept it out
    std::optional<double> target_h;                      ///< when the wanted state was first reached, from the start
    double unserved_h = 0.0;                             ///< hours in which a load was not fully served

    /// Of the sun, by what kept it out.
    [[nodiscard]] double kept_out_wh(ChargeLimit limit) const { return turned_away_by_wh[static_cast<std::size_t>(limit)]; }
    /// Of the sun, above the charge power or near full.
    [[nodiscard]] double kept_out_by_pace_wh() const { return kept_out_wh(ChargeLimit::rate) + kept_out_wh(ChargeLimit::taper); }
    /// By the sun, while it is run.
    [[nodiscard]] double offered_wh() const { return solar_used_wh + turned_away_wh; }
    /// From sun and wall, into loads and battery.
    [[nodiscard]] double taken_wh() const { return solar_used_wh + wall_wh; }
    /// In charging and in discharging.
    [[nodiscard]] double lost_wh() const { return charge_loss_wh + discharge_loss_wh; }
    /// More at the end than at the start.
    [[nodiscard]] double gained_wh(double capacity_wh) const { return (end_ratio - start_ratio) * capacity_wh; }
    [[nodiscard]] HighestCharge highest() const;
    /// What came in, less what went out and what is stored, over what came in (Wh over Wh).
    [[nodiscard]] double imbalance_ratio(double capacity_wh) const;
};

struct BatteryAsk {
    std::size_t first = 0;  ///< interval of the series to begin with
    std::size_t count = 0;  ///< 0: to its end
    double start_ratio = 0.5;
    std::optional<double> target_ratio;
    double skipped_h = 0.0;  ///< of the first interval, which has passed already; to the minute
};

/// `solar_w`: what the sun offers to the battery in each interval of the series (`HarvestYear::delivered_w`). Within an
/// interval light, air and loads hold still; the battery moves on in steps of a minute.
[[nodiscard]] BatteryRun battery_run(const Storage& storage, const LightSeries& light, std::span<const double> solar_w,
                                     const BatteryAsk& ask);

/// Days that a full battery serves its loads with neither sun nor wall; empty without load and drain.
[[nodiscard]] std::optional<double> autonomy_days(const Storage& storage);

/// Of the day's loads, Wh.
[[nodiscard]] double daily_load_wh(const Storage& storage);
/// Of a day's standing drain, Wh.
[[nodiscard]] double daily_drain_wh(const Storage& storage);

/// The most it takes at a state of charge (W), by its own limit and taper.
[[nodiscard]] double charge_limit_w(const Storage& storage, double charge_ratio);
/// Stored over put in at a state of charge.
[[nodiscard]] double charge_efficiency_ratio(const Storage& storage, double charge_ratio);

}  // namespace plait::study
