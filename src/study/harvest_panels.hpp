// What single panels do over a light series: by kind and plane, worked out once.
#pragma once

#include <plait/physics/power_batch.hpp>
#include <plait/study/harvest_year.hpp>

#include <cstdint>
#include <map>
#include <memory>
#include <vector>

namespace plait::study {

/// The intervals with light on some plane; everything below is kept for these only.
struct LitHours {
    std::vector<std::uint32_t> index;   ///< into the series
    std::vector<std::uint8_t> month;    ///< 0 … 11
    std::vector<std::uint8_t> hour;     ///< 0 … 23
    std::vector<std::uint8_t> follows;  ///< 1: the interval before it is lit too, so an input may still be running
    [[nodiscard]] std::size_t size() const { return index.size(); }
};

/// One panel of a kind on a plane.
struct PanelSeries {
    std::vector<physics::Condition> conditions;  ///< what its cells see, by lit hour
    physics::CurveBatch curves;
    std::vector<double> best_v;  ///< its own maximum-power point
    std::vector<double> best_a;
    HarvestSum total;  ///< down to `cells`; delivered: its own maximum
    std::array<HarvestSum, 12> months;
    std::array<HarvestSum, 24> hours_of_day;
};

class PanelHarvest {
public:
    PanelHarvest(const SystemModel& system, const LightSeries& light);

    [[nodiscard]] const LitHours& lit() const { return lit_; }
    [[nodiscard]] const PanelSeries& of(std::size_t kind, std::size_t plane);
    [[nodiscard]] std::size_t plane_count() const { return light_.planes.size(); }
    [[nodiscard]] const LightSeries& light() const { return light_; }
    [[nodiscard]] const SystemModel& system() const { return system_; }
    /// What of the entering light soiling, snow and ageing leave in a month, 0 … 11.
    [[nodiscard]] double kept_ratio(std::size_t month) const;

private:
    [[nodiscard]] std::unique_ptr<PanelSeries> make(std::size_t kind, std::size_t plane) const;

    const SystemModel& system_;
    const LightSeries& light_;
    LitHours lit_;
    std::map<std::pair<std::size_t, std::size_t>, std::unique_ptr<PanelSeries>> made_;
};

/// Adds so many times another account.
void add(HarvestSum& to, const HarvestSum& from, double times);

inline double& lost(HarvestSum& sum, HarvestLoss loss) { return sum.lost_wh[static_cast<std::size_t>(loss)]; }

}  // namespace plait::study
