// What a log says about its own sensors and curves: while everything works, light, warmth, volts and amps must fit each
// other, so every such row teaches a little of the biases between them. A Kalman filter (R. E. Kalman, J. Basic Eng. 82,
// 1960) over seven biases that fade in about three days. Only what fits together is learned: light and amps that are both
// too high by the same share cannot be told from a brighter day.
#pragma once

#include <plait/measured/log_explanation.hpp>

#include <Eigen/Core>

namespace plait::measured {

enum Bias : int {
    light_bias,       ///< of the sensor, ratio
    warm_bias,        ///< of the cells' temperature, in standard deviations of what is known of it
    volt_bias,        ///< of meter and curve, ratio
    amp_bias,         ///< … of the amps
    weak_volt_bias,   ///< of the curve's volts in weak light, ratio at a fifth of full light
    weak_amp_bias,    ///< … and amps
    bow_bias,         ///< of the curve's volts at open circuit against those at its maximum, ratio of the volts
    bias_count,
};
/// How a reading moves with each of them.
using Slope = Eigen::Matrix<double, bias_count, 1>;
using BiasMatrix = Eigen::Matrix<double, bias_count, bias_count>;

/// How far each may be from what is reckoned with: what rows share, and what is new in each.
struct BiasCovariance {
    BiasMatrix shared = BiasMatrix::Zero();
    Slope own_var = Slope::Zero();

    [[nodiscard]] Slope times(const Slope& h) const { return shared * h + own_var.cwiseProduct(h); }
    [[nodiscard]] double between(const Slope& a, const Slope& b) const { return a.dot(times(b)); }
};

/// One or two readings against what was predicted, and what follows from them: S⁻¹·y.
struct Surprise {
    Eigen::Matrix<double, bias_count, 2> slope = Eigen::Matrix<double, bias_count, 2>::Zero();
    Eigen::Vector2d weighed = Eigen::Vector2d::Zero();      ///< S⁻¹·y
    Eigen::Matrix2d precision = Eigen::Matrix2d::Zero();    ///< S⁻¹
    double distance2 = 0.0;                                 ///< yᵀ·S⁻¹·y
    double trust_ratio = 0.0;  ///< how much a heavy-tailed error lets the row say: at most 1

    /// The most probable share of one bias in it.
    [[nodiscard]] double share_of(const BiasCovariance& covariance, Bias bias) const;
};
[[nodiscard]] Surprise surprise(const Slope& slope, double off, double var);
[[nodiscard]] Surprise surprise(const Slope& volts, const Slope& amps, double off_v, double off_a, double var_v,
                                double var_a, double covariance);

/// Weak light as the biases see it: 0 at 700 W/m², 1 at a fifth of full light and less, negative above.
[[nodiscard]] double weakness(double irradiance_w_per_m2);

class LogCalibration {
public:
    explicit LogCalibration(const LogAccuracy& accuracy);

    /// Time goes by, and what was learned fades.
    void forget(double step_s);

    [[nodiscard]] double light_factor() const { return 1.0 + mean_[light_bias]; }
    /// Of cells whose temperature is known with this standard deviation.
    [[nodiscard]] double warmer_k(double sd_k) const { return mean_[warm_bias] * sd_k; }
    [[nodiscard]] double volts_factor(double irradiance_w_per_m2) const {
        return 1.0 + mean_[volt_bias] + mean_[weak_volt_bias] * weakness(irradiance_w_per_m2);
    }
    [[nodiscard]] double amps_factor(double irradiance_w_per_m2) const {
        return 1.0 + mean_[amp_bias] + mean_[weak_amp_bias] * weakness(irradiance_w_per_m2);
    }
    /// By how much the volts right of the maximum are off, as a share at open circuit.
    [[nodiscard]] double bow() const { return mean_[bow_bias]; }
    /// Of one row: what is left of the biases, and the row's own noise. Volts and amps without the meters' noise.
    [[nodiscard]] BiasCovariance covariance(double irradiance_w_per_m2) const;
    /// The same where nothing is learned, and light (a ratio of itself) and warmth (1 sd) are known this well.
    [[nodiscard]] BiasCovariance covariance_of(double light_sd_ratio) const;

    /// Takes in a row in as far as everything works in it.
    void learn(const Surprise& s, double probability_ratio, double step_s);
    /// How far light and amps part from row to row once their biases are gone, from rows in which everything works.
    void see_noise(double amps_off_ratio, double probability_ratio);
    [[nodiscard]] double light_noise_ratio() const { return light_noise_ratio_; }
    [[nodiscard]] const Slope& mean() const { return mean_; }
    [[nodiscard]] const BiasMatrix& shared() const { return cov_; }

private:
    Slope mean_ = Slope::Zero();
    BiasMatrix cov_ = BiasMatrix::Zero();
    Slope prior_var_;
    Slope own_var_;
    double light_noise_ratio_ = 0.0;
    double most_noise_ratio_ = 0.0;
    double last_off_ratio_ = 0.0;  // of amps against light, in the row before
    bool off_known_ = false;
    double kept_ratio_ = 1.0;  // over the last step
    double kept_step_s_ = 0.0;
};

/// One limit against its print, as the meters show it: 0.93 is a limit of 372 W where 400 W are printed.
struct LimitFactor {
    double prior_var = 0.0;
    double mean_ratio = 1.0;
    double var = prior_var;
    double seen_s = 0.0;  ///< time at it

    /// A reading at the limit, over the print, with the variance of one row's noise.
    void learn(double ratio, double noise_var, double probability_ratio, double step_s);
    void forget(double step_s);
};

}  // namespace plait::measured
