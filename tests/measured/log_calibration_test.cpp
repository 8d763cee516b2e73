// What a log teaches about its sensors, against Bayes' rule by hand.
#include "log/log_calibration.hpp"
#include "log/log_figures.hpp"

#include <catch2/catch.hpp>

using namespace plait::study;
using namespace plait::measured;

namespace {

constexpr double irradiance_w_per_m2 = 800.0;
constexpr double amps = 8.0;

/// Amps follow the light, and volts are not looked at.
const Slope amp_slope{amps / irradiance_w_per_m2, 0.0, 0.0, amps};

/// Amps read this much more than light and datasheet say, for so many rows.
void teach(LogCalibration& c, double more_ratio, int rows, double step_s, double probability_ratio = 1.0) {
    for (int i = 0; i < rows; ++i) {
        c.look_at(irradiance_w_per_m2, 2.0);
        const double off = amps * (more_ratio - (c.light_factor() - 1.0) - (c.amps_factor() - 1.0));
        c.learn(surprise(amp_slope, off, c.covariance().between(amp_slope, amp_slope)), probability_ratio, step_s);
    }
}

}  // namespace

TEST_CASE("calibration: light and amps share what does not fit, by their variances") {
    LogAccuracy accuracy;
    accuracy.irradiance_ratio = 0.02;
    accuracy.amp_ratio = 0.01;
    LogCalibration c(accuracy);
    teach(c, 0.02, 2000, 300.0);
    // By hand: the light's bias has a variance of 0.02², that of the amps 0.01² + 0.015² (meter and datasheet), halves
    // of both.
    const double light_var = square(0.02);
    const double amp_var = square(0.01) + square(model_amp_ratio);
    CHECK(c.light_factor() - 1.0 == Approx(0.02 * light_var / (light_var + amp_var)).epsilon(0.02));
    CHECK(c.amps_factor() - 1.0 == Approx(0.02 * amp_var / (light_var + amp_var)).epsilon(0.02));
    CHECK(c.volts_factor() == 1.0);
    CHECK(c.warmer_k() == 0.0);
}

TEST_CASE("calibration: what was learned fades, and covariance comes back") {
    LogCalibration c{LogAccuracy()};
    const double before = c.covariance().between(amp_slope, amp_slope);
    teach(c, 0.03, 500, 300.0);
    const double learned = c.light_factor() - 1.0;
    c.look_at(irradiance_w_per_m2, 2.0);
    const double after = c.covariance().between(amp_slope, amp_slope);
    c.forget(86400.0);
    CHECK(c.light_factor() - 1.0 == Approx(learned / 2.718281828));
    c.forget(1e9);
    CHECK(c.light_factor() == Approx(1.0));
    LogCalibration fresh{LogAccuracy()};
    fresh.look_at(irradiance_w_per_m2, 2.0);
    CHECK(c.covariance().between(amp_slope, amp_slope) == Approx(fresh.covariance().between(amp_slope, amp_slope)));
    CHECK(after < 0.7 * fresh.covariance().between(amp_slope, amp_slope));
    CHECK(before > 0.0);
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
