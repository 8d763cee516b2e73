// The exact segmentation of a sweep: dynamic programming over the change points.
#pragma once

#include "sweep_steps.hpp"

#include <cstddef>
#include <vector>

namespace plait::measured {

struct StepPiece {
    PieceKind kind = PieceKind::nothing;
    std::size_t begin = 0;  ///< steps [begin, end)
    std::size_t end = 0;
    double log_level = 0.0;  ///< ln of A or W
};

struct Segmentation {
    std::vector<StepPiece> pieces;
    double noise_ratio = 0.0;  ///< of one row
    double cost = 0.0;         ///< −2 log likelihood + penalties
};

/// How far a step may lie from its piece before it is cheaper called an outlier, in deviations.
[[nodiscard]] double outlier_reach(double noise_ratio);

/// The cheapest cut of the steps into pieces, over all cuts, all kinds and the noise. `least_noise_ratio` is what the
/// meters can resolve. `with_nothing`: stretches in which nothing is taken are pieces; otherwise every step takes.
[[nodiscard]] Segmentation segment(const std::vector<SweepStep>& steps, double least_noise_ratio, bool with_nothing);

}  // namespace plait::measured
