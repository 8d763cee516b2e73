// Laws of the general solver (bypass groups, strings, unlike panels), on every panel file of the project.
#include "../support/source_files.hpp"
#include "shipped_panels.hpp"
#include "../support/source_dir.hpp"

#include <plait/input/read_setup.hpp>
#include <plait/physics/array_curve.hpp>
#include <plait/physics/array_reading.hpp>
#include <plait/physics/datasheet_fit.hpp>
#include <plait/physics/reverse_current.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

using namespace plait;
using namespace plait::physics;
using laws::shipped_panels;
using laws::ShippedPanel;

namespace {

PanelPhysics physics_of(const ShippedPanel& shipped) {
    const auto fit = fit_datasheet(shipped.panel, CurveMethod::prior_ideality);
    REQUIRE(fit.has_value());
    return {fit->model, shipped.panel.bypass_diodes};
}

InputWiring equal_strings(int in_series, int in_parallel) { return written_out({0, in_series, in_parallel}); }

/// Runs `check` on every panel in sun and frost, and in haze and heat.
template <class Check>
void on_every_panel(Check check) {
    for (const ShippedPanel& shipped : shipped_panels()) {
        const std::vector<PanelPhysics> kinds{physics_of(shipped)};
        for (const Condition& condition : {Condition{1000.0, Celsius{-15.0}}, Condition{250.0, Celsius{60.0}}}) {
            INFO(shipped.file << ", " << condition.irradiance_w_per_m2 << " W/m², " << condition.cell.degc << " °C");
            check(kinds, condition);
        }
    }
}

}  // namespace

TEST_CASE("an unshaded array is its panel's curve, stretched") {
    on_every_panel([](const std::vector<PanelPhysics>& kinds, Condition condition) {
        const ArrayCurve array(equal_strings(3, 2), kinds, condition);
        const DiodeCurve panel = kinds[0].model.at(condition);
        const PowerPoint best = panel.maximum_power();
        // Where nothing is shaded no bypass diode plays a part: rounding is all that may differ.
        constexpr double rounding = 1e-9;
        CHECK(array.maximum_power().power_w() == Approx(6.0 * best.power_w()).epsilon(rounding));
        CHECK(array.open_circuit_v() == Approx(3.0 * panel.open_circuit_v()).epsilon(rounding));
        for (const double share : {0.5, 0.9, 1.0, 1.1}) {
            const double v = share * best.voltage_v;
            CHECK(array.current_a(3.0 * v) == Approx(2.0 * panel.current_a(v)).epsilon(rounding));
        }
    });
}

TEST_CASE("more strings in parallel never change the open-circuit voltage, more panels in series add theirs") {
    on_every_panel([](const std::vector<PanelPhysics>& kinds, Condition condition) {
        const double one_v = ArrayCurve(equal_strings(1, 1), kinds, condition).open_circuit_v();
        for (const int n : {2, 5}) {
            CHECK(ArrayCurve(equal_strings(1, n), kinds, condition).open_circuit_v() == Approx(one_v).epsilon(1e-9));
            CHECK(ArrayCurve(equal_strings(n, 1), kinds, condition).open_circuit_v() ==
                  Approx(n * one_v).epsilon(1e-9));
        }
    });
}

TEST_CASE("shade never adds power, and no point of the shaded curve has more than its maximum") {
    on_every_panel([](const std::vector<PanelPhysics>& kinds, Condition condition) {
        double before_w = ArrayCurve(equal_strings(3, 1), kinds, condition).maximum_power().power_w();
        for (const double light : {0.9, 0.6, 0.3, 0.05, 0.0}) {
            InputWiring wiring = equal_strings(3, 1);
            wiring.strings[0].panels[1].groups.assign(kinds[0].group_count(), GroupState{});
            wiring.strings[0].panels[1].groups[0].light_ratio = light;
            const ArrayCurve array(wiring, kinds, condition);
            const PowerPoint best = array.maximum_power();
            INFO("one group in " << light << " of the light");
            CHECK(best.power_w() <= before_w * (1.0 + 1e-9));
            CHECK(array.current_a(best.voltage_v) == Approx(best.current_a).epsilon(1e-9));
            constexpr int steps = 100;
            double greatest_w = 0.0;
            const double top_v = array.open_circuit_v();
            for (int k = 0; k <= steps; ++k) {
                const double v = top_v * k / steps;
                greatest_w = std::max(greatest_w, v * array.current_a(v));
            }
            CHECK(greatest_w <= best.power_w() * (1.0 + 1e-9));
            before_w = best.power_w();
        }
    });
}

TEST_CASE("the panels of an unlike array add up: volts along each string, amperes across the strings") {
    const std::vector<ShippedPanel>& panels = shipped_panels();
    for (std::size_t k = 0; k + 1 < panels.size(); ++k) {
        INFO(panels[k].file << " and " << panels[k + 1].file);
        const std::vector<PanelPhysics> kinds{physics_of(panels[k]), physics_of(panels[k + 1])};
        InputWiring wiring;
        wiring.strings = {{{{0, {}}, {1, {}}, {0, {}}}, false}, {{{1, {}}, {1, {}}, {0, {}}}, true}};
        const ArrayCurve array(wiring, kinds, {});
        const PowerPoint best = array.maximum_power();
        const ArrayReading reading = array_reading(array, best.voltage_v);
        REQUIRE(reading.strings.size() == 2);
        double current_a = 0.0;
        for (const StringReading& string : reading.strings) {
            double volts = -string.blocking_v;
            for (const PanelReading& panel : string.panels) volts += panel.voltage_v;
            CHECK(volts == Approx(best.voltage_v).epsilon(1e-9));
            current_a += string.current_a;
        }
        CHECK(current_a == Approx(best.current_a).epsilon(1e-9));
        CHECK(mismatch_at_maximum(array).lost_w() >= 0.0);
    }
}

TEST_CASE("a string is driven back hardest at open circuit, and a blocking diode lets next to nothing through") {
    on_every_panel([](const std::vector<PanelPhysics>& kinds, Condition condition) {
        InputWiring wiring = equal_strings(3, 2);
        wiring.strings[1].panels.pop_back();
        const ArrayCurve open(wiring, kinds, condition);
        const double isc_a = open.short_circuit_a();
        const double open_v = open.open_circuit_v();
        double before_a = string_currents_a(open, open_v)[1];
        CHECK(before_a < -1e-3 * isc_a);
        for (const double share : {0.98, 0.9, 0.7, 0.3}) {
            const double now_a = string_currents_a(open, share * open_v)[1];
            CHECK(now_a > before_a);
            before_a = now_a;
        }
        wiring.strings[1].blocking_diode = true;
        const ArrayCurve blocked(wiring, kinds, condition);
        const double back_a = -string_currents_a(blocked, blocked.open_circuit_v())[1];
        // What the diode leaks: its saturation current (6e-7 of the rating at 85 °C, less when cooler) and 1e-9 S an
        // ampere of rating over some volts; the rating is Isc in full sun, four times that in the haze.
        CHECK(back_a >= 0.0);
        CHECK(back_a < 4.0 * (6e-7 + 1e-9 * blocked.open_circuit_v()) * isc_a);
    });
}

TEST_CASE("the shaded demo has the three humps its comment names, and the solver finds the highest") {
    const std::string file = std::string(support::source_dir()) + "/docs/demo/shaded.toml";
    const auto setup = input::read_setup(support::text_of(file), file, [](const std::string& path) {
        return Result<std::string, std::string>(support::text_of(path));
    });
    REQUIRE(setup.has_value());
    REQUIRE(setup->wiring.has_value());
    const std::vector<PanelPhysics> kinds{physics_of({file, setup->kinds[0].panel})};
    const ArrayCurve array(setup->wiring->front(), kinds, {});
    std::vector<PowerPoint> humps;
    constexpr double step_v = 0.1;
    for (double v = step_v; v < array.open_circuit_v(); v += step_v) {
        const PowerPoint p{v, array.current_a(v)};
        const bool above_left = p.power_w() > (v - step_v) * array.current_a(v - step_v);
        if (above_left && p.power_w() > (v + step_v) * array.current_a(v + step_v)) humps.push_back(p);
    }
    REQUIRE(humps.size() == 3);
    const std::vector<PowerPoint> named{{69.0, 1339.0 / 69.0}, {88.0, 1251.0 / 88.0}, {102.0, 1138.0 / 102.0}};
    for (std::size_t k = 0; k < named.size(); ++k) {
        CHECK(humps[k].voltage_v == Approx(named[k].voltage_v).margin(0.5));
        CHECK(humps[k].power_w() == Approx(named[k].power_w()).margin(1.0));
        CHECK(humps[k].power_w() <= array.maximum_power().power_w());
    }
    CHECK(array.maximum_power().voltage_v == Approx(humps[0].voltage_v).margin(step_v));
}
