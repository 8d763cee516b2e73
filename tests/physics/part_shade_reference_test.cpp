// Part-shaded groups against 50-digit arithmetic, and the heat in their cells against their own equations.
#include <plait/physics/array_reading.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include "csv_table.hpp"
#include "../support/arrays.hpp"

using namespace plait;
using namespace plait::physics;
using plait_test::CsvRow;
using plait_test::CsvTable;

namespace {

DiodeCurve curve_of(const CsvRow& row, const std::string& kind) {
    return {row.number(kind + "_light"), row.number(kind + "_saturation"), row.number(kind + "_ideality"),
            row.number(kind + "_series"), row.number(kind + "_shunt")};
}

}  // namespace

TEST_CASE("a part-shaded group agrees with 50-digit arithmetic to 1e-11") {
    // tests/reference/part_shade_reference.py, mpmath 1.3.0: 1 to 35 shaded cells of 18 to 36, from darkness to 99 % of the
    // others' light, leaking from hardly anything to a third of the light current, −0.03 … 1.02 times open circuit.
    const CsvTable table(std::string(support::source_dir()) + "/tests/reference/part_shade_reference.csv");
    REQUIRE(table.cells.size() >= 280);
    double worst = 0.0;
    for (const CsvRow& row : table.rows()) {
        const DiodeCurve lit = curve_of(row, "lit");
        const DiodeCurve dark = curve_of(row, "dark");
        const CellRow cells(lit, dark, row.number("cells"));
        const GroupCurve group(PartShade({cells}), {row.number("bypass_saturation"), row.number("bypass_slope")});
        const double v = row.number("voltage_v");
        const double i = row.number("current_a");
        const double w = row.number("shaded_v");
        CAPTURE(row.number("cells"), v, i, w);
        CHECK(group.current_a(v) == Approx(i).epsilon(1e-11).margin(1e-11 * lit.light_current_a));
        CHECK(cells.at_voltage(v).shaded_v == Approx(w).epsilon(1e-10).margin(1e-10));
        worst = std::max(worst, std::abs(group.current_a(v) - i) / std::max(std::abs(i), lit.light_current_a));
    }
    WARN("largest difference of the current: " << worst);
}

TEST_CASE("what the light frees is what the terminals give and what cells, resistances and diode turn into heat") {
    std::vector<PanelPhysics> kinds = test::six_kinds();
    kinds.push_back(test::silicon_panel(54, 13.4, 1.05, 0.18, 400.0, 3));
    kinds.back().half_cut = true;
    test::Dice dice(8);
    int reversed = 0;
    for (int i = 0; i < test::rounds(300, 10000); ++i) {
        const std::size_t kind = dice.below(kinds.size());
        const int shaded = 1 + static_cast<int>(dice.below(8));
        const GroupCurve group = group_curve(kinds[kind], test::random_condition(dice),
                                             {1.0, 0.0, shaded, dice.chance(0.2) ? 0.0 : dice.between(0.0, 0.9)});
        const double v = dice.between(group.bypass().present() ? -0.5 : 0.0, group.voltage_v(0.0));
        CAPTURE(i, kind, shaded, v);
        const GroupPoint p = group.at_voltage(v);
        double freed_w = 0.0;
        double heat_w = group.bypass().present() ? group.bypass().current_a(-v) * -v : 0.0;
        double taken_w = 0.0;
        double lit_given_w = 0.0;
        for (const CellRow& row : group.part_shade()->rows()) {
            const RowPoint r = row.at_voltage(v);
            const auto cells = [&](const DiodeCurve& c, double u, double breakdown_s) {
                freed_w += c.light_current_a * u;
                const double diode_a = c.saturation_current_a * std::expm1(u / c.ideality_v);
                heat_w += u * diode_a + u * u * (c.shunt_conductance_s + breakdown_s) +
                          r.current_a * r.current_a * c.series_resistance_ohm;
            };
            cells(row.lit_cells(), r.lit_v, 0.0);
            if (row.shaded()) {
                const double y = r.shaded_v / row.breakdown_v();
                cells(row.shaded_cells(), r.shaded_v,
                      row.breakdown_s() * breakdown_share_ratio * std::pow(1.0 - y, -breakdown_exponent_value));
                taken_w += row.taken_w(r);
            }
            lit_given_w += (r.lit_v - row.lit_cells().series_resistance_ohm * r.current_a) * r.current_a;
        }
        const double scale_w = 20.0 * group.cells().light_current_a;
        CHECK(freed_w - heat_w == Approx(v * p.current_a).epsilon(1e-11).margin(1e-11 * scale_w));
        // What the lit cells give goes to the terminals, the shaded cells and the diode.
        const double diode_w = group.bypass().present() ? group.bypass().current_a(-v) * -v : 0.0;
        CHECK(lit_given_w == Approx(v * p.current_a + taken_w + diode_w).epsilon(1e-11).margin(1e-11 * scale_w));
        const auto each = shaded_cells(group, v);
        REQUIRE(each.has_value());
        CHECK(each->cells_count == shaded);
        CHECK(each->cell_w * shaded == Approx(taken_w).epsilon(1e-12).margin(1e-12 * scale_w));
        if (each->most_cell_w) CHECK(each->cell_w <= *each->most_cell_w * (1.0 + 1e-12));
        CHECK(each->in_reverse() == (taken_w > 0.0 && each->cell_v < 0.0));
        reversed += each->in_reverse() ? 1 : 0;
    }
    CHECK(reversed > 50);
}

TEST_CASE("a reading tells what shaded cells take, and only of groups shaded in part") {
    const std::vector<PanelPhysics> kinds = test::six_kinds();
    SeriesString string = test::string_of({1, 1});
    string.panels[0].groups = {{1.0, 0.0}, {1.0, 0.0, 3, 0.2}, {0.2, 0.0}};
    const ArrayCurve array(InputWiring{{string}}, kinds, {});
    const ArrayReading reading = array_reading(array, array.maximum_power().voltage_v);
    const std::vector<GroupReading>& groups = reading.strings[0].panels[0].groups;
    CHECK_FALSE(groups[0].shaded.has_value());
    CHECK_FALSE(groups[2].shaded.has_value());
    REQUIRE(groups[1].shaded.has_value());
    const ShadedCells& cells = *groups[1].shaded;
    // Both groups are bypassed at the most power: three cells share what the seventeen others and the diode put on them, at
    // the current of a fifth of the light and what leaks: 9.6 A / 5 and (17 · 0.63 + 0.5) V / 3 · 20 cells · 3/900 S.
    CHECK(groups[1].bypassed);
    CHECK(cells.in_reverse());
    CHECK(cells.cell_v == Approx(-(17.0 * 0.63 + 0.5) / 3.0).epsilon(0.03));
    const double leak_a = -cells.cell_v * 60.0 / 300.0;
    CHECK(cells.cell_w == Approx(-cells.cell_v * (9.6 / 5.0 + leak_a)).epsilon(0.03));
}
