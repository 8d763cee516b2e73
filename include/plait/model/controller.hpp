#pragma once

#include <plait/base/names.hpp>

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait {

/// Between two voltages the input takes at most this current. At a shared edge the more generous band counts.
struct CurrentBand {
    double from_v = 0.0;
    double to_v = 0.0;
    double limit_a = 0.0;
};

enum class ControllerType {
    step_down,       ///< works only while the array is above the battery by its headroom
    step_up,         ///< works only while the array is below the battery
    wide_range,      ///< any voltage inside the stated range (most power-station inputs)
    direct_connect,  ///< no tracking: the array sits at battery voltage plus a small drop
};

/// What the maker says of an array that could give more than the current or power limit.
enum class OverCurrent {
    unsaid,         ///< the manual is silent: nobody knows whether that does harm
    only_clips,     ///< the input takes no more than its limit
    not_permitted,  ///< "do not exceed"
};

/// One solar input, as its manual states it. Absent means the maker does not say.
struct Input {
    std::string name;
    std::optional<double> max_voltage_v;  ///< absolute maximum, open circuit, ever; absent: nobody knows it
    std::optional<double> tracking_min_v;
    std::optional<double> tracking_max_v;
    std::optional<double> start_voltage_v;
    std::vector<CurrentBand> bands;  ///< rising, not overlapping; a single limit is one band; empty: no limit stated
    std::optional<double> max_power_w;
    std::optional<double> max_short_circuit_a;
    std::optional<double> max_array_power_w;
    std::optional<double> plug_rating_a;  ///< of the plug or terminal the array goes into
    OverCurrent over_current = OverCurrent::unsaid;
};

struct Battery {
    double min_voltage_v = 0.0;
    double nominal_voltage_v = 0.0;
    double max_voltage_v = 0.0;  ///< highest charging voltage
    std::optional<double> max_charge_current_a;
};

struct Controller {
    std::string name;
    ControllerType type = ControllerType::wide_range;
    double running_headroom_v = 0.0;     ///< above the battery, to keep going (step-down)
    double starting_headroom_v = 0.0;    ///< above the battery, to begin (step-down)
    double direct_connect_drop_v = 0.0;  ///< panel above battery (direct-connect)
    double efficiency_ratio = 1.0;       ///< battery watts over array watts
    std::optional<Battery> battery;
    std::optional<double> max_total_power_w;  ///< shared by all inputs
    std::optional<double> price;              ///< in the set-up's currency
    std::vector<Input> inputs;
};

inline constexpr Names controller_type_names{
    Name{ControllerType::step_down, "step-down"},
    Name{ControllerType::step_up, "step-up"},
    Name{ControllerType::wide_range, "wide-range"},
    Name{ControllerType::direct_connect, "direct-connect"},
};
[[nodiscard]] constexpr std::string_view name_of(ControllerType t) { return name_in(controller_type_names, t); }

/// The last stands for a key that is missing; it is not written.
inline constexpr Names over_current_names{
    Name{OverCurrent::only_clips, "clips"},
    Name{OverCurrent::not_permitted, "do-not-exceed"},
    Name{OverCurrent::unsaid, "unsaid"},
};
[[nodiscard]] constexpr std::string_view name_of(OverCurrent o) { return name_in(over_current_names, o); }

}  // namespace plait
