#include "../support/arrays.hpp"

#include <plait/physics/array_curve.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace plait;
using namespace plait::physics;
using test::string_of;

namespace {

const std::vector<PanelPhysics> kinds = test::six_kinds();

ArrayCurve array_of(std::vector<SeriesString> strings, Condition condition = {}) {
    return {InputWiring{std::move(strings)}, kinds, condition};
}

/// A string of 60-cell panels whose first has one group in some of the light.
SeriesString shaded_string(std::size_t panels, double light_ratio) {
    SeriesString s;
    s.panels.assign(panels, PanelPlace{1, {}});
    s.panels[0].groups = {{light_ratio, 0.0}, {}, {}};
    return s;
}

}  // namespace

TEST_CASE("equal strings are the scaled curve of one panel") {
    for (std::size_t kind = 0; kind < kinds.size(); ++kind) {
        for (const Condition c : {Condition{}, Condition{60.0, {85.0}}, Condition{1100.0, {-20.0}}}) {
            CAPTURE(kind, c.irradiance_w_per_m2);
            const ArrayCurve array(written_out({kind, 4, 3}), kinds, c);
            const DiodeCurve scaled = kinds[kind].model.at(c).scaled(4, 3);
            const PowerPoint best = scaled.maximum_power();
            CHECK(array.maximum_power().power_w() == Approx(best.power_w()).epsilon(1e-12));
            CHECK(array.maximum_power().voltage_v == Approx(best.voltage_v).epsilon(1e-12));
            CHECK(array.open_circuit_v() == Approx(scaled.open_circuit_v()).epsilon(1e-12));
            // Above some 4 V a panel the bypass diodes are off and only leak, as they did when the panel was measured.
            for (const double share : {0.25, 0.7, 1.0, 1.1}) {
                const double v = share * best.voltage_v;
                CHECK(array.current_a(v) == Approx(scaled.current_a(v)).epsilon(1e-12));
                CHECK(array.slope_s(v) == Approx(scaled.slope_s(v)).epsilon(1e-11));
            }
            CHECK(array.short_circuit_a() == Approx(scaled.short_circuit_a()).epsilon(2e-5));
        }
    }
}

TEST_CASE("equal panels cost no more than one") {
    CHECK(ArrayCurve(written_out({1, 8, 3}), kinds, {}).parts().size() == 1);
    CHECK(array_of({string_of({0, 1, 1, 0}), string_of({1, 0, 1, 0}), string_of({1, 1})}).parts().size() == 3);
    CHECK(array_of({string_of({0, 1, 1, 0}), string_of({1, 0, 1, 0}), string_of({1, 1})}).branches().size() == 2);
}

TEST_CASE("the order of strings, panels and groups changes no digit") {
    test::Dice dice(21);
    for (int i = 0; i < 60; ++i) {
        const InputWiring wiring = test::random_wiring(dice, kinds, 4);
        InputWiring turned = wiring;
        std::reverse(turned.strings.begin(), turned.strings.end());
        for (SeriesString& s : turned.strings) {
            std::reverse(s.panels.begin(), s.panels.end());
            for (PanelPlace& p : s.panels) std::reverse(p.groups.begin(), p.groups.end());
        }
        const Condition c = test::random_condition(dice);
        const ArrayCurve a(wiring, kinds, c);
        const ArrayCurve b(turned, kinds, c);
        CAPTURE(i);
        CHECK(a.maximum_power().power_w() == Approx(b.maximum_power().power_w()).epsilon(1e-13));
        CHECK(a.current_a(20.0) == Approx(b.current_a(20.0)).epsilon(1e-13));
        CHECK(a.open_circuit_v() == Approx(b.open_circuit_v()).epsilon(1e-12));
    }
}

TEST_CASE("current and voltage of any array undo each other, and the current only falls") {
    test::Dice dice(22);
    for (int i = 0; i < 120; ++i) {
        const InputWiring wiring = test::random_wiring(dice, kinds, 4);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        const double open_v = array.open_circuit_v();
        const double scale_a = array.short_circuit_a();
        CHECK(array.current_a(open_v) == Approx(0.0).margin(1e-11 * scale_a));
        double before_a = array.current_a(-1.0);
        for (int k = 0; k <= 30; ++k) {
            const double v = open_v * k / 28.0;
            const double a = array.current_a(v);
            CAPTURE(i, v);
            CHECK(a <= before_a + 1e-13 * scale_a);
            CHECK(array.current_a(array.voltage_v(a)) == Approx(a).epsilon(1e-11).margin(1e-11 * scale_a));
            before_a = a;
        }
    }
}

TEST_CASE("the slope is that of the curve") {
    test::Dice dice(23);
    for (int i = 0; i < 60; ++i) {
        const ArrayCurve array(test::random_wiring(dice, kinds, 4), kinds, test::random_condition(dice));
        const double v = dice.between(0.0, 1.05) * array.open_circuit_v();
        const double step_v = 1e-5;
        const double by_difference = (array.current_a(v + step_v) - array.current_a(v - step_v)) / (2.0 * step_v);
        CHECK(array.slope_s(v) == Approx(by_difference).epsilon(1e-4).margin(1e-7));
    }
}

TEST_CASE("a blocking diode costs its drop and stops reverse current") {
    SeriesString weak = string_of({1, 1});
    const SeriesString strong = string_of({1, 1, 1});
    // Three panels at open circuit stand well above what two give there: these are driven backwards.
    const double open_v = array_of({strong}).open_circuit_v();
    CHECK(array_of({weak}).current_a(open_v) < -1.0);
    weak.blocking_diode = true;
    CHECK(array_of({weak}).current_a(open_v) < 0.0);
    CHECK(array_of({weak}).current_a(open_v) > -1e-6);
    // In front of one string the drop at the string's current is lost, and nothing else.
    SeriesString blocked = strong;
    blocked.blocking_diode = true;
    const double drop_v = schottky(9.6, stc_cell).forward_v(8.0);
    CHECK(array_of({blocked}).voltage_v(8.0) == Approx(array_of({strong}).voltage_v(8.0) - drop_v).epsilon(1e-9));
}

TEST_CASE("a blocking diode never raises the power of its own string") {
    // Of the array it may: without it the string would take current at the array's best voltage.
    test::Dice dice(24);
    for (int i = 0; i < 100; ++i) {
        InputWiring wiring = test::random_wiring(dice, kinds, 1);
        const Condition c = test::random_condition(dice);
        wiring.strings[0].blocking_diode = false;
        const ArrayCurve plain(wiring, kinds, c);
        wiring.strings[0].blocking_diode = true;
        const ArrayCurve blocked(wiring, kinds, c);
        CHECK(blocked.maximum_power().power_w() < plain.maximum_power().power_w());
        const double v = dice.between(0.0, 1.0) * plain.open_circuit_v();
        CHECK(blocked.current_a(v) <= plain.current_a(v) + 1e-12);
    }
}

TEST_CASE("less shade never means less current at any voltage, nor less power") {
    test::Dice dice(25);
    for (int i = 0; i < 100; ++i) {
        InputWiring wiring = test::random_wiring(dice, kinds, 3);
        const Condition c = test::random_condition(dice);
        const ArrayCurve before(wiring, kinds, c);
        for (SeriesString& s : wiring.strings) {
            for (PanelPlace& p : s.panels) {
                for (GroupState& g : p.groups) g.light_ratio += (1.0 - g.light_ratio) * dice.between(0.0, 1.0);
            }
        }
        const ArrayCurve after(wiring, kinds, c);
        CAPTURE(i);
        CHECK(after.maximum_power().power_w() >= before.maximum_power().power_w() * (1.0 - 1e-12));
        for (int k = 0; k <= 20; ++k) {
            const double v = before.open_circuit_v() * k / 20.0;
            CHECK(after.current_a(v) >= before.current_a(v) - 1e-12 * before.short_circuit_a());
        }
    }
}

TEST_CASE("a shaded group is bypassed at the current of the others, at the price of the diode's drop") {
    const ArrayCurve clear = array_of({shaded_string(2, 1.0)});
    const ArrayCurve shaded = array_of({shaded_string(2, 0.3)});
    // At 8 A five of six groups work; the sixth lets 8 A less its own light through the diode.
    const double surplus_a = 8.0 - 0.3 * 9.6;
    const double five_v = clear.voltage_v(8.0) * 5.0 / 6.0;
    CHECK(shaded.voltage_v(8.0) == Approx(five_v - schottky(9.6, stc_cell).forward_v(surplus_a)).epsilon(1e-4));
}

TEST_CASE("the voltage at a wanted power, on both sides of the maximum") {
    test::Dice dice(26);
    for (int i = 0; i < 40; ++i) {
        const ArrayCurve array(InputWiring{{shaded_string(3, dice.between(0.2, 1.0)), string_of({0, 1, 2})}}, kinds,
                               test::random_condition(dice));
        const PowerPoint best = array.maximum_power();
        const double wanted_w = 0.98 * best.power_w();
        const double right_v = array.power_crossing(wanted_w, best, {array.open_circuit_v(), 0.0}).voltage_v;
        CHECK(right_v > best.voltage_v);
        CHECK(right_v * array.current_a(right_v) == Approx(wanted_w).epsilon(1e-12));
        const double low_v = 0.93 * best.voltage_v;
        if (low_v * array.current_a(low_v) > wanted_w) continue;
        const double left_v = array.power_crossing(wanted_w, {low_v, array.current_a(low_v)}, best).voltage_v;
        CHECK(left_v < best.voltage_v);
        CHECK(left_v * array.current_a(left_v) == Approx(wanted_w).epsilon(1e-12));
    }
}

TEST_CASE("nothing plugged in, and darkness, give nothing") {
    const ArrayCurve none(InputWiring{}, kinds, {});
    CHECK(none.current_a(12.0) == 0.0);
    CHECK(none.maximum_power().power_w() == 0.0);
    CHECK(none.open_circuit_v() == 0.0);
    const ArrayCurve no_panels = array_of({SeriesString{}, string_of({1})});
    CHECK(no_panels.maximum_power().power_w() == array_of({string_of({1})}).maximum_power().power_w());
    for (const ArrayCurve& dark :
         {array_of({string_of({0, 1})}, {0.0, {10.0}}), array_of({string_of({3})}, {0.0, {10.0}}),
          array_of({string_of({0}), string_of({1, 2})}, {0.0, {10.0}})}) {
        CHECK(dark.maximum_power().power_w() == 0.0);
        CHECK(dark.open_circuit_v() == Approx(0.0).margin(1e-9));
        CHECK(dark.current_a(10.0) <= 0.0);
    }
}
