// One input's array over a light series: what it could give, and what the input takes of it.
#pragma once

#include "harvest_panels.hpp"

#include <plait/study/system_model.hpp>

#include <vector>

namespace plait::study {

/// A lit hour of one input, W.
struct InputHour {
    double own_w = 0.0;                     ///< its panels one by one, in the light they have
    double array_w = 0.0;                   ///< tied together
    double wired_w = 0.0;                   ///< behind the cables
    double taken_w = 0.0;                   ///< by the input
    HarvestLoss loss = HarvestLoss::cells;  ///< where the difference of the last two goes
};

/// Which of the limits on all inputs together is the lower one: the battery's charge current, or the stated sum.
[[nodiscard]] HarvestLoss lower_limit_on_all(const Controller& controller);

/// Every lit hour of an input's wiring, which is not empty.
[[nodiscard]] std::vector<InputHour> input_hours(PanelHarvest& panels, std::size_t input, const InputWiring& wiring);

}  // namespace plait::study
