#include "reading.hpp"

#include <filesystem>

namespace plait::input::test {
namespace {

double with_unit(const std::string& key, const std::string& value, double Panel::*member) {
    INFO(key << " = " << value);
    return panel_of(panel_with({{key, value}})).panel.*member;
}

TEST_CASE("a complete panel file is read as written, and nothing is assumed") {
    const auto text = from_disk(source_dir + "/tests/input/good/panel_plain.toml");
    REQUIRE(text);
    const PanelFile file = panel_of(*text);
    const Panel& p = file.panel;
    CHECK(file.assumptions.empty());
    CHECK(file.doubts.empty());
    CHECK(p.name == "Meadow 100");
    CHECK(p.technology == Technology::mono_silicon);
    CHECK(p.cells_in_series == 36);
    CHECK_FALSE(p.half_cut);
    CHECK(p.bypass_diodes == 2);
    CHECK(p.pmax_w == 100.0);
    CHECK(p.vmp_v == 18.0);
    CHECK(p.imp_a == 5.56);
    CHECK(p.voc_v == 21.6);
    CHECK(p.isc_a == 6.0);
    CHECK(p.isc_coefficient_per_k == Approx(0.0005).epsilon(1e-12));
    CHECK(p.voc_coefficient_per_k == Approx(-0.0030).epsilon(1e-12));
    CHECK(p.voc_coefficient_stated);
    CHECK(p.pmax_coefficient_per_k == Approx(-0.0042).epsilon(1e-12));
    CHECK(p.nominal_temperature.degc == 45.0);
    CHECK(p.nominal_temperature_kind == NominalTemperatureKind::noct);
    CHECK(p.weak_light_efficiency_ratio.value() == Approx(0.96));
    CHECK(p.max_system_voltage_v == 600.0);
    CHECK(p.max_series_fuse_a == 15.0);
    CHECK(p.max_series_fuse_stated);
    CHECK(p.voc_tolerance_ratio == Approx(0.03));
    CHECK(p.isc_tolerance_ratio == Approx(0.05));
    CHECK(p.pmax_tolerance_below_ratio == Approx(0.03));
    CHECK(p.pmax_tolerance_above_ratio == Approx(0.03));
    CHECK_FALSE(p.bifaciality_ratio);
    CHECK_FALSE(p.given_diode);
}

TEST_CASE("a number may stand alone or with any of its units") {
    for (const char* v : {"21.6", "\"21.6 V\"", "\"21.6V\"", "\"+21.6 V\"", "\"21600 mV\"", "\"0.0216 kV\"",
                          "\" 21.6  V \"", "\"2.16e1 V\"", "\"21.6\u00A0V\""}) {
        CHECK(with_unit("voc", v, &Panel::voc_v) == Approx(21.6).epsilon(1e-12));
    }
    for (const char* a : {"6", "6.0", "\"6 A\"", "\"6000 mA\""}) {
        CHECK(with_unit("isc", a, &Panel::isc_a) == Approx(6.0).epsilon(1e-12));
    }
    for (const char* w : {"100", "\"100 W\"", "\"0.1 kW\"", "\"1e2 W\""}) {
        CHECK(with_unit("pmax", w, &Panel::pmax_w) == Approx(100.0).epsilon(1e-12));
    }
    // 45 °C = 113 °F = 318.15 K.
    for (const char* t : {"\"45 °C\"", "\"45°C\"", "\"45 C\"", "\"45 ºC\"", "\"45 ℃\"", "\"113 °F\"", "\"113 F\"",
                          "\"318.15 K\""}) {
        INFO(t);
        CHECK(panel_of(panel_with({{"noct", t}})).panel.nominal_temperature.degc == Approx(45.0).epsilon(1e-12));
    }
    for (const char* p : {"4", "\"4 %\"", "\"4%\""}) {
        CHECK(with_unit("voc_tolerance", p, &Panel::voc_tolerance_ratio) == Approx(0.04).epsilon(1e-12));
    }
}

TEST_CASE("coefficients are taken in every unit that datasheets use") {
    // Voc 21.6 V: -0.30 %/K is -64.8 mV/K, and -1.8 mV/K a cell for 36.
    for (const char* c : {"\"-0.30 %/K\"", "\"-0.30%/°C\"", "\"−0.30 %/K\"", "\"- 0.30 %/K\"", "\"-0.30 %/C\"",
                          "\"-0.30 % / K\"", "\"-0.003 1/K\"", "\"-0.003 1/°C\"", "\"-0.0648 V/K\"", "\"-0.0648 V/°C\"",
                          "\"-64.8 mV/K\"", "\"-64.8 mV/°C\"", "\"-1.8 mV/K per cell\"", "\"-1.8 mV/°C per cell\"",
                          "\"-1.8 mV/K/cell\"", "\"-1.8 mV/C per cell\""}) {
        CHECK(with_unit("voc_coefficient", c, &Panel::voc_coefficient_per_k) == Approx(-0.003).epsilon(1e-12));
    }
    // Isc 6 A: +0.05 %/K is 3 mA/K.
    for (const char* c :
         {"\"0.05 %/K\"", "\"+0.05 %/°C\"", "\"5e-4 1/K\"", "\"0.003 A/K\"", "\"3 mA/K\"", "\"3 mA/°C\""}) {
        CHECK(with_unit("isc_coefficient", c, &Panel::isc_coefficient_per_k) == Approx(0.0005).epsilon(1e-12));
    }
    // Pmax 100 W: -0.42 %/K is -0.42 W/K.
    for (const char* c : {"\"-0.42 %/K\"", "\"-0.0042 1/K\"", "\"-0.42 W/K\"", "\"-420 mW/K\""}) {
        CHECK(with_unit("pmax_coefficient", c, &Panel::pmax_coefficient_per_k) == Approx(-0.0042).epsilon(1e-12));
    }
}

TEST_CASE("the tolerance of the power may have two ends") {
    const Panel p = panel_of(panel_with({{"pmax_tolerance", "[ \"0 %\", \"+5 %\" ]"}})).panel;
    CHECK(p.pmax_tolerance_below_ratio == 0.0);
    CHECK(p.pmax_tolerance_above_ratio == Approx(0.05));
    const Panel q = panel_of(panel_with({{"pmax_tolerance", "[ -10, 2 ]"}})).panel;
    CHECK(q.pmax_tolerance_below_ratio == Approx(0.10));
    CHECK(q.pmax_tolerance_above_ratio == Approx(0.02));
}

TEST_CASE("NMOT in place of NOCT, bifaciality, the diode and half-cut cells are taken over") {
    const Panel p = panel_of(panel_with({{"nmot", "\"42 °C\""},
                                         {"bifaciality", "\"80 %\""},
                                         {"half_cut", "true"},
                                         {"diode",
                                          "{ light_current = \"6.01 A\", saturation_current = 1e-9, ideality = 1.1, "
                                          "series_resistance = \"300 mΩ\", shunt_resistance = \"150 ohm\" }"}}))
                        .panel;
    CHECK(p.nominal_temperature.degc == 42.0);
    CHECK(p.nominal_temperature_kind == NominalTemperatureKind::nmot);
    CHECK(p.bifaciality_ratio.value() == Approx(0.8));
    CHECK(p.half_cut);
    REQUIRE(p.given_diode);
    CHECK(p.given_diode->light_current_a == 6.01);
    CHECK(p.given_diode->saturation_current_a == 1e-9);
    CHECK(p.given_diode->ideality == 1.1);
    CHECK(p.given_diode->series_resistance_ohm == Approx(0.3));
    CHECK(p.given_diode->shunt_resistance_ohm == 150.0);
}

// The fall-backs below are common practice for datasheets with gaps, on the cautious side; no one source.
TEST_CASE("a label with three numbers becomes a panel, each gap an assumption") {
    const PanelFile file = panel_of("pmax = 100\nvmp = 18\n");
    const Panel& p = file.panel;
    CHECK(p.name == "panel");  // the file's own name
    CHECK(p.technology == Technology::unknown);
    CHECK(p.imp_a == Approx(100.0 / 18.0));
    CHECK(p.voc_v == Approx(1.25 * 18.0));
    CHECK(p.isc_a == Approx(1.10 * 100.0 / 18.0));
    CHECK(p.voc_coefficient_per_k == Approx(-0.0040));
    CHECK_FALSE(p.voc_coefficient_stated);
    CHECK(p.isc_coefficient_per_k == Approx(0.0005));
    CHECK(p.pmax_coefficient_per_k == Approx(-0.0045));
    CHECK(p.nominal_temperature.degc == 47.0);
    CHECK(p.nominal_temperature_kind == NominalTemperatureKind::noct);
    CHECK(p.max_system_voltage_v == 100.0);
    CHECK(p.max_series_fuse_a == 15.0);
    CHECK_FALSE(p.max_series_fuse_stated);
    CHECK(p.voc_tolerance_ratio == Approx(0.03));
    CHECK(p.isc_tolerance_ratio == Approx(0.05));
    CHECK(p.pmax_tolerance_below_ratio == Approx(0.03));
    CHECK(p.pmax_tolerance_above_ratio == Approx(0.03));
    CHECK_FALSE(p.weak_light_efficiency_ratio);
    CHECK(p.cells_in_series == 36);  // 22.5 V / 0.62 V = 36.3
    CHECK(p.bypass_diodes == 2);     // 36 / 24, rounded up
    for (const Quantity q :
         {Quantity::panel_technology, Quantity::panel_imp, Quantity::panel_voc, Quantity::panel_isc,
          Quantity::panel_cells, Quantity::panel_bypass_diodes, Quantity::panel_isc_coefficient,
          Quantity::panel_voc_coefficient, Quantity::panel_pmax_coefficient, Quantity::panel_nominal_temperature,
          Quantity::panel_system_voltage, Quantity::panel_series_fuse, Quantity::panel_voc_tolerance,
          Quantity::panel_isc_tolerance, Quantity::panel_pmax_tolerance}) {
        const Assumption a = assumed(file.assumptions, q);
        CHECK(a.subject == "panel 'panel'");
        CHECK_FALSE(a.what.empty());
        CHECK_FALSE(a.value.empty());
        CHECK_FALSE(a.why.empty());
        CHECK_FALSE(a.kind);
        CHECK_FALSE(a.input);
    }
    CHECK(file.assumptions.size() == 15);
    CHECK(assumed(file.assumptions, Quantity::panel_voc).value == "22.5 V");
    CHECK(assumed(file.assumptions, Quantity::panel_voc_coefficient).value == "-0.40 %/K");
}

TEST_CASE("the Voc coefficient that is assumed depends on the technology") {
    for (const char* silicon : {"mono", "poly", "perc", "topcon", "heterojunction", "back-contact"}) {
        const PanelFile f = panel_of("pmax = 100\nvmp = 18\ntechnology = \"" + std::string(silicon) + "\"\n");
        CHECK(f.panel.voc_coefficient_per_k == Approx(-0.0035));
        CHECK(assumed(f.assumptions, Quantity::panel_voc_coefficient).value == "-0.35 %/K");
    }
    for (const char* other :
         {"film-silicon", "amorphous", "amorphous-tandem", "amorphous-triple", "cigs", "cdte", "gaas"}) {
        const PanelFile f = panel_of("pmax = 100\nvmp = 18\ntechnology = \"" + std::string(other) + "\"\n");
        CHECK(f.panel.voc_coefficient_per_k == Approx(-0.0040));
        CHECK(f.panel.bypass_diodes == 1);
    }
}

TEST_CASE("power, voltage and current are completed from any two of them") {
    const Panel product = panel_of("vmp = 18\nimp = 5\n").panel;
    CHECK(product.pmax_w == Approx(90.0));
    const Panel quotient = panel_of("pmax = 90\nimp = 5\n").panel;
    CHECK(quotient.vmp_v == Approx(18.0));
    CHECK(quotient.voc_v == Approx(22.5));
    const Panel from_voc = panel_of("pmax = 90\nvoc = 22.5\n").panel;
    CHECK(from_voc.vmp_v == Approx(18.0));
    CHECK(from_voc.imp_a == Approx(5.0));
    const Panel from_isc = panel_of("pmax = 90\nisc = 5.5\n").panel;
    CHECK(from_isc.imp_a == Approx(5.0));
    CHECK(from_isc.vmp_v == Approx(18.0));
    // 0.80·Voc would ask for Imp = 90/18 = 5 A of a panel whose Isc is 5.1: 0.95·Isc is taken, and Vmp follows.
    const Panel both = panel_of("pmax = 90\nvoc = 22.5\nisc = 5.1\n").panel;
    CHECK(both.imp_a == Approx(0.95 * 5.1));
    CHECK(both.vmp_v == Approx(90.0 / (0.95 * 5.1)));
    CHECK(both.imp_a < both.isc_a);
    CHECK(both.vmp_v < both.voc_v);
}

TEST_CASE("what must be assumed of power, voltage and current is assumed once each") {
    for (const char* text :
         {"vmp = 18\nimp = 5\n", "pmax = 90\nimp = 5\n", "pmax = 90\nvmp = 18\n", "pmax = 90\nvoc = 22.5\n",
          "pmax = 90\nisc = 5.5\n", "pmax = 90\nvoc = 22.5\nisc = 5.1\n", "pmax = 90\nvoc = 22.5\nisc = 6\n"}) {
        INFO(text);
        const PanelFile f = panel_of(text);
        const std::string written(text);
        for (const auto& [key, q] : std::map<std::string, Quantity>{{"pmax", Quantity::panel_pmax},
                                                                    {"vmp", Quantity::panel_vmp},
                                                                    {"imp", Quantity::panel_imp},
                                                                    {"voc", Quantity::panel_voc},
                                                                    {"isc", Quantity::panel_isc}}) {
            if (has(written, key + " ="))
                CHECK_FALSE(is_assumed(f.assumptions, q));
            else
                CHECK_FALSE(assumed(f.assumptions, q).value.empty());
        }
    }
}

TEST_CASE("cells are counted from Voc in the layouts that panels have") {
    const auto cells = [](const std::string& technology, double voc_v) {
        return panel_of("pmax = 100\nvoc = " + std::to_string(voc_v) + "\nmax_system_voltage = 1000\ntechnology = \"" +
                        technology + "\"\n")
            .panel.cells_in_series;
    };
    // Usual panels, common knowledge: 36 cells near 22 V, 60 at 37 to 41 V, 72 at 45 to 49 V.
    CHECK(cells("mono", 22.0) == 36);
    CHECK(cells("mono", 37.5) == 60);
    CHECK(cells("perc", 40.8) == 60);
    CHECK(cells("perc", 49.2) == 72);
    CHECK(cells("heterojunction", 53.0) == 72);
    CHECK(cells("cdte", 88.0) == 110);
    CHECK(cells("mono", 0.62) == 1);
}

TEST_CASE("a panel file that is a whole set-up says so") {
    const std::string said = complaints_about_panel("[[panel]]\ncount = 2\n[controller]\n");
    CHECK(has(said, "panel.toml:1:3:"));
    CHECK(has(said, "open this one as a set-up"));
}

}  // namespace
}  // namespace plait::input::test
