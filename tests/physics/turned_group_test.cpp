// Panels with their ends swapped. By symmetry I'(V) = −I(−V); the rest against bisection and dense sampling.
#include "../support/arrays.hpp"

#include <plait/physics/power_extremes.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace plait;
using namespace plait::physics;

namespace {

const std::vector<PanelPhysics> kinds = test::six_kinds();

GroupCurve group(std::size_t kind, Condition condition, double light_ratio = 1.0) {
    return group_curve(kinds[kind], condition, {light_ratio, 0.0});
}

/// One to six panels, some of them shaded, some turned round.
std::vector<SeriesPart> random_string(test::Dice& dice, Condition condition) {
    std::vector<SeriesPart> parts;
    const std::size_t panels = 1 + dice.below(6);
    for (std::size_t i = 0; i < panels; ++i) {
        const std::size_t kind = dice.below(kinds.size());
        const GroupCurve curve = group(kind, condition, dice.chance(0.3) ? dice.between(0.05, 1.0) : 1.0);
        const auto groups = static_cast<double>(kinds[kind].group_count());
        parts.push_back({i > 0 && dice.chance(0.4) ? curve.turned() : curve, groups});
    }
    return parts;
}

}  // namespace

TEST_CASE("a group turned round is the same curve seen from the other side") {
    for (std::size_t kind = 0; kind < kinds.size(); ++kind) {
        const GroupCurve one = group(kind, {});
        const GroupCurve back = one.turned();
        CAPTURE(kind);
        CHECK(back.turned() == one);
        CHECK_FALSE(back == one);
        CHECK(back.short_circuit_a() == -one.short_circuit_a());
        for (double v = -25.0; v <= 25.0; v += 0.7) {
            CHECK(back.current_a(v) == -one.current_a(-v));
            CHECK(back.at_voltage(v).conductance_s() == one.at_voltage(-v).conductance_s());
        }
        for (double a = -4.0; a <= 4.0; a += 0.37) CHECK(back.voltage_v(a) == -one.voltage_v(-a));
        GroupPoint moved = back.at_junction(-12.0);
        back.nudge(moved, 1e-6);
        CHECK(moved.voltage_v == Approx(back.at_junction(-12.0 + 1e-6).voltage_v).epsilon(1e-12));
        CHECK(moved.junction_s == Approx(back.at_junction(-12.0 + 1e-6).junction_s).epsilon(1e-12));
    }
}

TEST_CASE("the conductance's derivative is that of the conductance") {
    for (const bool turned : {false, true}) {
        const GroupCurve curve = turned ? group(1, {}).turned() : group(1, {});
        for (double v = -14.0; v <= 14.0; v += 1.3) {
            constexpr double step = 1e-5;
            const double difference =
                (curve.at_voltage(v + step).conductance_s() - curve.at_voltage(v - step).conductance_s()) /
                (2.0 * step);
            CAPTURE(turned, v);
            CHECK(curve.conductance_per_v(curve.at_voltage(v)) == Approx(difference).epsilon(1e-5).margin(1e-9));
        }
    }
}

TEST_CASE("one panel of several turned round takes two panels' voltage away, and hardly any short-circuit current") {
    const Condition condition{820.0, Celsius{45.0}};
    const double groups = 3.0;
    const GroupCurve one = group(1, condition);
    for (const double panels : {3.0, 4.0, 6.0}) {
        const ArrayCurve right = ArrayCurve::of_string({{one, groups * panels}});
        const ArrayCurve wrong = ArrayCurve::of_string({{one, groups * (panels - 1.0)}, {one.turned(), groups}});
        CHECK(wrong.open_circuit_v() == Approx(right.open_circuit_v() * (panels - 2.0) / panels).epsilon(1e-9));
        CHECK(wrong.short_circuit_a() < right.short_circuit_a());
        CHECK(wrong.short_circuit_a() > 0.85 * right.short_circuit_a());
    }
    // Two against each other: nothing is left.
    const ArrayCurve opposed = ArrayCurve::of_string({{one, groups}, {one.turned(), groups}});
    CHECK(opposed.open_circuit_v() == Approx(0.0).margin(1e-9));
    CHECK(opposed.short_circuit_a() == Approx(0.0).margin(1e-9));
    CHECK(opposed.maximum_power().power_w() == Approx(0.0).margin(1e-9));
    // All of it: the meter shows a minus.
    const ArrayCurve swapped = ArrayCurve::of_string({{one.turned(), groups * 4.0}});
    CHECK(swapped.open_circuit_v() == Approx(-4.0 * groups * one.voltage_v(0.0)).epsilon(1e-12));
    CHECK(swapped.short_circuit_a() == Approx(-one.short_circuit_a()).epsilon(1e-12));
    CHECK(swapped.maximum_power().power_w() == 0.0);
}

TEST_CASE("strings with panels turned round: the fast solution is that of bisection") {
    test::Dice dice(77);
    int asked = 0;
    for (int i = 0; i < 300; ++i) {
        const Condition condition = test::random_condition(dice);
        const std::vector<SeriesPart> parts = random_string(dice, condition);
        std::vector<GroupPoint> points(parts.size());
        std::vector<GroupPoint> sure(parts.size());
        for (int k = 0; k < 8; ++k) {
            // A current that may flow; at a bare panel, what drives it through may be a thousand volts.
            const double asked_a = dice.between(-6.0, 14.0);
            const double v = voltage_at_current(parts, asked_a, sure);
            if (std::abs(v) > 1000.0) continue;
            ++asked;
            const double fast_a = current_from_scratch(parts, v, points);
            CAPTURE(i, v, asked_a);
            CHECK(fast_a == Approx(current_by_bisection(parts, v, sure)).epsilon(1e-9).margin(1e-9));
            double back_v = 0.0;
            for (std::size_t p = 0; p < parts.size(); ++p) back_v += parts[p].count * points[p].voltage_v;
            CHECK(back_v == Approx(v).epsilon(1e-9).margin(1e-9));
        }
    }
    CHECK(asked > 1200);
}

TEST_CASE("arrays with panels turned round: no maximum is missed") {
    test::Dice dice(78);
    std::size_t with_power = 0;
    for (int i = 0; i < 150; ++i) {
        const Condition condition = test::random_condition(dice);
        std::vector<std::vector<SeriesPart>> strings(1 + dice.below(3));
        for (auto& parts : strings) parts = random_string(dice, condition);
        const ArrayCurve array = ArrayCurve::of_strings(strings);
        const double open_v = array.open_circuit_v();
        CAPTURE(i, open_v);
        CHECK(array.current_a(open_v) == Approx(0.0).margin(1e-6));
        const PowerPoint best = array.maximum_power();
        CHECK(best.power_w() >= 0.0);
        if (!(open_v > 0.5)) continue;
        ++with_power;
        CHECK(power_extremes(array).best().point.power_w() == Approx(best.power_w()).epsilon(1e-10));
        CHECK(array.current_a(best.voltage_v) == Approx(best.current_a).epsilon(1e-8).margin(1e-9));
        double sampled_w = 0.0;
        for (int k = 0; k <= 400; ++k) {
            const double v = open_v * k / 400.0;
            sampled_w = std::max(sampled_w, v * array.current_a(v));
        }
        CHECK(best.power_w() >= sampled_w * (1.0 - 1e-9));
        CHECK(best.power_w() <= sampled_w * 1.02);
    }
    CHECK(with_power > 50);
}

TEST_CASE("strings given as parts are those of a wiring") {
    const Condition condition{700.0, Celsius{40.0}};
    const ArrayCurve wired(written_out({1, 3, 2}), kinds, condition);
    const std::vector<SeriesPart> parts{{group(1, condition), 9.0}};
    const ArrayCurve given = ArrayCurve::of_strings({parts, {}, parts});
    CHECK(given.branches().size() == 1);
    CHECK(given.open_circuit_v() == wired.open_circuit_v());
    CHECK(given.short_circuit_a() == wired.short_circuit_a());
    CHECK(given.maximum_power().power_w() == wired.maximum_power().power_w());
    CHECK(ArrayCurve::of_strings({}).open_circuit_v() == 0.0);
}
