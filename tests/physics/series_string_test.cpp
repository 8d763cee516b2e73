#include "../support/arrays.hpp"

#include <plait/physics/series_string.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace plait;
using namespace plait::physics;

namespace {

/// One to five unlike parts, among them dark ones, some without shunt, series resistance or bypass diode; several with
/// the very same light current, so that two are flat at once.
std::vector<SeriesPart> random_parts(test::Dice& dice) {
    std::vector<SeriesPart> parts;
    const std::size_t size = 1 + dice.below(5);
    for (std::size_t i = 0; i < size; ++i) {
        const double cells = std::floor(dice.between(20.0, 70.0));
        DiodeCurve c;
        c.light_current_a = dice.chance(0.1) ? 0.0 : dice.chance(0.2) ? 6.0 : dice.between(0.05, 12.0);
        c.ideality_v = cells * 0.0257 * dice.between(0.7, 1.8);
        c.saturation_current_a = 10.0 * std::exp(-cells * dice.between(0.55, 0.75) / c.ideality_v);
        c.series_resistance_ohm = dice.chance(0.1) ? 0.0 : cells * dice.between(0.001, 0.012);
        c.shunt_conductance_s = dice.chance(0.3) ? 0.0 : dice.between(0.0, 0.02);
        const ExponentialDiode bypass =
            dice.chance(0.7) ? schottky(10.0, Celsius{dice.between(-20.0, 80.0)}) : ExponentialDiode{};
        parts.push_back({GroupCurve(c, bypass), 1.0 + static_cast<double>(dice.below(8))});
    }
    if (dice.chance(0.3)) parts.push_back({blocking_element(10.0, Celsius{40.0}), 1.0});
    return parts;
}

}  // namespace

TEST_CASE("Newton and bisection find the same current of a string") {
    test::Dice dice(5);
    for (int i = 0; i < 300; ++i) {
        const std::vector<SeriesPart> parts = random_parts(dice);
        std::vector<GroupPoint> fast(parts.size());
        std::vector<GroupPoint> sure(parts.size());
        for (int k = 0; k < 8; ++k) {
            const double v = dice.between(-5.0, 300.0);
            CAPTURE(i, v);
            const double fast_a = current_from_scratch(parts, v, fast);
            CHECK(fast_a == Approx(current_by_bisection(parts, v, sure)).epsilon(1e-12).margin(1e-11));
            // Kirchhoff: one current, and voltages that add up. What rounding leaves undecided where two groups without
            // a shunt are flat at once is below 1e-4 V.
            double sum_v = 0.0;
            for (std::size_t p = 0; p < parts.size(); ++p) {
                sum_v += parts[p].count * fast[p].voltage_v;
                CHECK(parts[p].curve.current_a(fast[p].voltage_v) == Approx(fast_a).epsilon(1e-11).margin(1e-10));
            }
            CHECK(sum_v == Approx(v).margin(1e-4));
        }
    }
}

TEST_CASE("the voltage of a string at a current is the sum of its groups'") {
    test::Dice dice(6);
    for (int i = 0; i < 100; ++i) {
        const std::vector<SeriesPart> parts = random_parts(dice);
        std::vector<GroupPoint> points(parts.size());
        for (const double a : {-0.5, 0.0, 1.0, 5.9, 8.0}) {
            double sum_v = 0.0;
            for (const SeriesPart& part : parts) sum_v += part.count * part.curve.voltage_v(a);
            CHECK(voltage_at_current(parts, a, points) == sum_v);
        }
    }
}

TEST_CASE("where a string starts its search does not matter") {
    test::Dice dice(7);
    for (int i = 0; i < 100; ++i) {
        const std::vector<SeriesPart> parts = random_parts(dice);
        std::vector<GroupPoint> points(parts.size());
        const double v = dice.between(0.0, 200.0);
        const double scratch_a = current_from_scratch(parts, v, points);
        for (const double start_a : {-2.0, 0.0, 4.0, 11.0}) {
            voltage_at_current(parts, start_a, points);
            CHECK(current_at_voltage(parts, v, points) == Approx(scratch_a).epsilon(1e-12).margin(1e-11));
        }
    }
}
