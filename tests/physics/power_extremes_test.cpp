#include "../support/arrays.hpp"

#include <plait/physics/power_extremes.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

using namespace plait;
using namespace plait::physics;
using test::string_of;

namespace {

const std::vector<PanelPhysics> kinds = test::six_kinds();

double power_w(const ArrayCurve& array, double v) { return v * array.current_a(v); }

/// What must hold of any result, whatever the array.
void check_form(const ArrayCurve& array, const PowerExtremes& found) {
    REQUIRE(found.points.size() % 2 == 1);
    for (std::size_t i = 0; i < found.points.size(); ++i) {
        const PowerExtreme& e = found.points[i];
        const double v = e.point.voltage_v;
        CHECK(e.maximum == (i % 2 == 0));
        CHECK(array.current_a(v) == Approx(e.point.current_a).epsilon(1e-11));
        if (!e.at_end) {
            const double slope_w_per_v = e.point.current_a + v * array.slope_s(v);
            CHECK(slope_w_per_v == Approx(0.0).margin(1e-7 * e.point.current_a));
        }
        if (i == 0) continue;
        const PowerPoint& before = found.points[i - 1].point;
        CHECK(before.voltage_v < v);
        CHECK((e.point.power_w() > before.power_w()) == e.maximum);
    }
}

}  // namespace

TEST_CASE("every maximum a dense sampling sees is found, and nothing beats the best") {
    test::Dice dice(31);
    std::size_t most = 0;
    std::size_t with_several = 0;
    for (int i = 0; i < 300; ++i) {
        const InputWiring wiring = test::random_wiring(dice, kinds, 4);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        const PowerExtremes found = power_extremes(array);
        CAPTURE(i);
        check_form(array, found);
        most = std::max(most, found.maximum_count());
        if (found.maximum_count() > 1) ++with_several;
        CHECK(array.maximum_power().power_w() == Approx(found.best().point.power_w()).epsilon(1e-12));

        constexpr int steps = 500;
        const double open_v = array.open_circuit_v();
        std::vector<double> sampled_w;
        for (int k = 0; k <= steps; ++k) sampled_w.push_back(power_w(array, open_v * k / steps));
        std::size_t sampled_maxima = 0;
        for (std::size_t k = 1; k < steps; ++k) {
            if (sampled_w[k] > sampled_w[k - 1] && sampled_w[k] >= sampled_w[k + 1]) {
                ++sampled_maxima;
                // One of ours lies within a step of it.
                const double v = open_v * static_cast<double>(k) / steps;
                CHECK(std::any_of(found.points.begin(), found.points.end(), [&](const PowerExtreme& e) {
                    return e.maximum && std::abs(e.point.voltage_v - v) <= open_v / steps;
                }));
            }
        }
        CHECK(sampled_maxima <= found.maximum_count());
        CHECK(*std::max_element(sampled_w.begin(), sampled_w.end()) <= found.best().point.power_w() * (1.0 + 1e-12));
    }
    CHECK(most >= 5);  // the cases are worth the name
    CHECK(with_several >= 100);
}

TEST_CASE("between neighbouring extremes the power is monotone") {
    test::Dice dice(32);
    for (int i = 0; i < 40; ++i) {
        const ArrayCurve array(test::random_wiring(dice, kinds, 3), kinds, test::random_condition(dice));
        const PowerExtremes found = power_extremes(array);
        const double scale_w = found.best().point.power_w();
        for (std::size_t k = 0; k + 1 < found.points.size(); ++k) {
            const double low_v = found.points[k].point.voltage_v;
            const double high_v = found.points[k + 1].point.voltage_v;
            const double sign = found.points[k].maximum ? -1.0 : 1.0;
            double before_w = found.points[k].point.power_w();
            for (int step = 1; step <= 40; ++step) {
                const double now_w = power_w(array, low_v + (high_v - low_v) * step / 40.0);
                CHECK(sign * (now_w - before_w) >= -1e-9 * scale_w);
                before_w = now_w;
            }
        }
    }
}

TEST_CASE("a strong and a weak panel in series: two maxima, one with the weak bypassed") {
    // 9.6 A of 60 cells and 4.5 A of 36 cells behind their diodes: at the weak one's current both work, at the strong
    // one's the weak is bypassed.
    std::vector<PanelPhysics> two = {test::silicon_panel(60, 9.6, 1.05, 0.3, 300.0, 3),
                                     test::silicon_panel(36, 4.5, 1.1, 0.2, 150.0, 2)};
    const ArrayCurve array(InputWiring{{string_of({0, 1})}}, two, {});
    const PowerExtremes found = power_extremes(array);
    REQUIRE(found.maximum_count() == 2);
    const PowerPoint strong = two[0].model.at({}).maximum_power();
    const PowerPoint weak = two[1].model.at({}).maximum_power();
    const PowerPoint& low = found.points.front().point;
    const PowerPoint& high = found.points.back().point;
    CHECK(low.current_a == Approx(strong.current_a).epsilon(0.01));
    CHECK(low.voltage_v == Approx(strong.voltage_v - 2.0 * 0.49).epsilon(0.01));
    CHECK(high.current_a == Approx(weak.current_a).epsilon(0.05));
    CHECK(high.voltage_v > strong.voltage_v + weak.voltage_v);
    // A tracker from open circuit meets the worse one first.
    CHECK(found.first_from_open_circuit().point.power_w() < found.best().point.power_w());
    CHECK(found.best().point.voltage_v == low.voltage_v);
}

TEST_CASE("a range cuts the search, and its ends count") {
    test::Dice dice(33);
    for (int i = 0; i < 100; ++i) {
        const ArrayCurve array(test::random_wiring(dice, kinds, 3), kinds, test::random_condition(dice));
        const PowerExtremes all = power_extremes(array);
        double low_v = dice.between(0.0, 1.1) * array.open_circuit_v();
        double high_v = dice.between(0.0, 1.1) * array.open_circuit_v();
        if (low_v > high_v) std::swap(low_v, high_v);
        const PowerExtremes part = power_extremes(array, low_v, high_v);
        CAPTURE(i, low_v, high_v);
        check_form(array, part);
        std::vector<double> inside_v;
        for (const PowerExtreme& e : all.points) {
            if (e.point.voltage_v > low_v && e.point.voltage_v < high_v) inside_v.push_back(e.point.voltage_v);
        }
        std::vector<double> found_v;
        for (const PowerExtreme& e : part.points) {
            if (!e.at_end) found_v.push_back(e.point.voltage_v);
        }
        REQUIRE(found_v.size() == inside_v.size());
        for (std::size_t k = 0; k < found_v.size(); ++k) CHECK(found_v[k] == Approx(inside_v[k]).epsilon(1e-9));

        const double best_w = part.best().point.power_w();
        CHECK(std::max(best_w, 0.0) ==
              Approx(array.maximum_power(low_v, high_v).power_w()).epsilon(1e-12).margin(1e-12));
        for (int k = 0; k <= 20; ++k) {
            CHECK(power_w(array, low_v + (high_v - low_v) * k / 20.0) <= best_w + 1e-12 * all.best().point.power_w());
        }
    }
}

TEST_CASE("one kind in equal strings has one maximum") {
    for (std::size_t kind = 0; kind < kinds.size(); ++kind) {
        const ArrayCurve array(written_out({kind, 3, 2}), kinds, {700.0, {50.0}});
        const PowerExtremes found = power_extremes(array);
        REQUIRE(found.points.size() == 1);
        check_form(array, found);
        const double best_v = found.best().point.voltage_v;
        CHECK(power_extremes(array, 0.0, 0.5 * best_v).best().at_end);
        CHECK(power_extremes(array, 0.0, 0.5 * best_v).best().point.voltage_v == 0.5 * best_v);
        CHECK(power_extremes(array, 1.1 * best_v, 2.0 * best_v).best().point.voltage_v == 1.1 * best_v);
    }
}

TEST_CASE("moonlight, where the bypass diodes leak as much as the cells give, is searched like the rest") {
    const ArrayCurve array(written_out({1, 2, 1}), kinds, {1e-4, {85.0}});
    const PowerExtremes found = power_extremes(array);
    check_form(array, found);
    CHECK(found.best().point.power_w() > 0.0);
    for (int k = 0; k <= 200; ++k) {
        const double v = array.open_circuit_v() * k / 200.0;
        CHECK(power_w(array, v) <= found.best().point.power_w() * (1.0 + 1e-9));
    }
}

namespace {

/// One of the kinds with light that I0 is proportional to, or falls with: what some thin films are fitted with.
std::vector<PanelPhysics> kinds_with_odd_light() {
    std::vector<PanelPhysics> all = test::six_kinds();
    all.push_back(all[0]);
    all.back().model.saturation_light_power = -1.0;
    all.push_back(all[2]);
    all.back().model.saturation_light_power = 2.5;
    all.back().model.shunt_light_power = 0.0;
    return all;
}

/// Strings of one to twenty panels side by side, dark groups and groups in twice the light among them.
InputWiring very_unlike_strings(test::Dice& dice, const std::vector<PanelPhysics>& all) {
    InputWiring wiring;
    wiring.strings.resize(1 + dice.below(4));
    for (SeriesString& string : wiring.strings) {
        string.blocking_diode = dice.chance(0.2);
        string.panels.resize(1 + dice.below(dice.chance(0.3) ? 20 : 6));
        const std::size_t kind = dice.below(all.size());
        for (PanelPlace& place : string.panels) {
            place.kind = dice.chance(0.7) ? kind : dice.below(all.size());
            if (dice.chance(0.7)) continue;
            place.groups.resize(all[place.kind].group_count());
            for (GroupState& group : place.groups) {
                group.light_ratio = dice.chance(0.3) ? 1.0 : dice.chance(0.2) ? 0.0 : dice.between(0.02, 2.0);
                group.warmer_k = dice.chance(0.5) ? 0.0 : dice.between(-10.0, 20.0);
            }
        }
    }
    return wiring;
}

WireResistance some_wires(test::Dice& dice, std::size_t strings) {
    WireResistance wires;
    if (dice.chance(0.5)) {
        for (std::size_t i = 0; i < strings; ++i) wires.string_ohm.push_back(dice.between(0.01, 2.0));
    }
    if (dice.chance(0.8)) wires.trunk_ohm = dice.between(0.005, 3.0);
    return wires;
}

/// A voltage at which nothing flows, and a maximum that no point of a sweep beats.
void check_against_sweep(const ArrayCurve& array) {
    const double open_v = array.open_circuit_v();
    const double short_a = array.short_circuit_a();
    const PowerPoint best = array.maximum_power();
    const PowerExtremes found = power_extremes(array);
    REQUIRE(std::isfinite(open_v));
    REQUIRE(std::isfinite(short_a));
    CHECK(array.current_a(open_v) == Approx(0.0).margin(1e-7 * short_a + 1e-9));
    constexpr int steps = 600;
    double swept_w = 0.0;
    for (int i = 0; i <= steps; ++i) swept_w = std::max(swept_w, power_w(array, open_v * i / steps));
    CHECK(best.power_w() >= swept_w * (1.0 - 1e-9));
    CHECK(best.power_w() <= swept_w * 1.002 + 1e-9);  // what the sweep's steps cut off at most
    CHECK(found.best().point.power_w() == Approx(best.power_w()).epsilon(1e-9).margin(1e-9));
    for (const PowerExtreme& e : found.points) CHECK(e.point.voltage_v <= open_v * (1.0 + 1e-9) + 1e-9);
}

}  // namespace

TEST_CASE("law: strings of very unlike voltage behind wires have their maxima where a sweep sees them") {
    test::Dice dice(7);
    const std::vector<PanelPhysics> all = kinds_with_odd_light();
    for (int round = 0; round < test::rounds(200, 20000); ++round) {
        CAPTURE(round);
        const InputWiring wiring = very_unlike_strings(dice, all);
        const WireResistance wires = some_wires(dice, wiring.strings.size());
        check_against_sweep(ArrayCurve(wiring, all, test::random_condition(dice), wires));
    }
}

TEST_CASE("one panel beside a string of four, behind 20 m of 4 mm²") {
    // The four alone would drive the one with exp(75) of its own saturation current. Open circuit is far below theirs.
    const std::vector<PanelPhysics> one = {test::silicon_panel(36, 6.1, 1.1, 0.2, 150.0, 2)};
    const InputWiring wiring{{string_of({0}), string_of({0, 0, 0, 0})}};
    for (const double trunk_ohm : {0.02, 0.25, 1.0}) {
        for (const Condition& condition : {Condition{}, Condition{1000.0, {-25.0}}, Condition{200.0, {60.0}}}) {
            CAPTURE(trunk_ohm, condition.cell.degc);
            const ArrayCurve array(wiring, one, condition, {{}, trunk_ohm});
            const DiodeCurve panel = one[0].model.at(condition);
            const double own_w = panel.maximum_power().power_w();
            check_against_sweep(array);
            CHECK(array.maximum_power().power_w() <= 5.0 * own_w);
            CHECK(array.maximum_power().power_w() > own_w);
            CHECK(array.open_circuit_v() < 1.5 * panel.open_circuit_v());
        }
    }
}

TEST_CASE("across a sharp knee the root is found, not run past to and fro") {
    // A string behind a blocking diode begins to give in the middle of the last piece: Newton's steps went from one side
    // of that knee to the other until they were counted out.
    const std::vector<PanelPhysics> all = kinds_with_odd_light();
    InputWiring wiring{{string_of({7, 7, 7, 7, 7, 3}), string_of({0, 0}), string_of({3, 3, 1, 3}), string_of({1, 1, 1})}};
    wiring.strings[1].blocking_diode = true;
    wiring.strings[1].panels[0].groups = {{0.0, 3.0}, {0.84, 6.0}};
    wiring.strings[2].panels[1].groups = {{0.9, 0.0}};
    wiring.strings[2].panels[2].groups = {{0.5, 0.0}, {0.9, 5.0}, {0.26, 0.0}};
    check_against_sweep(ArrayCurve(wiring, all, {122.8, Celsius{0.15}}, {{}, 1.72}));
}

TEST_CASE("a blocking diode that is given no leakage gets the usual one") {
    test::Dice dice(9);
    for (int i = 0; i < 40; ++i) {
        InputWiring wiring = test::random_wiring(dice, kinds, 4);
        for (SeriesString& string : wiring.strings) string.blocking_diode = dice.chance(0.7);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        std::vector<std::vector<SeriesPart>> strings;
        for (const ArrayCurve::Branch& branch : array.branches()) {
            std::vector<SeriesPart> parts;
            for (const SeriesPart& part : array.parts_of(branch)) {
                DiodeCurve nothing;
                nothing.ideality_v = 1.0;
                parts.push_back(part.curve.is_blocking() ? SeriesPart{{nothing, part.curve.bypass()}, 1.0} : part);
            }
            for (double n = 0.0; n < branch.count; n += 1.0) strings.push_back(parts);
        }
        const ArrayCurve bare = ArrayCurve::of_strings(strings);
        CAPTURE(i);
        check_against_sweep(bare);
        CHECK(power_extremes(bare).points.size() == power_extremes(array).points.size());
        CHECK(bare.maximum_power().power_w() == Approx(array.maximum_power().power_w()).epsilon(1e-5).margin(1e-9));
    }
}
