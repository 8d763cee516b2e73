// What a log teaches about its sensors, curves and limits, against Bayes' rule by hand.
#include "log/log_calibration.hpp"
#include "log/log_figures.hpp"

#include <catch2/catch.hpp>

using namespace plait::measured;

namespace {

constexpr double irradiance_w_per_m2 = 700.0;
constexpr double amps = 8.0;

/// Amps follow the light, and volts are not looked at.
Slope amp_slope() {
    Slope s = Slope::Zero();
    s[light_bias] = amps;
    s[amp_bias] = amps;
    return s;
}

/// Amps read this much more than light and datasheet say, for so many rows.
void teach(LogCalibration& c, double more_ratio, int rows, double step_s, double probability_ratio = 1.0) {
    for (int i = 0; i < rows; ++i) {
        const double known = (c.light_factor() - 1.0) + (c.amps_factor(irradiance_w_per_m2) - 1.0);
        const double off = amps * (more_ratio - known);
        const double var = c.covariance(irradiance_w_per_m2).between(amp_slope(), amp_slope());
        c.learn(surprise(amp_slope(), off, var), probability_ratio, step_s);
    }
}

double open_var(const LogCalibration& c) {
    return c.covariance(irradiance_w_per_m2).between(amp_slope(), amp_slope());
}

}  // namespace

TEST_CASE("calibration: light and amps share what does not fit, by their variances") {
    LogAccuracy accuracy;
    accuracy.irradiance_ratio = 0.02;
    accuracy.amp_ratio = 0.01;
    LogCalibration c(accuracy);
    teach(c, 0.02, 2000, 300.0);
    // By hand: of the sensors' variances half is bias, 0.02²/2 and 0.01²/2; a curve's error is all bias, 0.015².
    const double light_var = 0.5 * square(0.02);
    const double amp_var = 0.5 * square(0.01) + square(model_amp_ratio);
    CHECK(c.light_factor() - 1.0 == Approx(0.02 * light_var / (light_var + amp_var)).epsilon(0.02));
    CHECK(c.amps_factor(irradiance_w_per_m2) - 1.0 == Approx(0.02 * amp_var / (light_var + amp_var)).epsilon(0.02));
    CHECK(c.volts_factor(irradiance_w_per_m2) == 1.0);
    CHECK(c.warmer_k(2.0) == 0.0);
}

TEST_CASE("calibration: what was learned fades, and the doubt comes back") {
    LogCalibration c{LogAccuracy()};
    const double before = open_var(c);
    teach(c, 0.03, 500, 300.0);
    const double learned = c.light_factor() - 1.0;
    const double after = open_var(c);
    c.forget(3.0 * 86400.0);
    CHECK(c.light_factor() - 1.0 == Approx(learned / 2.718281828));
    c.forget(1e9);
    CHECK(c.light_factor() == Approx(1.0));
    CHECK(open_var(c) == Approx(before));
    CHECK(after < 0.7 * before);
}

TEST_CASE("calibration: rows in which something else was at work teach nothing, and quick rows little") {
    LogCalibration c{LogAccuracy()};
    teach(c, 0.03, 500, 300.0, 0.0);
    CHECK(c.light_factor() == 1.0);
    LogCalibration slow{LogAccuracy()};
    LogCalibration quick{LogAccuracy()};
    teach(slow, 0.03, 1, 300.0);
    teach(quick, 0.03, 1, 3.0);
    CHECK(quick.light_factor() - 1.0 == Approx(0.01 * (slow.light_factor() - 1.0)));
    // A reading far off is rather another cause than a bias.
    LogCalibration wild{LogAccuracy()};
    teach(wild, 0.9, 1, 300.0);
    CHECK(wild.light_factor() - 1.0 < slow.light_factor() - 1.0);
}

TEST_CASE("calibration: weak light counts between 200 and 700 W/m², as a logarithm") {
    CHECK(weakness(700.0) == Approx(0.0).margin(1e-12));
    CHECK(weakness(200.0) == Approx(1.0));
    CHECK(weakness(50.0) == 1.0);
    CHECK(weakness(374.1657) == Approx(0.5).epsilon(1e-4));  // √(200·700)
}

TEST_CASE("calibration: how far rows stray from each other is learned from their differences") {
    LogCalibration c{LogAccuracy()};
    const double least = c.light_noise_ratio();
    // A dozen uniform numbers from a fixed recurrence, summed: near enough to a bell of 1 %.
    unsigned state = 1;
    const auto bell = [&] {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) {
            state = 1664525U * state + 1013904223U;
            sum += static_cast<double>(state >> 8) / 16777216.0;
        }
        return sum;
    };
    for (int i = 0; i < 4000; ++i) c.see_noise(0.03 + 0.01 * bell(), 1.0);
    CHECK(c.light_noise_ratio() == Approx(0.01).epsilon(0.15));
    CHECK(c.light_noise_ratio() < least);
}

TEST_CASE("calibration: a limit is the mean of print and readings, each by what it is worth") {
    LimitFactor f{square(0.04)};
    f.learn(0.93, square(0.04), 1.0, 300.0);
    // By hand: two figures of the same variance; the tails take a little of the step.
    const double d2 = square(0.07) / (2.0 * square(0.04));
    CHECK(f.mean_ratio == Approx(1.0 - 0.5 * 0.07 * std::min(1.0, 6.0 / (4.0 + d2))));
    for (int i = 0; i < 200; ++i) f.learn(0.93, square(0.01), 1.0, 300.0);
    CHECK(f.mean_ratio == Approx(0.93).margin(0.001));
    CHECK(std::sqrt(f.var) < 0.002);
}
