// What a log says about its own sensors: while everything works, light, warmth, volts and amps must fit each other, so
// every such row teaches a little of the biases between them. A Kalman filter (R. E. Kalman, J. Basic Eng. 82, 1960)
// over four biases that fade in about a day. Only what fits together is learned: light and amps that are both too high
// by the same share cannot be told from a brighter day.
#pragma once

#include <plait/measured/log_explanation.hpp>

#include <array>

namespace plait::measured {

/// Light in W/m², cells in K, volts and amps as ratios.
inline constexpr std::size_t bias_count = 4;
/// How a reading moves with each of them.
using Slope = std::array<double, bias_count>;

[[nodiscard]] inline double dot(const Slope& a, const Slope& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
}

/// How far each may be from what is reckoned with, as variances and covariances.
struct BiasCovariance {
    std::array<Slope, bias_count> of{};

    [[nodiscard]] Slope times(const Slope& h) const {
        return {dot(of[0], h), dot(of[1], h), dot(of[2], h), dot(of[3], h)};
    }
    [[nodiscard]] double between(const Slope& a, const Slope& b) const { return dot(a, times(b)); }
};

/// One or two readings against what was predicted, and what follows from them: S⁻¹·y.
struct Surprise {
    std::array<Slope, 2> slope{};
    std::array<double, 2> weighed{};                   ///< S⁻¹·y
    std::array<std::array<double, 2>, 2> precision{};  ///< S⁻¹
    double trust_ratio = 0.0;                          ///< how much a heavy-tailed error lets the row say: at most 1

    /// The most probable share of one bias in it.
    [[nodiscard]] double share_of(const BiasCovariance& covariance, std::size_t bias) const;
};
[[nodiscard]] Surprise surprise(const Slope& slope, double off, double var);
[[nodiscard]] Surprise surprise(const Slope& volts, const Slope& amps, double off_v, double off_a, double var_v,
                                double var_a, double covariance);

class LogCalibration {
public:
    explicit LogCalibration(const LogAccuracy& accuracy);

    /// Time goes by, and what was learned fades.
    void forget(double step_s);
    /// The scale of the row's light and of what is known of its cells' temperature.
    void look_at(double irradiance_w_per_m2, double sd_k);

    [[nodiscard]] double light_factor() const { return 1.0 + mean_[0]; }
    [[nodiscard]] double warmer_k() const { return mean_[1] * scale_[1]; }
    [[nodiscard]] double volts_factor() const { return 1.0 + mean_[2]; }
    [[nodiscard]] double amps_factor() const { return 1.0 + mean_[3]; }
    /// Of one row: what is left of the biases, and the row's own noise. Volts and amps without the meters' noise.
    [[nodiscard]] BiasCovariance covariance() const;
    /// The same where nothing is learned, and light and warmth are known this well.
    [[nodiscard]] BiasCovariance covariance_of(double sd_w_per_m2, double sd_k) const;

    /// Takes in a row in as far as everything works in it.
    void learn(const Surprise& s, double probability_ratio, double step_s);

private:
    Slope mean_{};
    BiasCovariance cov_;
    Slope prior_var_{};
    Slope noise_var_{};
    Slope scale_{1.0, 1.0, 1.0, 1.0};
    double kept_ratio_ = 1.0;  // over the last step
    double kept_step_s_ = 0.0;
};

}  // namespace plait::measured
