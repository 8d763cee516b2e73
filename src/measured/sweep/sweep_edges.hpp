// Where an input begins and ceases to take something, seen in one direction of a sweep.
#pragma once

#include "sweep_steps.hpp"

#include <optional>
#include <vector>

namespace plait::measured {

/// The stretch in which the input takes something, seen in one direction of the sweep.
struct Stretch {
    std::optional<SwitchVoltage> low;
    std::optional<SwitchVoltage> high;
};

/// By the cheapest cut of the steps; by the labels alone where there are too few readings for a law.
[[nodiscard]] Stretch stretch_of(const std::vector<SweepPoint>& points, double least_noise_ratio);

/// Hysteresis has one sign: an input comes back no higher than where it trips, and ceases no higher than where it
/// starts. What one gap says thus bounds the other. Common practice, no source.
void keep_order(std::optional<SwitchVoltage>& falling, std::optional<SwitchVoltage>& rising);

}  // namespace plait::measured
