// Yearly extremes and what they say of rarer ones: the generalised extreme-value distribution (Coles, An Introduction
// to Statistical Modeling of Extreme Values, 2001). For highs as they are; for lows hand in the negated values and
// negate what comes out.
#pragma once

#include <optional>
#include <span>

namespace plait::physics {

/// P(X ≤ x) = exp(−(1 + ξ·(x − μ)/σ)^(−1/ξ)). Units are those of the values.
struct ExtremeValues {
    double location_value = 0.0;  ///< μ
    double scale_value = 1.0;     ///< σ > 0
    double shape_value = 0.0;     ///< ξ; below 0 there is a highest value, at μ − σ/ξ; 0 is Gumbel's form
    double log_likelihood_value = 0.0;
    bool shape_held = false;  ///< too few years to tell the shape: held at 0
};

/// How ξ is dealt with.
enum class Shape { fitted, held_at_zero };

/// Below so many years the shape is held at 0: three numbers from a dozen values promise more than is there.
inline constexpr std::size_t least_years_for_shape = 20;

/// Maximum likelihood, from at least 3 values that are not all equal; from fewer nothing. ξ is kept within −0.9 … 1.5.
[[nodiscard]] std::optional<ExtremeValues> fit_extremes(std::span<const double> maxima, Shape shape);

/// What is passed once in so many years on average; years > 1.
[[nodiscard]] double return_level_value(const ExtremeValues& fit, double period_years);

struct LevelRange {
    double low_value = 0.0;
    double high_value = 0.0;
};

/// The return levels that the values do not speak against, by profile likelihood (Coles 2001, section 2.6.6): twice the
/// fall of the log-likelihood stays below the χ² quantile of one degree of freedom.
[[nodiscard]] LevelRange return_level_range(std::span<const double> maxima, const ExtremeValues& fit,
                                            double period_years, double confidence_ratio = 0.95);

}  // namespace plait::physics
