// Laws that hold for any panel, checked on every panel file of the project. They follow from the definitions of series,
// parallel and maximum, and from the datasheet's own figures; none of the expected values comes from this program.
#include "shipped_panels.hpp"

#include <plait/physics/datasheet_fit.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

using namespace plait;
using namespace plait::physics;
using laws::shipped_panels;
using laws::ShippedPanel;

namespace {

const std::vector<CurveMethod> methods{CurveMethod::prior_ideality, CurveMethod::de_soto};

const std::vector<Condition> conditions{{1000.0, Celsius{25.0}}, {1000.0, Celsius{-20.0}}, {1000.0, Celsius{75.0}},
                                        {600.0, Celsius{40.0}},  {200.0, Celsius{25.0}},   {50.0, Celsius{5.0}}};

FittedPanel fitted(const ShippedPanel& shipped, CurveMethod method) {
    const auto fit = fit_datasheet(shipped.panel, method);
    REQUIRE(fit.has_value());
    return *fit;
}

/// Runs `check` on the curve of every panel by both methods in every condition.
template <class Check>
void on_every_curve(Check check) {
    for (const ShippedPanel& shipped : shipped_panels()) {
        for (const CurveMethod method : methods) {
            const DiodeModel model = fitted(shipped, method).model;
            for (const Condition& condition : conditions) {
                INFO(shipped.file << ", " << (method == CurveMethod::de_soto ? "De Soto" : "prior ideality") << ", "
                                  << condition.irradiance_w_per_m2 << " W/m², " << condition.cell.degc << " °C");
                check(model.at(condition));
            }
        }
    }
}

}  // namespace

TEST_CASE("no point of a curve has more power than its maximum, which lies on it") {
    on_every_curve([](const DiodeCurve& curve) {
        const PowerPoint best = curve.maximum_power();
        CHECK(best.power_w() > 0.0);
        CHECK(curve.current_a(best.voltage_v) == Approx(best.current_a).epsilon(1e-9));
        constexpr int steps = 400;
        double greatest_w = 0.0;
        for (int k = 0; k <= steps; ++k) {
            const double v = curve.open_circuit_v() * k / steps;
            greatest_w = std::max(greatest_w, v * curve.current_a(v));
        }
        CHECK(greatest_w <= best.power_w() * (1.0 + 1e-12));
        // On a grid of Voc/400 the nearest point is at most Voc/800 away, where a curve of fill factor 0.5 to 0.85 has
        // lost less than one part in a thousand.
        CHECK(greatest_w > best.power_w() * 0.999);
    });
}

TEST_CASE("a curve falls from short circuit to open circuit, ends there, and reads the same both ways") {
    on_every_curve([](const DiodeCurve& curve) {
        const double voc = curve.open_circuit_v();
        const double isc = curve.short_circuit_a();
        CHECK(curve.current_a(voc) == Approx(0.0).margin(1e-9 * isc));
        for (const double share : {0.1, 0.5, 0.9, 0.999}) {
            CHECK(curve.current_a(curve.voltage_v(share * isc)) == Approx(share * isc).epsilon(1e-9));
        }
        double before_a = isc;
        for (int k = 1; k <= 50; ++k) {
            const double i = curve.current_a(voc * k / 50);
            CHECK(i <= before_a + 1e-12 * isc);
            before_a = i;
        }
    });
}

TEST_CASE("panels in series add volts at the same current, panels in parallel amperes at the same voltage") {
    on_every_curve([](const DiodeCurve& one) {
        const double isc = one.short_circuit_a();
        for (const int n : {2, 3, 7}) {
            const DiodeCurve row = one.scaled(n, 1);
            const DiodeCurve side_by_side = one.scaled(1, n);
            for (const double share : {0.0, 0.3, 0.9, 0.97}) {
                CHECK(row.voltage_v(share * isc) == Approx(n * one.voltage_v(share * isc)).epsilon(1e-9));
                const double v = share * one.open_circuit_v();
                CHECK(side_by_side.current_a(v) == Approx(n * one.current_a(v)).epsilon(1e-9));
            }
            CHECK(side_by_side.open_circuit_v() == Approx(one.open_circuit_v()).epsilon(1e-12));
            CHECK(row.short_circuit_a() == Approx(isc).epsilon(1e-12));
            CHECK(one.scaled(n, n).maximum_power().power_w() ==
                  Approx(n * n * one.maximum_power().power_w()).epsilon(1e-9));
        }
    });
}

TEST_CASE("colder never lowers the open-circuit voltage, and brighter never does") {
    for (const ShippedPanel& shipped : shipped_panels()) {
        for (const CurveMethod method : methods) {
            const DiodeModel model = fitted(shipped, method).model;
            for (const double irradiance : {50.0, 200.0, 600.0, 1000.0, 1200.0}) {
                double warmer_v = 0.0;
                for (double cell = 90.0; cell >= -40.0; cell -= 10.0) {
                    INFO(shipped.file << ", " << irradiance << " W/m², " << cell << " °C");
                    const double voc = model.at({irradiance, Celsius{cell}}).open_circuit_v();
                    CHECK(voc > warmer_v);
                    CHECK(voc > model.at({0.8 * irradiance, Celsius{cell}}).open_circuit_v());
                    warmer_v = voc;
                }
            }
        }
    }
}

TEST_CASE("the cold open-circuit voltage follows the datasheet's line") {
    // The line is how the codes have it worked out: IEC 60364-7-712 and NEC 690.7(A)(1), both from memory.
    for (const ShippedPanel& shipped : shipped_panels()) {
        const Panel& p = shipped.panel;
        const DiodeModel model = fitted(shipped, CurveMethod::prior_ideality).model;
        for (const double cell : {-40.0, -18.0, 0.0, 25.0, 70.0}) {
            INFO(shipped.file << ", " << cell << " °C");
            const double line_v = p.voc_v * (1.0 + p.voc_coefficient_per_k * (cell - 25.0));
            const double given_by_hand = p.given_diode ? 1e-3 : 1e-9;  // parameters rounded to four digits or so
            CHECK(model.at({1000.0, Celsius{cell}}).open_circuit_v() == Approx(line_v).epsilon(given_by_hand));
        }
    }
}
