// Resistance in the wires of an array, against the array without them.
#include "../support/arrays.hpp"

#include <plait/physics/array_reading.hpp>
#include <plait/physics/operating_point.hpp>
#include <plait/physics/power_extremes.hpp>

#include <catch2/catch.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::physics;
using plait::test::Dice;

namespace {

WireResistance random_wires(Dice& dice, std::size_t strings) {
    WireResistance wires;
    for (std::size_t s = 0; s < strings; ++s)
        wires.string_ohm.push_back(dice.chance(0.3) ? 0.4 : dice.between(0.01, 2.0));
    wires.trunk_ohm = dice.chance(0.2) ? 0.0 : dice.between(0.005, 1.5);
    return wires;
}

}  // namespace

TEST_CASE("wires: equal strings are one single-diode curve with that much more series resistance") {
    const std::vector<PanelPhysics> kinds{test::silicon_panel(60, 9.6, 1.05, 0.30, 300.0, 0)};
    const Condition condition{900.0, Celsius{40.0}};
    const InputWiring wiring = written_out({0, 3, 2});
    const ArrayCurve array(wiring, kinds, condition, {{0.6, 0.6}, 0.25});
    DiodeCurve curve = kinds[0].model.at(condition).scaled(3, 2);
    curve.series_resistance_ohm += 0.6 / 2 + 0.25;
    CHECK(array.open_circuit_v() == Approx(curve.open_circuit_v()).epsilon(1e-12));
    CHECK(array.short_circuit_a() == Approx(curve.short_circuit_a()).epsilon(1e-11));
    CHECK(array.maximum_power().power_w() == Approx(curve.maximum_power().power_w()).epsilon(1e-11));
    CHECK(array.maximum_power().voltage_v == Approx(curve.maximum_power().voltage_v).epsilon(1e-8));
    for (const double share : {0.2, 0.6, 0.85, 0.99}) {
        const double v = share * curve.open_circuit_v();
        CHECK(array.current_a(v) == Approx(curve.current_a(v)).epsilon(1e-10));
        CHECK(array.slope_s(v) == Approx(curve.slope_s(v)).epsilon(1e-8));
        CHECK(array.voltage_v(curve.current_a(v)) == Approx(v).epsilon(1e-10));
    }
}

TEST_CASE("wires: every string's own curve, less its drops, meets at the terminals") {
    Dice dice(4711);
    const auto kinds = test::six_kinds();
    for (int round = 0; round < 60; ++round) {
        CAPTURE(round);
        const InputWiring wiring = test::random_wiring(dice, kinds, 3);
        const Condition condition = test::random_condition(dice);
        const WireResistance wires = random_wires(dice, wiring.strings.size());
        const ArrayCurve array(wiring, kinds, condition, wires);
        const double v = dice.between(0.1, 0.95) * std::max(1.0, array.open_circuit_v());
        const ArrayReading reading = array_reading(array, v);
        const double scale_v = array.open_circuit_v() + 10.0;
        double sum_a = 0.0;
        double heat_w = 0.0;
        for (std::size_t s = 0; s < wiring.strings.size(); ++s) {
            const double string_a = reading.strings[s].current_a;
            const ArrayCurve bare(InputWiring{{wiring.strings[s]}}, kinds, condition);
            // A flat curve gives its voltage badly and its current well; a steep one the other way round.
            const double own_v = v + wires.trunk_ohm * reading.point.current_a + wires.string_ohm[s] * string_a;
            const double off_v = std::abs(bare.voltage_v(string_a) - own_v);
            const double off_a = std::abs(bare.current_a(own_v) - string_a);
            CHECK((off_v < 1e-8 * scale_v || off_a < 1e-9));
            sum_a += string_a;
            heat_w += wires.string_ohm[s] * string_a * string_a;
        }
        heat_w += wires.trunk_ohm * sum_a * sum_a;
        CHECK(reading.point.current_a == Approx(sum_a).margin(1e-10));
        CHECK(reading.wire_w() == Approx(heat_w).epsilon(1e-9).margin(1e-12));
    }
}

TEST_CASE("wires: all power maxima are found behind them; none lies above the best, by a fine sweep") {
    Dice dice(815);
    const auto kinds = test::six_kinds();
    for (int round = 0; round < 25; ++round) {
        CAPTURE(round);
        const InputWiring wiring = test::random_wiring(dice, kinds, 3);
        const Condition condition = test::random_condition(dice);
        const ArrayCurve array(wiring, kinds, condition, random_wires(dice, wiring.strings.size()));
        const PowerPoint best = array.maximum_power();
        const PowerExtremes all = power_extremes(array);
        CHECK(all.best().point.power_w() == Approx(best.power_w()).epsilon(1e-10).margin(1e-9));
        const double open_v = array.open_circuit_v();
        double swept_w = 0.0;
        for (int i = 1; i < 400; ++i) {
            const double v = open_v * i / 400.0;
            swept_w = std::max(swept_w, v * array.current_a(v));
        }
        CHECK(best.power_w() >= swept_w * (1.0 - 1e-10));
        CHECK(best.power_w() <= swept_w * 1.002 + 1e-9);  // the sweep's steps of Voc/400 cut off at most so much
        for (std::size_t i = 0; i < all.points.size(); ++i) {
            if (all.points[i].at_end) continue;
            const PowerPoint p = all.points[i].point;
            const double step_v = 1e-4 * open_v;
            const double beside_w = std::max((p.voltage_v - step_v) * array.current_a(p.voltage_v - step_v),
                                             (p.voltage_v + step_v) * array.current_a(p.voltage_v + step_v));
            if (all.points[i].maximum) CHECK(beside_w <= p.power_w() * (1.0 + 1e-12) + 1e-12);
        }
    }
}

TEST_CASE("law: a wire never raises what an array gives, and a trunk leaves its open-circuit voltage") {
    Dice dice(99);
    const auto kinds = test::six_kinds();
    AcceptanceWindow window;
    window.low_v = 20.0;
    window.high_v = 140.0;
    window.bands = {{20.0, 60.0, 8.0}, {60.0, 140.0, 13.0}};
    window.power_w = 700.0;
    for (int round = 0; round < 40; ++round) {
        CAPTURE(round);
        const InputWiring wiring = test::random_wiring(dice, kinds, 3);
        const Condition condition = test::random_condition(dice);
        const WireResistance wires = random_wires(dice, wiring.strings.size());
        const ArrayCurve bare(wiring, kinds, condition);
        const ArrayCurve wired(wiring, kinds, condition, wires);
        const ArrayCurve trunk(wiring, kinds, condition, {{}, 1.0});
        CHECK(wired.maximum_power().power_w() <= bare.maximum_power().power_w() * (1.0 + 1e-11) + 1e-9);
        CHECK(trunk.open_circuit_v() == Approx(bare.open_circuit_v()).epsilon(1e-10));
        CHECK(trunk.short_circuit_a() <= bare.short_circuit_a() + 1e-10);
        const OperatingPoint with = operating_point(wired, window);
        const OperatingPoint free = operating_point(wired, AcceptanceWindow{});
        CHECK(with.point.power_w() <= free.point.power_w() * (1.0 + 1e-10) + 1e-9);
    }
}
