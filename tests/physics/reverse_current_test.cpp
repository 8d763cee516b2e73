#include "../support/arrays.hpp"

#include <plait/physics/array_reading.hpp>
#include <plait/physics/reverse_current.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace plait;
using namespace plait::physics;
using test::string_of;

namespace {

const std::vector<PanelPhysics> kinds = test::six_kinds();

double driven_back_a(const ArrayCurve& array, std::size_t string) {
    return std::max(0.0, -string_currents_a(array, array.open_circuit_v())[string]);
}

/// The V at which three panels' current and two panels' current cancel, by bisection on single panels alone. The bare
/// panel has no bypass diodes, so its curve is the single-diode equation and nothing else.
double balance_v(const DiodeCurve& panel, double strong_stretch, double weak_stretch) {
    double low = 0.0;
    double high = 3.0 * strong_stretch * panel.open_circuit_v();
    for (int i = 0; i < 200; ++i) {
        const double v = 0.5 * (low + high);
        const double sum_a = panel.current_a(v / (3.0 * strong_stretch)) + panel.current_a(v / (2.0 * weak_stretch));
        (sum_a > 0.0 ? low : high) = v;
    }
    return 0.5 * (low + high);
}

}  // namespace

// Kirchhoff's laws by hand: with nothing drawn I3(V) = −I2(V), each string a stretched panel.
TEST_CASE("at open circuit three panels drive two backwards by the current at which their curves balance") {
    for (const double irradiance : {1000.0, 200.0}) {
        const Condition condition{irradiance, Celsius{10.0}};
        const ArrayCurve array(InputWiring{{string_of({3, 3, 3}), string_of({3, 3})}}, kinds, condition);
        const DiodeCurve panel = kinds[3].model.at(condition);
        const double v = balance_v(panel, 1.0, 1.0);
        CHECK(array.open_circuit_v() == Approx(v).epsilon(1e-10));
        const std::vector<double> currents = string_currents_a(array, array.open_circuit_v());
        CHECK(currents[0] == Approx(panel.current_a(v / 3.0)).epsilon(1e-7));
        CHECK(currents[1] == Approx(panel.current_a(v / 2.0)).epsilon(1e-7));
        CHECK(currents[1] < -0.5 * panel.short_circuit_a());
    }
}

TEST_CASE("the spread by hand: the weak string 3 % lower, the strong one 3 % higher, and the other way round") {
    const ArrayCurve array(InputWiring{{string_of({3, 3, 3}), string_of({3, 3})}}, kinds, {});
    const DiodeCurve panel = kinds[3].model.at({});
    const std::vector<StringTolerance> tolerances(2, {0.03, 0.0});
    const Interval spread_a = reverse_spreads_a(array, tolerances)[1];
    CHECK(spread_a.upper() == Approx(-panel.current_a(balance_v(panel, 1.03, 0.97) / (2.0 * 0.97))).epsilon(1e-5));
    CHECK(spread_a.lower() == Approx(-panel.current_a(balance_v(panel, 0.97, 1.03) / (2.0 * 1.03))).epsilon(1e-5));
    CHECK(spread_a.lower() < driven_back_a(array, 1));
    CHECK(spread_a.upper() > driven_back_a(array, 1));
}

TEST_CASE("no tolerance, no spread; a wider one never spreads less") {
    test::Dice dice(61);
    for (int i = 0; i < 40; ++i) {
        const InputWiring wiring = test::random_wiring(dice, kinds, 4);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        const std::size_t string = dice.below(wiring.strings.size());
        CAPTURE(i, string);
        const double isc_a = std::max(1.0, array.short_circuit_a());
        Interval before_a(driven_back_a(array, string));
        for (const double ratio : {0.0, 0.02, 0.05}) {
            const std::vector<StringTolerance> tolerances(wiring.strings.size(), {ratio, ratio});
            const Interval spread_a = reverse_spreads_a(array, tolerances)[string];
            CHECK(spread_a.lower() <= before_a.lower() + 1e-5 * isc_a);
            CHECK(spread_a.upper() >= before_a.upper() - 1e-5 * isc_a);
            if (ratio == 0.0) CHECK(spread_a.upper() == Approx(before_a.upper()).margin(1e-5 * isc_a));
            before_a = spread_a;
        }
    }
}

// Strings whose tolerances differ by a hair are worked out one by one: like ones must give the same.
TEST_CASE("like strings worked out once spread as each worked out by itself") {
    test::Dice dice(63);
    for (int i = 0; i < 30; ++i) {
        InputWiring wiring = test::random_wiring(dice, kinds, 3);
        const std::size_t first = wiring.strings.size();
        for (std::size_t copies = 0; copies < 3; ++copies) wiring.strings.push_back(wiring.strings[copies % first]);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        std::vector<StringTolerance> apart(wiring.strings.size(), {0.03, 0.05});
        const std::vector<Interval> once = reverse_spreads_a(array, apart);
        for (std::size_t s = 0; s < apart.size(); ++s) apart[s].voltage_ratio += 1e-12 * static_cast<double>(s);
        const std::vector<Interval> each = reverse_spreads_a(array, apart);
        REQUIRE(once.size() == wiring.strings.size());
        CAPTURE(i);
        for (std::size_t s = 0; s < once.size(); ++s) {
            const double room_a = 1e-5 * std::max(1.0, array.short_circuit_a());
            CHECK(once[s].lower() == Approx(each[s].lower()).margin(room_a));
            CHECK(once[s].upper() == Approx(each[s].upper()).margin(room_a));
        }
    }
}

TEST_CASE("string currents are those of the full reading, and add up to the array's") {
    test::Dice dice(62);
    for (int i = 0; i < 40; ++i) {
        const ArrayCurve array(test::random_wiring(dice, kinds, 4), kinds, test::random_condition(dice));
        const double v = dice.between(0.0, 1.05) * array.open_circuit_v();
        const std::vector<double> currents = string_currents_a(array, v);
        const ArrayReading reading = array_reading(array, v);
        REQUIRE(currents.size() == reading.strings.size());
        for (std::size_t s = 0; s < currents.size(); ++s) CHECK(currents[s] == reading.strings[s].current_a);
    }
}
