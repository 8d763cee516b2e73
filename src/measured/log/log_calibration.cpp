#include "log_calibration.hpp"

#include "log_figures.hpp"

namespace plait::measured {
namespace {

constexpr double fading_s = 86400.0;
constexpr double full_lesson_s = 300.0;  // rows nearer to each other than this err alike

double robust(double d2) { return std::min(1.0, 6.0 / (4.0 + d2)); }  // of Student's t with four degrees of freedom

}  // namespace

double Surprise::share_of(const BiasCovariance& covariance, std::size_t bias) const {
    double share = 0.0;
    for (std::size_t r = 0; r < 2; ++r) {
        for (std::size_t j = 0; j < bias_count; ++j) share += covariance.of[bias][j] * slope[r][j] * weighed[r];
    }
    return trust_ratio * share;
}

Surprise surprise(const Slope& slope, double off, double var) {
    Surprise s;
    s.slope[0] = slope;
    s.precision[0][0] = 1.0 / var;
    s.weighed[0] = off / var;
    s.trust_ratio = robust(off * off / var);
    return s;
}

Surprise surprise(const Slope& volts, const Slope& amps, double off_v, double off_a, double var_v, double var_a,
                  double covariance) {
    Surprise s;
    s.slope = {volts, amps};
    const double det = var_v * var_a - covariance * covariance;
    s.precision = {{{var_a / det, -covariance / det}, {-covariance / det, var_v / det}}};
    s.weighed = {s.precision[0][0] * off_v + s.precision[0][1] * off_a,
                 s.precision[1][0] * off_v + s.precision[1][1] * off_a};
    s.trust_ratio = robust(off_v * s.weighed[0] + off_a * s.weighed[1]);
    return s;
}

LogCalibration::LogCalibration(const LogAccuracy& a) {
    const Slope var{square(a.irradiance_ratio), 1.0, square(a.volt_ratio) + square(model_volt_ratio),
                    square(a.amp_ratio) + square(model_amp_ratio)};
    for (std::size_t i = 0; i < bias_count; ++i) {
        prior_var_[i] = lasting_share * var[i];
        cov_.of[i][i] = prior_var_[i];
    }
    constexpr double own = 1.0 - lasting_share;
    noise_var_ = {own * var[0], own, own * square(model_volt_ratio), own * square(model_amp_ratio)};
}

void LogCalibration::forget(double step_s) {
    if (step_s != kept_step_s_) {  // most steps of a log are alike
        kept_ratio_ = std::exp(-step_s / fading_s);
        kept_step_s_ = step_s;
    }
    const double kept = kept_ratio_;
    for (double& m : mean_) m *= kept;
    for (std::size_t i = 0; i < bias_count; ++i) {
        for (double& c : cov_.of[i]) c *= kept * kept;
        cov_.of[i][i] += (1.0 - kept * kept) * prior_var_[i];
    }
}

void LogCalibration::look_at(double irradiance_w_per_m2, double sd_k) {
    scale_ = {irradiance_w_per_m2, sd_k, 1.0, 1.0};
}

BiasCovariance LogCalibration::covariance() const {
    BiasCovariance d;
    for (std::size_t i = 0; i < bias_count; ++i) {
        for (std::size_t j = 0; j < bias_count; ++j) d.of[i][j] = scale_[i] * scale_[j] * cov_.of[i][j];
        d.of[i][i] += square(scale_[i]) * noise_var_[i];
    }
    d.of[0][0] += square(irradiance_step_w_per_m2);
    return d;
}

BiasCovariance LogCalibration::covariance_of(double sd_w_per_m2, double sd_k) const {
    BiasCovariance d;
    d.of[0][0] = square(sd_w_per_m2);
    d.of[1][1] = square(sd_k);
    d.of[2][2] = prior_var_[2] + noise_var_[2];
    d.of[3][3] = prior_var_[3] + noise_var_[3];
    return d;
}

void LogCalibration::learn(const Surprise& s, double probability_ratio, double step_s) {
    const double weight = probability_ratio * s.trust_ratio * std::min(1.0, step_s / full_lesson_s);
    if (!(weight > 0.0)) return;
    std::array<Slope, 2> gain{};  // P·Hᵀ
    for (std::size_t r = 0; r < 2; ++r) {
        Slope h = s.slope[r];
        for (std::size_t i = 0; i < bias_count; ++i) h[i] *= scale_[i];
        gain[r] = cov_.times(h);
    }
    for (std::size_t i = 0; i < bias_count; ++i) {
        mean_[i] += weight * (gain[0][i] * s.weighed[0] + gain[1][i] * s.weighed[1]);
        for (std::size_t j = 0; j < bias_count; ++j) {
            double less = 0.0;
            for (std::size_t r = 0; r < 2; ++r) {
                for (std::size_t q = 0; q < 2; ++q) less += gain[r][i] * s.precision[r][q] * gain[q][j];
            }
            cov_.of[i][j] -= weight * less;
        }
    }
}

}  // namespace plait::measured
