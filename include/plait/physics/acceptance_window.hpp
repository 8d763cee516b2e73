#pragma once

#include <plait/model/controller.hpp>

#include <limits>
#include <optional>
#include <vector>

namespace plait::physics {

/// Where an input can hold a steady point: between two voltages, at most the band's current, at most this power.
struct AcceptanceWindow {
    double low_v = 0.0;
    double high_v = std::numeric_limits<double>::infinity();
    std::vector<CurrentBand> bands;  ///< rising; empty: no current limit. Where no band reaches, nothing is taken.
    double power_w = std::numeric_limits<double>::infinity();

    /// The most current taken at a voltage; at a shared band edge the more generous limit counts. 0 outside every band
    /// and outside [low, high].
    [[nodiscard]] double current_limit_a(double voltage_v) const;
};

/// The window of one input, with what follows from the controller's type and battery: a step-down stage needs the
/// array above the fullest battery by its headroom, a step-up stage below the emptiest, and the charge current is a
/// power limit (current × nominal battery voltage ÷ efficiency).
[[nodiscard]] AcceptanceWindow window_of(const Controller& controller, const Input& input);

/// The voltage a direct-connect controller pulls its array to; empty for every other type.
[[nodiscard]] std::optional<double> pinned_voltage_v(const Controller& controller);

/// Charge current × battery voltage ÷ efficiency at the nominal battery voltage, if the maker gives a charge current.
[[nodiscard]] std::optional<double> charging_power_limit_w(const Controller& controller);

}  // namespace plait::physics
