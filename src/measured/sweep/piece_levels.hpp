// The levels of pieces whose rows are known: means, the scatter about them, and their intervals.
#pragma once

#include "sweep_steps.hpp"
#include "window_pieces.hpp"

#include <vector>

namespace plait::measured {

/// One piece with its own points.
struct PiecePoints {
    PieceKind kind = PieceKind::nothing;
    std::vector<SweepPoint> points;  ///< by rising voltage
    double level = 0.0;              ///< A or W: the mean over the rows that fit
    double weight = 0.0;             ///< number of those rows
    int steps = 0;                   ///< voltages with such rows
    double squares = 0.0;            ///< weighted sum of squared relative residuals of the steps
    std::vector<std::size_t> apart;  ///< indices of points that do not fit
};

/// Fills in level, weight, steps, squares and apart. `log_level` is where to begin, `noise_ratio` that of a row.
void fit_piece(PiecePoints& piece, double log_level, double noise_ratio);

/// The scatter of one row about all the pieces, and the number of independent residuals behind it.
struct Scatter {
    double noise_ratio = 0.0;
    int freedom = 0;
    double chosen_factor = 1.0;  ///< by so much the search for the changes made the scatter look smaller
};
[[nodiscard]] Scatter scatter_of(const std::vector<PiecePoints>& pieces, double least_noise_ratio);

/// A band and the power limit after it meet where both give the same current. Shares their rows out on either side of
/// that voltage until nothing moves. False, with nothing changed, where the two do not meet: there is a jump.
bool meet(PiecePoints& band, PiecePoints& power, double noise_ratio);

}  // namespace plait::measured
