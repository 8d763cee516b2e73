#include "../support/arrays.hpp"

#include <plait/physics/array_reading.hpp>

#include <catch2/catch.hpp>

#include <vector>

using namespace plait;
using namespace plait::physics;
using test::string_of;

namespace {

const std::vector<PanelPhysics> kinds = test::six_kinds();

}  // namespace

TEST_CASE("readings obey Kirchhoff: volts add along a string, amperes across strings") {
    test::Dice dice(41);
    for (int i = 0; i < 80; ++i) {
        const InputWiring wiring = test::random_wiring(dice, kinds, 4);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        const double v = dice.between(0.0, 1.0) * array.open_circuit_v();
        const ArrayReading reading = array_reading(array, v);
        CAPTURE(i, v);
        REQUIRE(reading.strings.size() == wiring.strings.size());
        double sum_a = 0.0;
        for (std::size_t s = 0; s < wiring.strings.size(); ++s) {
            const StringReading& string = reading.strings[s];
            sum_a += string.current_a;
            double sum_v = -string.blocking_v;
            REQUIRE(string.panels.size() == wiring.strings[s].panels.size());
            for (std::size_t p = 0; p < string.panels.size(); ++p) {
                sum_v += string.panels[p].voltage_v;
                REQUIRE(string.panels[p].groups.size() == kinds[wiring.strings[s].panels[p].kind].group_count());
            }
            CHECK(sum_v == Approx(v).margin(1e-9));
            if (!wiring.strings[s].blocking_diode) CHECK(string.blocking_v == 0.0);
        }
        CHECK(sum_a == Approx(reading.point.current_a).epsilon(1e-12).margin(1e-12));
        CHECK(reading.point.current_a == array.current_a(v));
    }
}

TEST_CASE("the shaded group is bypassed, the clear ones are not, each in its place") {
    InputWiring wiring{{string_of({1, 1})}};
    wiring.strings[0].panels[1].groups = {{1.0, 0.0}, {0.2, 0.0}, {1.0, 0.0}};
    const ArrayCurve array(wiring, kinds, {});
    const ArrayReading reading = array_reading(array, array.maximum_power().voltage_v);
    for (std::size_t p = 0; p < 2; ++p) {
        for (std::size_t g = 0; g < 3; ++g) {
            const GroupReading& group = reading.strings[0].panels[p].groups[g];
            const bool shaded = p == 1 && g == 1;
            CAPTURE(p, g);
            CHECK(group.bypassed == shaded);
            CHECK((group.voltage_v < 0.0) == shaded);
            if (shaded) CHECK(group.bypass_a == Approx(reading.strings[0].current_a - 0.2 * 9.6).epsilon(1e-3));
        }
    }
}

TEST_CASE("at open circuit the long string drives current back through the short one") {
    const ArrayCurve array(InputWiring{{string_of({1, 1, 1}), string_of({1, 1})}}, kinds, {});
    const ArrayReading reading = array_reading(array, array.open_circuit_v());
    CHECK(reading.strings[0].current_a > 1.0);
    CHECK(reading.strings[1].current_a == Approx(-reading.strings[0].current_a).epsilon(1e-9));
}

TEST_CASE("equal panels lose nothing to each other") {
    const Mismatch mismatch = mismatch_at_maximum(ArrayCurve(written_out({2, 3, 2}), kinds, {800.0, {45.0}}));
    CHECK(mismatch.lost_w() == Approx(0.0).margin(1e-9));
    for (const auto& string : mismatch.panels) {
        for (const PanelShare& share : string) CHECK(share.lost_w() == Approx(0.0).margin(1e-9));
    }
}

TEST_CASE("the losses of the panels and the blocking diodes add up to the array's") {
    test::Dice dice(42);
    for (int i = 0; i < 60; ++i) {
        const InputWiring wiring = test::random_wiring(dice, kinds, 3);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        const Mismatch mismatch = mismatch_at_maximum(array);
        CAPTURE(i);
        double delivered_w = 0.0;
        double own_w = 0.0;
        for (const auto& string : mismatch.panels) {
            for (const PanelShare& share : string) {
                CHECK(share.lost_w() >= -1e-9);
                delivered_w += share.delivered_w;
                own_w += share.own_maximum_w;
            }
        }
        CHECK(own_w == Approx(mismatch.own_w).epsilon(1e-12));
        CHECK(delivered_w - mismatch.blocking_w == Approx(mismatch.point.power_w()).epsilon(1e-9));
        CHECK(mismatch.lost_w() >= -1e-9);
        CHECK(mismatch.blocking_w >= -1e-9);
    }
}

TEST_CASE("a weak panel without a bypass diode can consume") {
    // Among strong ones, and nearly dark: it is driven into reverse.
    InputWiring wiring{{string_of({3, 3, 3, 3})}};
    wiring.strings[0].panels[2].groups = {{0.05, 0.0}};
    const ArrayCurve array(wiring, kinds, {});
    const Mismatch mismatch = mismatch_at(array, 0.5 * array.open_circuit_v());
    CHECK(mismatch.panels[0][2].delivered_w < 0.0);
    CHECK(mismatch.panels[0][0].delivered_w > 0.0);
}
