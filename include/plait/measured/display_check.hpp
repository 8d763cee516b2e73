// What a display says against what meters say beside it, and what arrives at the battery.
#pragma once

#include <plait/measured/window_learning.hpp>

#include <optional>
#include <vector>

namespace plait::measured {

/// One reading as a share of another one of the same row, over a stretch of the window.
struct RatioRange {
    double from_v = 0.0;  ///< the first and the last reading in it
    double to_v = 0.0;
    int rows = 0;
    Estimate ratio;
};

struct RatioCheck {
    std::optional<RatioRange> whole;  ///< over all rows; empty: fewer than three have both readings
    std::vector<RatioRange> ranges;   ///< of each stretch of the window with three such rows or more
    bool differs = false;             ///< two ranges whose intervals do not meet: one figure does not tell it
    bool worked_out = false;          ///< each reading is the other one but for its last digit, as if worked out from it
};

/// The watts noted beside volts and amps, as a share of volts times amps. Rows that take nothing do not count.
[[nodiscard]] RatioCheck display_against_meter(const LearnedWindow& window);

/// Watts at the battery as a share of what the input took.
[[nodiscard]] RatioCheck battery_efficiency(const LearnedWindow& window);

/// What the input took while a charger on the wall gave something too, against what it takes without.
struct WallEffect {
    int rows = 0;
    double wall_w = 0.0;       ///< mean of what the wall gave
    double taken_ratio = 0.0;  ///< mean share of what the window says for these voltages
    double least_ratio = 0.0;
    double most_ratio = 0.0;
};
/// Empty: no such reading lies where the window was found.
[[nodiscard]] std::optional<WallEffect> wall_effect(const LearnedWindow& window);

}  // namespace plait::measured
