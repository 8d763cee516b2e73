// Every rule by name, one line each; each is defined in the file of its name.
#pragma once

#include <plait/rules/rule.hpp>

namespace plait::rules {

extern const Rule cold_voltage;
extern const Rule panel_system_voltage;
extern const Rule short_circuit_rating;
extern const Rule current_rating;
extern const Rule array_power_rating;
extern const Rule oversized_array;
extern const Rule step_up_ceiling;
extern const Rule string_fuses;
extern const Rule reverse_current;
extern const Rule fuse_window;
extern const Rule cable_ampacity;
extern const Rule connector_rating;
extern const Rule disconnect_rating;
extern const Rule unlike_strings;
extern const Rule start_voltage;
extern const Rule tracking_bottom;
extern const Rule tracking_with_drop;
extern const Rule battery_headroom;
extern const Rule steady_point;
extern const Rule tracking_top;
extern const Rule current_limit;
extern const Rule power_limit;
extern const Rule cable_drop;
extern const Rule charge_current;
extern const Rule shared_power;
extern const Rule battery_side;
extern const Rule panels_on_hand;

}  // namespace plait::rules
