// Readings as intervals: "8" on a display of whole amps is anything from 7.5 to 8.5, and no number of such readings
// narrows that down where they are all alike.
#pragma once

#include "piece_levels.hpp"

#include <vector>

namespace plait::measured {

/// Readings of one step may be so many; with more of them rounding is the least of what matters.
inline constexpr std::size_t most_stepped_readings = 400;

/// The step in which readings are written: amps where amps were read, watts where watts were.
struct ReadingSteps {
    double amps_a = 0.0;
    double watts_w = 0.0;

    [[nodiscard]] double of(const SweepPoint& p) const {
        return p.vague_step_value > 0.0 ? p.vague_step_value : p.from_power ? watts_w : amps_a;
    }
};

/// From the digits written: 8, 8, 7 are whole amps, 8.5, 8.0, 7.5 half ones, 380, 390 tens of watts. Halves of amps and
/// tens of watts are so common among hands that one value that is a multiple of them is believed to be one; other fives
/// and tens where three different values are [our judgement, no source].
[[nodiscard]] ReadingSteps reading_steps(const std::vector<SweepRow>& rows);

/// The standard deviation of rounding, as a share of the usual reading of those that take something; 0: not known.
[[nodiscard]] double rounding_ratio(const std::vector<SweepPoint>& points, const ReadingSteps& steps);

struct SteppedLevels {
    std::vector<Estimate> levels;
    double log_evidence = 0.0;  ///< how well the readings are explained, to be compared between two habits
};

/// The levels of the pieces that follow a law, each with the interval that holds it 19 times in 20, by the probability
/// that noise and rounding give just these readings. The noise is not known: each from 0.05 to 4 % counts, equally
/// likely by its logarithm, as far as all the pieces bear it out. Pieces without a law come back as they are. A display
/// that cuts off shows 8 from 8 to 9; a person's "about 8" is read the same way of either.
[[nodiscard]] SteppedLevels levels_between_steps(const std::vector<PiecePoints>& pieces, const ReadingSteps& steps,
                                                 DisplayHabit habit);

}  // namespace plait::measured
