#pragma once

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
    double running_headroom_v = 0.0;    ///< above the battery, to keep going (step-down)
    double starting_headroom_v = 0.0;   ///< above the battery, to begin (step-down)
    double direct_connect_drop_v = 0.0; ///< panel above battery (direct-connect)
    double efficiency_ratio = 1.0;      ///< battery watts over array watts
    std::optional<Battery> battery;
    std::optional<double> max_total_power_w;  ///< shared by all inputs
    std::optional<double> price;  ///< in the set-up's currency
    std::vector<Input> inputs;
};

[[nodiscard]] constexpr std::string_view name_of(ControllerType t) {
    switch (t) {
        case ControllerType::step_down: return "step-down";
        case ControllerType::step_up: return "step-up";
        case ControllerType::wide_range: return "wide-range";
        case ControllerType::direct_connect: return "direct-connect";
    }
    return "";
}

[[nodiscard]] constexpr std::string_view name_of(OverCurrent o) {
    switch (o) {
        case OverCurrent::unsaid: return "unsaid";
        case OverCurrent::only_clips: return "clips";
        case OverCurrent::not_permitted: return "do-not-exceed";
    }
    return "";
}

}  // namespace plait
