#include <plait/physics/group_curve.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace plait;
using namespace plait::physics;

namespace {

// Twenty silicon cells, invented: with shunt and series resistance, and without.
const DiodeCurve twenty{10.0, 5e-10, 0.55, 0.1, 0.01};
const DiodeCurve sharp{6.0, 1e-11, 0.5, 0.0, 0.0};
const DiodeCurve dark{0.0, 5e-10, 0.55, 0.1, 0.0};

std::vector<GroupCurve> several_groups() {
    const ExponentialDiode bypass = schottky(10.0, Celsius{45.0});
    return {{twenty, bypass}, {sharp, bypass}, {dark, bypass}, {twenty, {}}, {dark, {}}};
}

}  // namespace

TEST_CASE("a bypass diode drops 0.3 to 0.6 V at its rating, from frost to heat") {
    // Common practice, no source: the drop of a Schottky bypass diode.
    CHECK(schottky(10.0, Celsius{25.0}).forward_v(10.0) == Approx(0.5).epsilon(1e-12));
    double before_v = 0.6;
    for (const double t : {-40.0, -20.0, 0.0, 25.0, 50.0, 85.0, 100.0}) {
        const double drop_v = schottky(10.0, Celsius{t}).forward_v(10.0);
        CHECK(drop_v > 0.3);
        CHECK(drop_v < before_v);  // warmer, less
        before_v = drop_v;
    }
    const ExponentialDiode d = schottky(10.0, Celsius{60.0});
    CHECK(d.current_a(d.forward_v(3.0)) == Approx(3.0).epsilon(1e-12));
}

TEST_CASE("a group's voltage and current undo each other, bypassed or not") {
    for (const GroupCurve& group : several_groups()) {
        for (const double v : {-0.45, -0.3, -0.05, 0.0, 0.02, 0.5, 5.0, 10.0, 12.0, 13.5, 15.0}) {
            CAPTURE(v);
            const GroupPoint p = group.at_voltage(v);
            CHECK(group.at_junction(p.junction_v).current_a == Approx(p.current_a).epsilon(1e-12).margin(1e-12));
            CHECK(group.at_junction(p.junction_v).voltage_v == Approx(v).margin(1e-12));
            // Where the curve is flat a current tells little of the voltage, so the way back is judged in amperes.
            const double back_v = group.voltage_v(p.current_a);
            CHECK(group.current_a(back_v) == Approx(p.current_a).epsilon(1e-12).margin(1e-12));
            if (p.conductance_s() > 1e-3) CHECK(back_v == Approx(v).margin(1e-11));
        }
    }
}

TEST_CASE("the sum of cells and bypass diode, by hand") {
    const ExponentialDiode bypass{1e-8, 0.027};
    const GroupCurve group(twenty, bypass);
    for (const double v : {-0.4, 0.0, 3.0, 12.0}) {
        CHECK(group.current_a(v) == Approx(twenty.current_a(v) + 1e-8 * std::expm1(-v / 0.027)).epsilon(1e-12));
    }
}

TEST_CASE("a group's conductances are the slope of its curve, those of the cells rise and that of the diode falls") {
    for (const GroupCurve& group : several_groups()) {
        GroupPoint before = group.at_voltage(-0.5);
        for (double v = -0.48; v < 14.0; v += v < 0.2 ? 0.02 : 0.3) {
            const GroupPoint p = group.at_voltage(v);
            CAPTURE(v);
            constexpr double step_v = 1e-5;
            const double slope = (group.current_a(v - step_v) - group.current_a(v + step_v)) / (2.0 * step_v);
            CHECK(p.conductance_s() == Approx(slope).epsilon(1e-5).margin(1e-9));
            CHECK(p.current_a < before.current_a + 1e-15);
            CHECK(p.cells_s >= before.cells_s);
            CHECK(p.bypass_s <= before.bypass_s);
            before = p;
        }
    }
}

TEST_CASE("a small step along the curve lands on it") {
    for (const GroupCurve& group : several_groups()) {
        for (const double v : {-0.3, 0.0, 6.0, 12.0}) {
            GroupPoint p = group.at_voltage(v);
            const double target_v = p.junction_v + 1e-5;
            group.nudge(p, 1e-5);
            const GroupPoint there = group.at_junction(target_v);
            CAPTURE(v);
            CHECK(p.voltage_v == Approx(there.voltage_v).margin(1e-13));
            CHECK(p.cells_s == Approx(there.cells_s).epsilon(1e-12));
            CHECK(p.bypass_s == Approx(there.bypass_s).epsilon(1e-9).margin(1e-30));
        }
    }
}

TEST_CASE("a constant current on top of a curve is again a single-diode curve") {
    const DiodeCurve more = with_constant(twenty, 0.05);
    for (const double v : {-2.0, 0.0, 9.0, 12.0, 14.0}) {
        CHECK(more.current_a(v) == Approx(twenty.current_a(v) + 0.05).epsilon(1e-13));
    }
}

TEST_CASE("a lone group has one maximum, or says that it cannot tell") {
    for (const GroupCurve& group : several_groups()) {
        const auto best = group.only_maximum();
        REQUIRE(best.has_value());
        double sampled_w = 0.0;
        for (int i = 0; i <= 3000; ++i) sampled_w = std::max(sampled_w, 0.005 * i * group.current_a(0.005 * i));
        CHECK(best->power_w() >= sampled_w * (1.0 - 1e-12));
        CHECK(best->power_w() == Approx(sampled_w).epsilon(1e-5).margin(1e-12));
    }
    DiodeCurve moonlit = twenty;
    moonlit.light_current_a = 1e-8;
    CHECK_FALSE(GroupCurve(moonlit, schottky(10.0, Celsius{45.0})).only_maximum().has_value());
}

TEST_CASE("a blocking diode passes current at its drop and stops it in reverse") {
    const GroupCurve blocking = blocking_element(10.0, Celsius{25.0});
    CHECK(blocking.is_blocking());
    CHECK(blocking.voltage_v(10.0) == Approx(-0.5).epsilon(1e-6));
    CHECK(blocking.current_a(100.0) == Approx(-1e-6).epsilon(0.05));  // 1e-9 S per ampere of rating, and saturation
    CHECK(blocking.current_a(0.0) == 0.0);
}
