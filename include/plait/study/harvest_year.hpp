// What a plan harvests over weather: hour by hour through the same curves, windows and limits as everything else here,
// with an account of every lost watt-hour. How, and how fast: docs/sun.md.
#pragma once

#include <plait/physics/power_batch.hpp>
#include <plait/study/light_series.hpp>
#include <plait/study/system_model.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace plait::study {

/// Where watt-hours go, in the order in which they are lost. A loss may be negative: cold panels give more than rated.
enum class HarvestLoss : unsigned char {
    shade,     ///< horizon, and what the wiring says of light on its panels
    glass,     ///< reflected
    soiling,   ///< as stated
    snow,      ///< as stated
    ageing,    ///< as stated
    cells,     ///< warmth and weak light: each panel at its own best, against its rating
    mismatch,  ///< panels tied together: unlike, or in unlike light
    cables,
    not_started,    ///< light enough to run, not enough to start
    window_bottom,  ///< the array is below what the input holds
    window_top,     ///< … above it, or gives more than it takes everywhere
    band_edge,
    current_limit,
    power_limit,   ///< of the input
    charge_limit,  ///< of the battery's charge current
    pinned,        ///< a direct-connect controller holds the battery's voltage
    shared_limit,  ///< of all inputs together
    conversion,    ///< between input and battery
};
inline constexpr std::size_t harvest_loss_count = 18;
/// What an input, all of them together or the battery does not take of what the array offers.
[[nodiscard]] constexpr bool is_limit(HarvestLoss loss) {
    return loss >= HarvestLoss::not_started && loss <= HarvestLoss::shared_limit;
}
/// What is lost between the panels, each at its own best, and the battery.
inline constexpr std::array losses_after_the_panels{
    HarvestLoss::mismatch,   HarvestLoss::cables,        HarvestLoss::not_started, HarvestLoss::window_bottom,
    HarvestLoss::window_top, HarvestLoss::band_edge,     HarvestLoss::current_limit, HarvestLoss::power_limit,
    HarvestLoss::charge_limit, HarvestLoss::pinned,      HarvestLoss::shared_limit, HarvestLoss::conversion};
[[nodiscard]] std::string_view name_of(HarvestLoss loss);

/// `ideal_wh` less everything lost is `delivered_wh`.
struct HarvestSum {
    double ideal_wh = 0.0;  ///< rated power × light on the planes without horizon / 1000 W/m²
    std::array<double, harvest_loss_count> lost_wh{};
    double delivered_wh = 0.0;

    [[nodiscard]] double loss_wh(HarvestLoss loss) const { return lost_wh[static_cast<std::size_t>(loss)]; }
    [[nodiscard]] double all_lost_wh() const;
    /// What the panels could give, each at its own best.
    [[nodiscard]] double from_panels_wh() const;
    /// Of the ideal; 0 where there is none.
    [[nodiscard]] double share_of_ideal_ratio(double energy_wh) const { return ideal_wh > 0.0 ? energy_wh / ideal_wh : 0.0; }
    /// How far the account is from adding up, over the ideal.
    [[nodiscard]] double imbalance_ratio() const;
};

/// One input's share; `delivered_wh` is what it takes, before limits on all inputs and conversion.
struct InputHarvest {
    std::size_t input = 0;
    HarvestSum sum;
    std::array<double, harvest_loss_count> limited_h{};  ///< hours in which a limit took something
    double running_h = 0.0;
    double highest_w = 0.0;
    std::vector<double> taken_w;  ///< by interval of the series
};

/// Losses that can be stated and are not: what the account leaves out.
struct UnstatedLosses {
    bool soiling = false;
    bool snow = false;
    bool ageing = false;
    bool own_use = false;
    bool conversion = false;
    bool cables = false;
    bool shade = false;  ///< no horizon on any plane
};

struct HarvestYear {
    HarvestSum total;
    std::array<HarvestSum, 12> months;        ///< January first
    std::array<HarvestSum, 24> hours_of_day;  ///< of standard time
    std::vector<InputHarvest> inputs;         ///< those in use
    std::vector<double> delivered_w;          ///< to the battery, by interval of the series
    /// By interval too: every panel in use at its own maximum in the light it has; what limits take of that; and the limit
    /// that takes most.
    std::vector<double> possible_w;
    std::vector<double> limited_w;
    std::vector<std::optional<HarvestLoss>> limited_by;
    std::array<double, harvest_loss_count> limited_h{};  ///< hours in which a limit took something on any input
    double covered_h = 0.0;                   ///< time the series covers
    double own_use_wh = 0.0;                  ///< of the station, over that time; not taken off `delivered_wh`
    UnstatedLosses unstated;
    [[nodiscard]] double net_wh() const { return total.delivered_wh - own_use_wh; }
};

/// Plans for one set-up in one weather. What does not depend on the wiring is worked out once, when first asked for.
class HarvestStudy {
public:
    /// Both must outlive it.
    HarvestStudy(const SystemModel& system, const LightSeries& light);
    ~HarvestStudy();
    HarvestStudy(HarvestStudy&&) noexcept;
    HarvestStudy& operator=(HarvestStudy&&) noexcept;

    /// One wiring for each input; one at least is used.
    [[nodiscard]] HarvestYear run(const ArrayPlan& plan);

private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

/// The plane a place of a wiring is on, counted in the series: its own, else its kind's, else the first.
[[nodiscard]] std::size_t plane_of(const Setup& setup, const PanelPlace& place);

/// A wiring with every panel in the light and warmth of its plane: what a curve is made of where planes differ.
/// `plane_light` and `kind_plane_cell[kind][plane]` are of one moment; some plane must have light. The condition is
/// that of the brightest plane's first panel; groups carry the rest as `light_ratio` and `warmer_k`.
struct PlaneMoment {
    std::vector<double> light_w_per_m2;      ///< by plane, as the cells see it
    std::vector<std::vector<Celsius>> cell;  ///< by kind and plane
};
[[nodiscard]] SystemModel::WarmedWiring wiring_in_light(const SystemModel& system, const InputWiring& wiring,
                                                        const PlaneMoment& moment);

}  // namespace plait::study
