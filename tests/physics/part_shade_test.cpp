// Groups some of whose cells get less light: Bishop's equation (Solar Cells 25, 1988) for the shaded cells, checked by
// putting the solution back into it, by Kirchhoff's laws, by differences, and by what shade can and cannot do.
#include "../support/arrays.hpp"

#include <plait/physics/array_reading.hpp>
#include <plait/physics/power_extremes.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using namespace plait;
using namespace plait::physics;

namespace {

/// The six kinds, and a panel of half cells.
std::vector<PanelPhysics> seven_kinds() {
    std::vector<PanelPhysics> kinds = test::six_kinds();
    kinds.push_back(test::silicon_panel(54, 13.4, 1.05, 0.18, 400.0, 3));
    kinds.back().half_cut = true;
    return kinds;
}
const std::vector<PanelPhysics> kinds = seven_kinds();

GroupCurve group(std::size_t kind, int cells, double light_ratio, Condition condition = {}) {
    return group_curve(kinds[kind], condition, {1.0, 0.0, cells, light_ratio});
}

int cells_of(const PanelPhysics& panel) { return static_cast<int>(panel.row_cells_count()) * panel.rows_count(); }

struct RandomGroup {
    std::size_t kind;
    GroupState state;
    Condition condition;
    GroupCurve curve;
};
RandomGroup random_group(test::Dice& dice) {
    const std::size_t kind = dice.below(kinds.size());
    GroupState state{dice.chance(0.5) ? 1.0 : dice.between(0.1, 1.5), dice.chance(0.3) ? dice.between(-5.0, 15.0) : 0.0};
    const int all = cells_of(kinds[kind]);
    state.shaded_cells = 1 + static_cast<int>(dice.below(static_cast<std::size_t>(dice.chance(0.5) ? 3 : all - 1)));
    state.shaded_light_ratio = dice.chance(0.2) ? 0.0 : dice.between(0.01, 0.99);
    const Condition condition = test::random_condition(dice);
    return {kind, state, condition, group_curve(kinds[kind], condition, state)};
}

/// The lowest voltage worth asking for: what the bypass diode holds, or half way to breakdown where there is none.
double lowest_v(const RandomGroup& g) {
    return g.curve.bypass().present() ? -0.55 : -0.5 * breakdown_cell_v * g.state.shaded_cells;
}

}  // namespace

TEST_CASE("the solution of a row solves Bishop's equation and Kirchhoff's laws") {
    test::Dice dice(1988);
    for (int i = 0; i < test::rounds(600, 20000); ++i) {
        const RandomGroup g = random_group(dice);
        CAPTURE(i, g.kind, g.state.shaded_cells, g.state.shaded_light_ratio, g.state.light_ratio);
        const double open_v = g.curve.voltage_v(0.0);
        const double v = dice.chance(0.5) ? dice.between(lowest_v(g), 1.0) : dice.between(0.0, 1.1 * open_v);
        const GroupPoint p = g.curve.at_voltage(v);
        if (g.curve.part_shade() == nullptr) {  // all cells of a row of one: nothing in part
            CHECK(g.state.shaded_cells >= cells_of(kinds[g.kind]));
            continue;
        }
        double sum_a = g.curve.bypass().present() ? g.curve.bypass().current_a(-v) : 0.0;
        const double noise_a = 1e-12 * g.curve.cells().light_current_a;
        for (const CellRow& row : g.curve.part_shade()->rows()) {
            const RowPoint r = row.at_voltage(v);
            sum_a += r.current_a;
            const DiodeCurve& lit = row.lit_cells();
            const auto inner_a = [](const DiodeCurve& c, double u) {
                return c.light_current_a - c.saturation_current_a * std::expm1(u / c.ideality_v) -
                       c.shunt_conductance_s * u;
            };
            CHECK(inner_a(lit, r.lit_v) == Approx(r.current_a).epsilon(1e-11).margin(noise_a));
            double ohm = lit.series_resistance_ohm;
            if (row.shaded()) {
                const DiodeCurve& c = row.shaded_cells();
                ohm += c.series_resistance_ohm;
                const double breakdown_a = row.breakdown_s() * r.shaded_v * 0.002 *
                                           std::pow(1.0 - r.shaded_v / (-15.0 * row.shaded_cells_count()), -3.0);
                CHECK(inner_a(c, r.shaded_v) - breakdown_a == Approx(r.current_a).epsilon(1e-11).margin(noise_a));
            }
            CHECK(r.lit_v + r.shaded_v - ohm * r.current_a == Approx(v).epsilon(1e-12).margin(1e-12));
        }
        CHECK(p.current_a == Approx(sum_a).epsilon(1e-12).margin(noise_a));
        CHECK(p.voltage_v == v);
    }
}

TEST_CASE("a part-shaded group's current falls with its voltage, and the two undo each other") {
    test::Dice dice(2);
    for (int i = 0; i < test::rounds(150, 5000); ++i) {
        const RandomGroup g = random_group(dice);
        CAPTURE(i, g.kind, g.state.shaded_cells, g.state.shaded_light_ratio);
        const double open_v = g.curve.voltage_v(0.0);
        CHECK(std::abs(g.curve.current_a(open_v)) <= 1e-11 * g.curve.cells().light_current_a);
        double before_a = std::numeric_limits<double>::infinity();
        const double from_v = lowest_v(g);
        for (int step = 0; step <= 60; ++step) {
            const double v = from_v + (1.1 * open_v - from_v) * step / 60.0;
            const double a = g.curve.current_a(v);
            CHECK(a <= before_a + 1e-13 * g.curve.cells().light_current_a);
            before_a = a;
            // Where the curve is flat a current tells little of the voltage, so the way back is judged in amperes.
            const GroupPoint back = g.curve.at_current(a);
            CHECK(g.curve.current_a(back.voltage_v) == Approx(a).epsilon(1e-11).margin(1e-12));
            CHECK(back.current_a == a);
        }
    }
}

TEST_CASE("a part-shaded group's conductance and its derivative are those of its curve by differences") {
    test::Dice dice(3);
    for (int i = 0; i < test::rounds(300, 10000); ++i) {
        const RandomGroup g = random_group(dice);
        const double open_v = g.curve.voltage_v(0.0);
        const double v = dice.chance(0.5) ? dice.between(lowest_v(g), 1.0) : dice.between(0.0, 1.02 * open_v);
        CAPTURE(i, g.kind, g.state.shaded_cells, g.state.shaded_light_ratio, v);
        const double step_v = 1e-4 * g.curve.bend_v(0.0);
        const GroupPoint p = g.curve.at_voltage(v);
        const GroupPoint left = g.curve.at_voltage(v - step_v);
        const GroupPoint right = g.curve.at_voltage(v + step_v);
        const double noise_s = 1e-14 * g.curve.cells().light_current_a / step_v;
        CHECK(p.conductance_s() ==
              Approx((left.current_a - right.current_a) / (2.0 * step_v)).epsilon(1e-6).margin(noise_s));
        const double per_v = (right.conductance_s() - left.conductance_s()) / (2.0 * step_v);
        CHECK(g.curve.conductance_per_v(p) ==
              Approx(per_v).epsilon(1e-5).margin(1e-10 * p.conductance_s() / step_v + 1e-12));
        GroupPoint moved = p;
        g.curve.nudge(moved, step_v);
        CHECK(moved.cells_s == Approx(right.cells_s).epsilon(1e-12));
        CHECK(g.curve.turned().at_voltage(-v).current_a == -p.current_a);
        CHECK(g.curve.turned().at_voltage(-v).conductance_s() == p.conductance_s());
    }
}

TEST_CASE("between two voltages a group's conductance and its derivative keep within their bounds") {
    test::Dice dice(4);
    for (int i = 0; i < test::rounds(300, 10000); ++i) {
        const RandomGroup g = random_group(dice);
        if (g.curve.part_shade() == nullptr) continue;
        const double open_v = g.curve.voltage_v(0.0);
        const double low_v = dice.between(lowest_v(g), open_v);
        const double high_v = low_v + dice.between(0.0, 1.0) * (dice.chance(0.5) ? 0.05 : 1.0) * (open_v - low_v);
        CAPTURE(i, g.kind, g.state.shaded_cells, g.state.shaded_light_ratio, low_v, high_v);
        const BendingBounds b = g.curve.shade_bounds(g.curve.at_voltage(low_v), g.curve.at_voltage(high_v));
        for (int step = 0; step <= 10; ++step) {
            const GroupPoint p = g.curve.at_voltage(low_v + (high_v - low_v) * step / 10.0);
            CHECK(p.conductance_s() >= b.low.s * (1.0 - 1e-9));
            CHECK(p.conductance_s() <= b.high.s * (1.0 + 1e-9));
            const double per_v = g.curve.conductance_per_v(p);
            const double noise = 1e-9 * std::max(std::abs(b.low.s_per_v), std::abs(b.high.s_per_v));
            CHECK(per_v >= b.low.s_per_v - noise);
            CHECK(per_v <= b.high.s_per_v + noise);
        }
    }
}

TEST_CASE("cells in equal light are no part-shade: the same group, bit for bit") {
    for (std::size_t kind = 0; kind < kinds.size(); ++kind) {
        CAPTURE(kind);
        const int all = cells_of(kinds[kind]);
        CHECK(group(kind, 3, 1.0) == group_curve(kinds[kind], {}, {}));
        CHECK(group(kind, 0, 0.4) == group_curve(kinds[kind], {}, {}));
        CHECK(group(kind, all, 0.4) == group_curve(kinds[kind], {}, {0.4, 0.0}));
        InputWiring plain{{test::string_of({kind, kind})}};
        InputWiring marked = plain;
        marked.strings[0].panels[0].groups.assign(kinds[kind].group_count(), {1.0, 0.0, 3, 1.0});
        const ArrayCurve a(plain, kinds, {});
        const ArrayCurve b(marked, kinds, {});
        CHECK(a.parts().size() == b.parts().size());
        CHECK(a.maximum_power().power_w() == b.maximum_power().power_w());
        CHECK(a.current_a(20.0) == b.current_a(20.0));
        // As the lights come together the curves do, but for the breakdown's share of the leakage.
        const GroupCurve nearly = group(kind, 3, 1.0 - 1e-9);
        const GroupCurve whole = group_curve(kinds[kind], {}, {});
        const double isc_a = whole.short_circuit_a();
        for (const double share : {0.05, 0.5, 0.8, 0.95, 1.0}) {
            const double v = share * whole.voltage_v(0.0);
            CHECK(nearly.current_a(v) == Approx(whole.current_a(v)).margin(1e-4 * isc_a));
        }
    }
}

TEST_CASE("more shade, or more shaded cells, never gives more current at a voltage") {
    test::Dice dice(5);
    for (int i = 0; i < test::rounds(150, 5000); ++i) {
        const RandomGroup g = random_group(dice);
        GroupState more = g.state;
        more.shaded_cells = std::min(cells_of(kinds[g.kind]) - 1, more.shaded_cells + 1);
        GroupState deeper = g.state;
        deeper.shaded_light_ratio *= dice.between(0.0, 1.0);
        const GroupCurve none = group_curve(kinds[g.kind], g.condition, {g.state.light_ratio, g.state.warmer_k});
        const GroupCurve with_more = group_curve(kinds[g.kind], g.condition, more);
        const GroupCurve with_deeper = group_curve(kinds[g.kind], g.condition, deeper);
        // The leakage of the shaded cells is that of the lit ones, which a wholly shaded group has not.
        PanelPhysics steady = kinds[g.kind];
        steady.model.shunt_light_power = 0.0;
        const GroupCurve all_v = group_curve(
            steady, g.condition, {g.state.light_ratio * g.state.shaded_light_ratio, g.state.warmer_k});
        const GroupCurve some_v = group_curve(steady, g.condition, g.state);
        CAPTURE(i, g.kind, g.state.shaded_cells, g.state.shaded_light_ratio);
        const double open_v = none.voltage_v(0.0);
        // The breakdown's share of the leakage is no shade: this much of a cell's leakage, forward.
        const double leak_a = 2e-3 * 0.7 * (none.cells().shunt_conductance_s + 1e-3 * none.cells().light_current_a) +
                              1e-12 * none.cells().light_current_a;
        for (int step = 0; step <= 30; ++step) {
            const double v = (g.curve.bypass().present() ? -0.4 : 0.0) + open_v * step / 30.0;
            CHECK(g.curve.current_a(v) <= none.current_a(v) + leak_a);
            CHECK(with_more.current_a(v) <= g.curve.current_a(v) + leak_a);
            CHECK(with_deeper.current_a(v) <= g.curve.current_a(v) + leak_a);
            if (v >= 0.0) CHECK(some_v.current_a(v) >= all_v.current_a(v) - 20.0 * leak_a);
        }
    }
}

TEST_CASE("a part-shaded string's current agrees with bisection, and its power maxima with dense sampling") {
    test::Dice dice(6);
    for (int i = 0; i < test::rounds(60, 1500); ++i) {
        const InputWiring wiring = test::shaded_in_part(test::random_wiring(dice, kinds, 2), dice, kinds);
        const ArrayCurve array(wiring, kinds, test::random_condition(dice));
        CAPTURE(i);
        const double open_v = array.open_circuit_v();
        if (array.short_circuit_a() < 1e-6) continue;  // in the dark
        const PowerExtremes found = power_extremes(array);
        const double best_w = found.best().point.power_w();
        CHECK(best_w == Approx(array.maximum_power().power_w()).epsilon(1e-11));
        for (int step = 0; step <= 200; ++step) {
            const double v = open_v * step / 200.0;
            CHECK(v * array.current_a(v) <= best_w * (1.0 + 1e-11));
        }
        // Between neighbouring extremes the power goes one way.
        for (std::size_t k = 0; k + 1 < found.points.size(); ++k) {
            const double low_v = found.points[k].point.voltage_v;
            const double high_v = found.points[k + 1].point.voltage_v;
            const double sign = found.points[k].maximum ? -1.0 : 1.0;
            double before_w = found.points[k].point.power_w();
            for (int step = 1; step <= 20; ++step) {
                const double v = low_v + (high_v - low_v) * step / 20.0;
                const double now_w = v * array.current_a(v);
                CHECK(sign * (now_w - before_w) >= -1e-9 * best_w);
                before_w = now_w;
            }
        }
        for (const ArrayCurve::Branch& branch : array.branches()) {
            const auto parts = array.parts_of(branch);
            std::vector<GroupPoint> points(parts.size());
            const double v = dice.between(0.0, 1.0) * open_v;
            const double slow_a = current_by_bisection(parts, v, points);
            const double fast_a = current_from_scratch(parts, v, points);
            double scale_a = 0.0;
            for (const SeriesPart& part : parts) scale_a = std::max(scale_a, part.curve.cells().light_current_a);
            CHECK(fast_a == Approx(slow_a).epsilon(1e-11).margin(1e-11 * scale_a));
        }
    }
}
