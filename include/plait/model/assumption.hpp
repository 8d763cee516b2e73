// What the maker left out, and what stands in for it. Every rule names the quantities it rests on, so that a
// verdict resting on an assumption can say so.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace plait {

enum class Quantity {
    panel_technology,
    panel_cells,
    panel_bypass_diodes,
    panel_pmax,
    panel_vmp,
    panel_imp,
    panel_voc,
    panel_isc,
    panel_isc_coefficient,
    panel_voc_coefficient,
    panel_pmax_coefficient,
    panel_nominal_temperature,
    panel_weak_light,
    panel_system_voltage,
    panel_series_fuse,
    panel_voc_tolerance,
    panel_isc_tolerance,
    panel_pmax_tolerance,
    input_max_voltage,
    input_tracking_range,
    input_current_limit,
    input_over_limit,  ///< what an array above the current or power limit does to the input
    controller_headroom,
    controller_efficiency,
    battery_voltage,
    site_coldest_air,
    site_hottest_air,
    site_warm_air,
    site_mounting,
    site_peak_irradiance,
    cable_resistance,    ///< its kind of copper and working temperature
    cable_surroundings,  ///< how and where it lies, its terminals
    drop_target,
};

/// Which figure of its quantity, where the quantity has several.
enum class Figure { only, lower_end, upper_end, running, starting };

struct Assumption {
    Quantity quantity;
    std::optional<std::size_t> kind;   ///< which panel kind, if it is about one
    std::optional<std::size_t> input;  ///< which input, if it is about one
    std::string subject;               ///< "panel 'Meadow 100'", "input 'PV1'", "the site"
    std::string what;                  ///< "Voc coefficient"
    std::string value;                 ///< "-0.35 %/K"
    std::string why;                   ///< "datasheet silent; slightly pessimistic for crystalline silicon"
    Figure figure = Figure::only;
    std::optional<std::size_t> cable{};  ///< which cable of the set-up, if it is about one
};

}  // namespace plait
