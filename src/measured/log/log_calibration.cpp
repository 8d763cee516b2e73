#include "log_calibration.hpp"

#include "log_figures.hpp"

namespace plait::measured {
namespace {

constexpr double fading_s = 3.0 * 86400.0;
constexpr double full_lesson_s = 300.0;  // rows nearer to each other than this err alike
constexpr double least_noise_ratio = 0.004;

double robust(double d2) { return std::min(1.0, 6.0 / (4.0 + d2)); }  // of Student's t with four degrees of freedom

double lesson(double probability_ratio, double step_s) {
    return probability_ratio * std::min(1.0, step_s / full_lesson_s);
}

}  // namespace

double weakness(double irradiance_w_per_m2) {
    // ln 3.5 = 1.2528: from 700 to 200 W/m².
    return std::clamp(std::log(700.0 / std::max(irradiance_w_per_m2, 1.0)) / 1.252762968495368, -1.0, 1.0);
}

double Surprise::share_of(const BiasCovariance& covariance, Bias bias) const {
    const Slope moved = slope * weighed;
    return trust_ratio * (covariance.shared.row(bias).dot(moved) + covariance.own_var[bias] * moved[bias]);
}

Surprise surprise(const Slope& slope, double off, double var) {
    Surprise s;
    s.slope.col(0) = slope;
    s.precision(0, 0) = 1.0 / var;
    s.weighed[0] = off / var;
    s.distance2 = off * off / var;
    s.trust_ratio = robust(s.distance2);
    return s;
}

Surprise surprise(const Slope& volts, const Slope& amps, double off_v, double off_a, double var_v, double var_a,
                  double covariance) {
    Surprise s;
    s.slope.col(0) = volts;
    s.slope.col(1) = amps;
    const double det = var_v * var_a - covariance * covariance;
    s.precision << var_a / det, -covariance / det, -covariance / det, var_v / det;
    const Eigen::Vector2d off(off_v, off_a);
    s.weighed = s.precision * off;
    s.distance2 = off.dot(s.weighed);
    s.trust_ratio = robust(s.distance2);
    return s;
}

LogCalibration::LogCalibration(const LogAccuracy& a) {
    constexpr double own = 1.0 - lasting_share;
    prior_var_ << lasting_share * square(a.irradiance_ratio), lasting_share,
        lasting_share * square(a.volt_ratio) + square(model_volt_ratio),
        lasting_share * square(a.amp_ratio) + square(model_amp_ratio), square(weak_volt_ratio), square(weak_amp_ratio),
        square(bow_ratio);
    cov_.diagonal() = prior_var_;
    own_var_ << 0.0, own, square(hunting_volt_ratio), square(hunting_amp_ratio), 0.0, 0.0, 0.0;
    most_noise_ratio_ = std::sqrt(own) * a.irradiance_ratio;
    light_noise_ratio_ = most_noise_ratio_;
}

void LogCalibration::forget(double step_s) {
    if (step_s != kept_step_s_) {  // most steps of a log are alike
        kept_ratio_ = std::exp(-step_s / fading_s);
        kept_step_s_ = step_s;
    }
    const double kept = kept_ratio_;
    mean_ *= kept;
    cov_ *= kept * kept;
    cov_.diagonal() += (1.0 - kept * kept) * prior_var_;
}

BiasCovariance LogCalibration::covariance(double irradiance_w_per_m2) const {
    BiasCovariance d{cov_, own_var_};
    d.own_var[light_bias] =
        square(light_noise_ratio_) + square(irradiance_step_w_per_m2 / std::max(irradiance_w_per_m2, 1.0));
    if (irradiance_w_per_m2 < dim_w_per_m2) {
        const double dim = std::log(dim_w_per_m2 / std::max(irradiance_w_per_m2, 1.0));
        d.own_var[volt_bias] += square(dim_volt_ratio * dim);
        d.own_var[amp_bias] += square(dim_amp_ratio * dim);
    }
    return d;
}

BiasCovariance LogCalibration::covariance_of(double light_sd_ratio) const {
    BiasCovariance d;
    d.own_var = prior_var_ + own_var_;
    d.own_var[light_bias] = square(light_sd_ratio);
    d.own_var[warm_bias] = 1.0;
    return d;
}

void LogCalibration::learn(const Surprise& s, double probability_ratio, double step_s) {
    // A row many deviations off is a bad reading or a fault that has just begun. What it would teach falls with the square
    // of its trust, so that the first row of a fault moves no light from then on.
    const double weight = lesson(probability_ratio, step_s) * s.trust_ratio * s.trust_ratio;
    if (!(weight > 0.0)) return;
    const Eigen::Matrix<double, bias_count, 2> gain = cov_ * s.slope;
    mean_ += weight * (gain * s.weighed);
    cov_ -= weight * (gain * s.precision * gain.transpose());
}

void LogCalibration::see_noise(double amps_off_ratio, double probability_ratio) {
    if (probability_ratio < 0.9) {
        off_known_ = false;
        return;
    }
    if (off_known_) {
        // The median of what rows differ by: up by a little when above, down when below. Of two rows' difference
        // 0.6745·√2 standard deviations are the median.
        const double apart = std::abs(amps_off_ratio - last_off_ratio_) / (0.6745 * std::sqrt(2.0));
        light_noise_ratio_ *= apart > light_noise_ratio_ ? 1.03 : 1.0 / 1.03;
        light_noise_ratio_ = std::clamp(light_noise_ratio_, least_noise_ratio, most_noise_ratio_);
    }
    last_off_ratio_ = amps_off_ratio;
    off_known_ = true;
}

void LimitFactor::learn(double ratio, double noise_var, double probability_ratio, double step_s) {
    const double off = ratio - mean_ratio;
    const double all_var = var + noise_var;
    const double weight = lesson(probability_ratio, step_s) * robust(off * off / all_var);
    if (!(weight > 0.0)) return;
    const double gain = var / all_var;
    mean_ratio += weight * gain * off;
    var -= weight * gain * var;
    seen_s += probability_ratio * step_s;
}

void LimitFactor::forget(double step_s) {
    const double kept = std::exp(-step_s / (10.0 * fading_s));
    var = kept * kept * var + (1.0 - kept * kept) * prior_var;
}

}  // namespace plait::measured
