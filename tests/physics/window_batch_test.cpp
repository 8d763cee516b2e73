#include <plait/physics/datasheet_fit.hpp>
#include <plait/physics/window_batch.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>
#include <vector>

using namespace plait;
using namespace plait::physics;

namespace {

class Dice {
public:
    explicit Dice(unsigned seed) : random_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(random_() >> 4) / static_cast<double>(1u << 28);
    }
    int upto(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

private:
    std::mt19937 random_;
};

struct Hours {
    CurveBatch curves;
    std::vector<double> v, a;
};

/// Hours of a panel of some kind, in series and parallel.
Hours hours_of(Dice& dice, int count) {
    Panel p;
    p.technology = dice.upto(3) == 0 ? Technology::cigs : Technology::perc;
    p.cells_in_series = 36;
    p.voc_v = 22.3;
    p.isc_a = 5.7;
    p.vmp_v = p.technology == Technology::cigs ? 16.4 : 18.6;
    p.imp_a = 5.25;
    p.pmax_w = p.vmp_v * p.imp_a;
    p.isc_coefficient_per_k = 0.0005;
    p.voc_coefficient_per_k = -0.0029;
    p.pmax_coefficient_per_k = -0.0038;
    const auto fit = fit_datasheet(p, CurveMethod::prior_ideality);
    REQUIRE(fit);
    Hours h;
    const int s = 1 + dice.upto(6);
    const int n = 1 + dice.upto(4);
    for (int i = 0; i < count; ++i) {
        DiodeCurve c = fit->model.at({i % 50 == 0 ? 0.0 : dice.between(2.0, 1300.0), {dice.between(-30.0, 80.0)}});
        c = c.scaled(s, n);
        c.series_resistance_ohm += 0.1;
        h.curves.add(c);
    }
    h.v.resize(h.curves.size());
    h.a.resize(h.curves.size());
    maximum_power_points(h.curves, h.v, h.a);
    return h;
}

AcceptanceWindow window_of(Dice& dice) {
    AcceptanceWindow w;
    w.low_v = dice.upto(3) == 0 ? 0.0 : dice.between(5.0, 60.0);
    w.high_v = w.low_v + dice.between(1.0, 80.0);
    if (dice.upto(2) == 0) w.power_w = dice.between(10.0, 900.0);
    const int bands = dice.upto(4);
    double from = dice.upto(2) == 0 ? w.low_v : w.low_v + dice.between(0.0, 10.0);
    for (int b = 0; b < bands; ++b) {
        const double to = from + dice.between(2.0, 40.0);
        w.bands.push_back({from, to, dice.between(1.0, 20.0)});
        from = dice.upto(3) == 0 ? to + dice.between(0.5, 5.0) : to;  // touching, or with a gap
    }
    return w;
}

}  // namespace

TEST_CASE("operating points in a batch are those found one by one, in all sorts of windows") {
    Dice dice(4711);
    int held = 0;
    int bound[8] = {};
    int none[4] = {};
    for (int trial = 0; trial < 400; ++trial) {
        const Hours h = hours_of(dice, 150);
        const AcceptanceWindow w = window_of(dice);
        std::vector<BatchPoint> points(h.curves.size());
        operating_points(h.curves, h.v, h.a, w, points, best_batch_form());
        for (std::size_t i = 0; i < points.size(); ++i) {
            const DiodeCurve curve = h.curves.at(i);
            const OperatingPoint one = operating_point(curve, w);
            INFO("trial " << trial << ", hour " << i << ": window " << w.low_v << " to " << w.high_v << " V, "
                          << w.power_w << " W, " << w.bands.size() << " bands; maximum " << one.free_maximum.voltage_v
                          << " V " << one.free_maximum.current_a << " A; one by one " << one.point.voltage_v << " V "
                          << one.point.current_a << " A");
            CHECK(points[i].none == one.none);
            ++none[static_cast<int>(one.none)];
            if (!one.held() || points[i].none != one.none) continue;
            ++held;
            ++bound[static_cast<int>(one.binding)];
            CHECK(points[i].binding == one.binding);
            CHECK(points[i].point.power_w() == Approx(one.point.power_w()).epsilon(1e-10));
            CHECK(points[i].point.voltage_v == Approx(one.point.voltage_v).epsilon(1e-9));
        }
    }
    // Everything was met with, so that everything was compared.
    CHECK(held > 10000);
    for (int b = 0; b < 6; ++b) CHECK(bound[b] > 50);
    for (int n = 0; n < 4; ++n) CHECK(none[n] > 50);
}

TEST_CASE("the equations of a batch are solved as one by one, and in every form with the same bits") {
    Dice dice(99);
    for (int trial = 0; trial < 60; ++trial) {
        const Hours h = hours_of(dice, 130);
        const std::size_t n = h.curves.size();
        std::vector<double> amps, volts, watts;
        for (std::size_t i = 0; i < n; ++i) {
            amps.push_back(h.a[i] * dice.between(0.02, 1.0));
            volts.push_back(h.curves.at(i).open_circuit_v() * dice.between(0.0, 1.3));
            watts.push_back(h.v[i] * h.a[i] * dice.between(0.02, 1.0));
        }
        std::vector<PowerPoint> p(n), q(n);
        const auto same = [&] {
            for (std::size_t i = 0; i < n; ++i) {
                CHECK(p[i].voltage_v == q[i].voltage_v);
                CHECK(p[i].current_a == q[i].current_a);
            }
        };
        voltages_at_current(h.curves, {{}, amps, 0.0, h.v, h.a}, p, BatchForm::plain);
        voltages_at_current(h.curves, {{}, amps, 0.0, h.v, h.a}, q, BatchForm::wide);
        same();
        for (std::size_t i = 0; i < n; ++i) {
            if (!(h.a[i] > 0.0)) continue;
            const DiodeCurve c = h.curves.at(i);
            CHECK(std::abs(p[i].voltage_v - c.voltage_v(amps[i])) <= 1e-11 * c.open_circuit_v());
        }
        currents_at_voltage(h.curves, {{}, volts, 0.0, h.v, h.a}, p, BatchForm::plain);
        currents_at_voltage(h.curves, {{}, volts, 0.0, h.v, h.a}, q, BatchForm::wide);
        same();
        for (std::size_t i = 0; i < n; ++i) {
            const DiodeCurve c = h.curves.at(i);
            const double wanted = c.current_a(volts[i]);
            // The last term is for the dark, where both are rounding.
            CHECK(std::abs(p[i].current_a - wanted) <= 1e-11 * (c.light_current_a + std::abs(wanted)) + 1e-15);
        }
        for (const BatchSide side : {BatchSide::above, BatchSide::below}) {
            power_crossings(h.curves, {{}, watts, 0.0, h.v, h.a}, side, p, BatchForm::plain);
            power_crossings(h.curves, {{}, watts, 0.0, h.v, h.a}, side, q, BatchForm::wide);
            same();
            for (std::size_t i = 0; i < n; ++i) {
                if (!(h.a[i] > 0.0)) continue;
                // Near the maximum the place of a power is known to half the digits of the power.
                CHECK(p[i].power_w() == Approx(watts[i]).epsilon(1e-11));
                CHECK(p[i].current_a == Approx(h.curves.at(i).current_a(p[i].voltage_v)).epsilon(1e-9));
                if (side == BatchSide::above) {
                    CHECK(p[i].voltage_v >= h.v[i] * (1.0 - 1e-7));
                } else {
                    CHECK(p[i].voltage_v <= h.v[i] * (1.0 + 1e-7));
                }
            }
        }
    }
}

TEST_CASE("points held at one voltage are those found one by one") {
    Dice dice(5);
    for (int trial = 0; trial < 20; ++trial) {
        const Hours h = hours_of(dice, 100);
        const double at_v = dice.between(5.0, 60.0);
        std::vector<BatchPoint> points(h.curves.size());
        pinned_points(h.curves, h.v, h.a, at_v, points, best_batch_form());
        for (std::size_t i = 0; i < points.size(); ++i) {
            const OperatingPoint one = pinned_point(h.curves.at(i), at_v);
            CHECK(points[i].none == one.none);
            CHECK(points[i].point.power_w() == Approx(one.point.power_w()).epsilon(1e-9).margin(1e-12));
        }
    }
}
