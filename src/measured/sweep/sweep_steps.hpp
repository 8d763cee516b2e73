// A sweep as steps of voltage: rows at one voltage become one step with the mean and the number of its rows, which is
// all that the sum of squares of a piece needs. So the search over change points grows with the steps, not with a 10 Hz
// log.
#pragma once

#include <plait/measured/window_learning.hpp>

#include <cstddef>
#include <vector>

namespace plait::measured {

struct SweepPoint {
    std::size_t row = 0;  ///< index into the sweep
    double voltage_v = 0.0;
    double current_a = 0.0;
    bool rising = true;
    bool taking = true;
    bool censored = false;
    bool from_power = false;  ///< the reading was watts
    double vague_step_value = 0.0;  ///< the width of a vague reading, A or W; 0: it is a plain one
};

struct SweepStep {
    double voltage_v = 0.0;           ///< mean
    double log_current = 0.0;         ///< mean of ln(A) of the rows that take
    double log_power = 0.0;           ///< mean of ln(W)
    double weight = 0.0;              ///< number of rows in these means
    bool taking = true;               ///< most rows take something
    bool censored = false;            ///< most of them show the supply's limit
    std::vector<std::size_t> points;  ///< indices into the points
    std::vector<std::size_t> used;    ///< those in the means
};

/// From the median of absolute deviations to the standard deviation, of a normal distribution.
inline constexpr double mad_to_sigma = 1.4826;

/// The search over change points takes at most so many steps.
inline constexpr std::size_t most_steps = 120;

/// The direction of each row, by turning points of at least 5 % of the range (1 % in a short sweep); false: the voltage
/// jumps about.
bool find_directions(const std::vector<SweepRow>& rows, std::vector<char>& rising);

/// The points by rising voltage as steps, at most `most_steps` of them: near neighbours share one.
[[nodiscard]] std::vector<SweepStep> steps_of(const std::vector<SweepPoint>& points);

}  // namespace plait::measured
