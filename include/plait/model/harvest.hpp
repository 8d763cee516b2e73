// What a harvest over time takes from the set-up beyond panels, inputs and wirings. Nothing here is assumed: what is
// absent is left out of the account, and the account says so.
#pragma once

#include <plait/base/temperature.hpp>
#include <plait/model/place.hpp>

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace plait {

/// Which equations turn weather into light and warmth.
struct LightModels {
    SkyModel sky = SkyModel::perez;
    IncidenceModel incidence = IncidenceModel::martin_ruiz;
    std::optional<WarmingModel> warming;  ///< absent: `exponential` where the wind is known, else `nominal`
};

/// Monthly figures, January first, for a place without a weather file.
struct SiteClimate {
    std::optional<std::array<double, 12>> daily_global_wh_per_m2;  ///< mean of a day on flat ground; absent: clear days
    std::optional<std::array<double, 12>> mean_air_degc;           ///< absent: the site's warm day all year
};

/// Losses a set-up states. Ratios of the light or power they act on.
struct StatedLosses {
    std::optional<double> soiling_ratio;
    std::optional<std::array<double, 12>> snow_ratio;  ///< by month, January first
    std::optional<double> ageing_per_year_ratio;       ///< of the power a panel had when new
    std::optional<double> age_years;
    std::optional<double> own_use_w;  ///< what the station itself draws while on, day and night
};

/// Load or supply at the wall between two times of day (h, from > to: over midnight).
struct HourlyPower {
    double from_h = 0.0;
    double to_h = 24.0;
    double power_w = 0.0;
};

/// Charging from the wall or a vehicle.
struct WallCharging {
    double limit_w = 0.0;              ///< the most it gives
    std::optional<double> combined_w;  ///< the most it and the sun give together
    bool wall_goes_first = false;      ///< of the combined limit; false: the sun does
    std::vector<HourlyPower> hours;    ///< when it is there (its power 0: as much as `limit_w`); empty: always
};

/// What a battery takes and gives over time.
struct Storage {
    double capacity_wh = 0.0;
    double usable_ratio = 1.0;                    ///< from full down to where the loads are cut off
    std::optional<double> charge_limit_w;         ///< into the battery; beside what the controller states
    std::optional<double> taper_from_ratio;       ///< state of charge from which it takes less; absent: not
    double taper_end_ratio = 0.05;                ///< of the limit, what it still takes when all but full
    double charge_efficiency_ratio = 1.0;         ///< stored over put in
    std::optional<double> full_efficiency_ratio;  ///< the same near full, from `taper_from_ratio` on a straight line
    double discharge_efficiency_ratio = 1.0;      ///< given out over drawn from what is stored
    double standing_drain_w = 0.0;                ///< drawn from it whether or not there is a load
    Celsius coldest_charging{0.0};                ///< below this cell temperature it is not charged
    double warmer_than_air_k = 0.0;               ///< where it stands, against the air outside
    std::vector<HourlyPower> loads;               ///< each day
    std::optional<WallCharging> wall;
};

}  // namespace plait
