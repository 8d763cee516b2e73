// The laws of the fit, on invented panels, on random datasheets and on open measured data where they are at hand.
#include <plait/physics/datasheet_fit.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

using namespace plait;
using namespace plait::physics;

namespace {

Panel invented_panel() {
    Panel p;
    p.name = "Meadow 400";
    p.technology = Technology::perc;
    p.cells_in_series = 54;
    p.vmp_v = 31.0;
    p.imp_a = 12.9;
    p.voc_v = 37.1;
    p.isc_a = 13.7;
    p.pmax_w = 400.0;
    p.isc_coefficient_per_k = 0.00045;
    p.voc_coefficient_per_k = -0.0026;
    p.pmax_coefficient_per_k = -0.0034;
    return p;
}

double pmax_w(const FittedPanel& f, double g, double degc) {
    return f.model.at({g, Celsius{degc}}).maximum_power().power_w();
}

bool meets_stc(const FittedPanel& f, double within) {
    const StcResiduals& r = f.residuals;
    return std::abs(r.isc_ratio) < within && std::abs(r.voc_ratio) < within && std::abs(r.vmp_ratio) < within &&
           std::abs(r.imp_ratio) < within && std::abs(r.pmax_ratio) < within;
}

bool claims_exact(FitForm form) {
    return form == FitForm::prior_ideality || form == FitForm::ideality_lowered || form == FitForm::five_parameters;
}

/// Every promise a form makes, and curves that are curves from deep cold to great heat.
void check_promises(const FittedPanel& f) {
    CHECK(std::abs(f.residuals.isc_ratio) < 1e-9);
    CHECK(std::abs(f.residuals.voc_ratio) < 1e-9);
    if (claims_exact(f.form)) CHECK(meets_stc(f, 1e-9));
    if (f.form == FitForm::no_sharp_knee || f.form == FitForm::sharpest_knee)
        CHECK(std::abs(f.residuals.pmax_ratio) < 1e-9);
    CHECK(f.model.stc.series_resistance_ohm >= 0.0);
    CHECK(f.model.stc.shunt_conductance_s >= 0.0);
    CHECK(f.model.stc.saturation_current_a > 0.0);
    bool sound = true;
    for (const double g : {50.0, 200.0, 1000.0, 1200.0}) {
        for (const double degc : {-40.0, 0.0, 25.0, 85.0}) {
            const DiodeCurve c = f.model.at({g, Celsius{degc}});
            const PowerPoint best = c.maximum_power();
            sound = sound && c.saturation_current_a > 0.0 && std::isfinite(c.saturation_current_a) &&
                    best.voltage_v > 0.0 && best.voltage_v < c.open_circuit_v() && best.current_a > 0.0 &&
                    best.current_a < c.short_circuit_a() && std::isfinite(c.current_a(2.0 * c.open_circuit_v()));
        }
    }
    CHECK(sound);
}

}  // namespace

TEST_CASE("the default fit meets the datasheet and its coefficients") {
    const Panel panel = invented_panel();
    const auto fit = fit_datasheet(panel, CurveMethod::prior_ideality);
    REQUIRE(fit);
    CHECK(fit->form == FitForm::prior_ideality);
    CHECK(fit->ideality == Approx(1.25));
    check_promises(*fit);
    CHECK(meets_stc(*fit, 1e-9));
    CHECK(fit->pmax_coefficient == Closure::met);
    CHECK(pmax_w(*fit, 1000, 50) == Approx(31.0 * 12.9 * (1.0 - 25.0 * 0.0034)).epsilon(1e-9));
    CHECK(fit->weak_light == Closure::met);
    CHECK_FALSE(fit->weak_light_stated);
    CHECK(fit->weak_light_ratio == Approx(0.96).epsilon(1e-9));
    // The straight line of the Voc coefficient, all the way.
    for (const double degc : {-60.0, -40.0, -10.0, 0.0, 25.0, 60.0, 85.0, 120.0}) {
        CHECK(fit->model.at({1000.0, Celsius{degc}}).open_circuit_v() ==
              Approx(37.1 * (1.0 - 0.0026 * (degc - 25.0))).epsilon(1e-10));
        // Isc grows by α of the stated Isc, but for the share that the shunt and the diode take.
        CHECK(fit->model.at({1000.0, Celsius{degc}}).short_circuit_a() ==
              Approx(13.7 * (1.0 + 0.00045 * (degc - 25.0))).epsilon(2e-4));
    }
}

TEST_CASE("a stated weak-light efficiency is met, by the shunt or by the diode") {
    Panel panel = invented_panel();
    bool shunt = false;
    bool diode = false;
    for (const double ratio : {0.90, 0.93, 0.95, 0.97, 0.99}) {
        panel.weak_light_efficiency_ratio = ratio;
        const auto fit = fit_datasheet(panel, CurveMethod::prior_ideality);
        REQUIRE(fit);
        CHECK(fit->weak_light == Closure::met);
        CHECK(fit->weak_light_stated);
        CHECK(fit->weak_light_ratio == Approx(ratio).epsilon(1e-9));
        CHECK(pmax_w(*fit, 200, 25) == Approx(0.2 * ratio * 31.0 * 12.9).epsilon(1e-9));
        CHECK((fit->model.shunt_light_power >= 0.0 && fit->model.shunt_light_power <= 1.0));
        const bool by_diode = fit->model.saturation_light_power != 0.0;
        if (by_diode) CHECK((fit->model.shunt_light_power == 0.0 || fit->model.shunt_light_power == 1.0));
        (by_diode ? diode : shunt) = true;
    }
    CHECK(shunt);
    CHECK(diode);
    panel.weak_light_efficiency_ratio = 0.3;  // no such panel: as near as the bounds allow, and said
    const auto fit = fit_datasheet(panel, CurveMethod::prior_ideality);
    REQUIRE(fit);
    CHECK(fit->weak_light == Closure::clipped);
    CHECK(fit->weak_light_ratio > 0.3);
}

TEST_CASE("a known curve comes back from its own datasheet") {
    const double thermal_v = 60.0 * boltzmann_over_charge_v_per_k * 298.15;
    Panel panel = invented_panel();
    panel.cells_in_series = 60;
    SECTION("by the default fit, when its n is the prior") {
        const DiodeCurve truth{10.02, 10.0 * std::exp(-40.0 / (1.25 * thermal_v)), 1.25 * thermal_v, 0.25, 1.0 / 300.0};
        const PowerPoint best = truth.maximum_power();
        panel.voc_v = truth.open_circuit_v();
        panel.isc_a = truth.short_circuit_a();
        panel.vmp_v = best.voltage_v;
        panel.imp_a = best.current_a;
        const auto fit = fit_datasheet(panel, CurveMethod::prior_ideality);
        REQUIRE(fit);
        // Where the maximum lies is known to 1e-12; the shunt hangs on that by a factor of a few hundred.
        CHECK(fit->model.stc.series_resistance_ohm == Approx(0.25).epsilon(1e-7));
        CHECK(fit->model.stc.shunt_conductance_s == Approx(1.0 / 300.0).epsilon(1e-7));
        CHECK(fit->model.stc.light_current_a == Approx(10.02).epsilon(1e-9));
    }
    SECTION("by De Soto's fit, whatever its n") {
        for (const double n : {0.9, 1.05, 1.3}) {
            DiodeModel truth;
            truth.stc = {10.02, 10.0 * std::exp(-40.0 / (n * thermal_v)), n * thermal_v, 0.25, 1.0 / 300.0};
            truth.law = SaturationLaw::band_gap;
            truth.isc_a = truth.stc.short_circuit_a();
            truth.isc_coefficient_per_k = 0.0005;
            const PowerPoint best = truth.stc.maximum_power();
            panel.voc_v = truth.stc.open_circuit_v();
            panel.isc_a = truth.isc_a;
            panel.vmp_v = best.voltage_v;
            panel.imp_a = best.current_a;
            panel.isc_coefficient_per_k = 0.0005;
            const double warmer_voc_v = truth.at({1000.0, Celsius{27.0}}).open_circuit_v();
            panel.voc_coefficient_per_k = (warmer_voc_v / panel.voc_v - 1.0) / 2.0;
            const auto fit = fit_datasheet(panel, CurveMethod::de_soto);
            REQUIRE(fit);
            CHECK(fit->form == FitForm::five_parameters);
            CHECK(fit->ideality == Approx(n).epsilon(1e-6));
            CHECK(fit->model.stc.series_resistance_ohm == Approx(0.25).epsilon(1e-5));
            CHECK(fit->model.stc.shunt_conductance_s == Approx(1.0 / 300.0).epsilon(1e-5));
            CHECK(std::abs(fit->voc_coefficient_residual_per_k) < 3e-5);  // met at 27 °C, read at 50 °C
        }
    }
}

TEST_CASE("De Soto's fit falls back on four parameters, openly") {
    Panel panel = invented_panel();
    panel.vmp_v = 30.2;  // so sharp a knee that the n of the Voc coefficient leaves only a negative shunt
    panel.imp_a = 13.2;
    const auto fit = fit_datasheet(panel, CurveMethod::de_soto);
    REQUIRE(fit);
    CHECK(fit->form == FitForm::four_parameters);
    CHECK(fit->model.stc.shunt_conductance_s == 0.0);
    CHECK(fit->pmax_coefficient == Closure::left_alone);
    CHECK(fit->weak_light == Closure::left_alone);
    // The printed point stays on the curve, though no longer at its maximum.
    CHECK(fit->model.stc.current_a(30.2) == Approx(13.2).epsilon(1e-9));
    CHECK(fit->residuals.pmax_ratio > 0.0);
}

TEST_CASE("given parameters are used as they are") {
    Panel panel = invented_panel();  // Villalva, Gazoli & Filho, IEEE Trans. Power Electronics 24 (2009)
    panel.technology = Technology::poly_silicon;
    panel.cells_in_series = 54;
    panel.isc_a = 8.21;
    panel.voc_v = 32.9;
    panel.imp_a = 7.61;
    panel.vmp_v = 26.3;
    panel.isc_coefficient_per_k = 0.0032 / 8.21;
    panel.voc_coefficient_per_k = -0.123 / 32.9;
    panel.pmax_coefficient_per_k = -0.0047;
    panel.given_diode = GivenDiode{8.214, 9.825e-8, 1.3, 0.221, 415.405};
    auto fit = fit_datasheet(panel, CurveMethod::prior_ideality);
    REQUIRE(fit);
    CHECK(fit->form == FitForm::given);
    CHECK(fit->ideality == Approx(1.3));
    CHECK(fit->model.stc.light_current_a == 8.214);
    CHECK(fit->model.stc.shunt_conductance_s == Approx(1.0 / 415.405));
    CHECK(fit->weak_light == Closure::left_alone);
    CHECK(meets_stc(*fit, 0.005));
    const double own_voc_v = fit->model.stc.open_circuit_v();
    CHECK(fit->model.at({}).open_circuit_v() == Approx(own_voc_v).epsilon(1e-12));
    CHECK(fit->model.at({1000.0, Celsius{-15.0}}).open_circuit_v() ==
          Approx(own_voc_v * (1.0 + 40.0 * 0.123 / 32.9)).epsilon(1e-10));
    panel.weak_light_efficiency_ratio = 0.95;  // measured: it counts
    fit = fit_datasheet(panel, CurveMethod::prior_ideality);
    REQUIRE(fit);
    CHECK(fit->weak_light == Closure::met);
    CHECK(fit->weak_light_ratio == Approx(0.95).epsilon(1e-9));
    panel.given_diode->saturation_current_a = 0.0;
    CHECK_FALSE(fit_datasheet(panel, CurveMethod::prior_ideality));
}

TEST_CASE("points that fit no diode curve still give one, and its name says so") {
    struct Case {
        double vmp_ratio;
        double imp_ratio;
        FitForm form;
        FitForm de_soto_form;
    };
    const Case cases[] = {
        // Voc > 2·Vmp or Isc > 2·Imp: no falling concave curve
        {0.45, 0.90, FitForm::no_sharp_knee, FitForm::no_sharp_knee},
        {0.90, 0.45, FitForm::no_sharp_knee, FitForm::no_sharp_knee},
        // fill factor 0.36, but a curve all the same: large Rs, small Rsh
        {0.60, 0.60, FitForm::prior_ideality, FitForm::five_parameters},
        // fill factor 0.16: a straight line has 0.25
        {0.40, 0.40, FitForm::pmax_out_of_reach, FitForm::pmax_out_of_reach},
        // fill factor 0.90, above what n = 0.6 gives; 0.99, above what any n gives
        {0.93, 0.97, FitForm::sharpest_knee, FitForm::four_parameters},
        {0.995, 0.995, FitForm::pmax_out_of_reach, FitForm::pmax_out_of_reach},
    };
    for (const Case& c : cases) {
        INFO(c.vmp_ratio << " " << c.imp_ratio);
        Panel panel = invented_panel();
        panel.vmp_v = c.vmp_ratio * panel.voc_v;
        panel.imp_a = c.imp_ratio * panel.isc_a;
        for (const CurveMethod method : {CurveMethod::prior_ideality, CurveMethod::de_soto}) {
            const auto fit = fit_datasheet(panel, method);
            REQUIRE(fit);
            CHECK(fit->form == (method == CurveMethod::de_soto ? c.de_soto_form : c.form));
            check_promises(*fit);
        }
    }
}

TEST_CASE("a wrong cell count bends the curve, never breaks it") {
    for (const int cells : {1, 18, 27, 108, 216, 1000}) {
        INFO(cells);
        Panel panel = invented_panel();
        panel.cells_in_series = cells;
        for (const CurveMethod method : {CurveMethod::prior_ideality, CurveMethod::de_soto}) {
            const auto fit = fit_datasheet(panel, method);
            REQUIRE(fit);
            check_promises(*fit);
        }
    }
}

TEST_CASE("every technology has a usual weak-light figure") {
    for (const TechnologyName& t : technology_names) {
        const double ratio = weak_light_prior_ratio(t.technology);
        CHECK(ratio > 0.8);
        CHECK(ratio < 1.2);
        CHECK(weak_light_prior_holds(t.technology) == is_crystalline_silicon(t.technology));
    }
}

TEST_CASE("what no panel can be is refused") {
    const auto refused = [](auto change) {
        Panel panel = invented_panel();
        change(panel);
        return !fit_datasheet(panel, CurveMethod::prior_ideality) && !fit_datasheet(panel, CurveMethod::de_soto);
    };
    CHECK(refused([](Panel& p) { p.imp_a = p.isc_a; }));
    CHECK(refused([](Panel& p) { p.vmp_v = p.voc_v; }));
    CHECK(refused([](Panel& p) { p.vmp_v = 0.0; }));
    CHECK(refused([](Panel& p) { p.voc_coefficient_per_k = 0.0; }));
    CHECK(refused([](Panel& p) { p.cells_in_series = 0; }));
    CHECK(refused([](Panel& p) { p.imp_a = std::nan(""); }));
    CHECK_FALSE(refused([](Panel&) {}));
}

TEST_CASE("thousands of random datasheets all get a curve") {
    std::mt19937 engine(20060101);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine);
    };
    const int cells[] = {1, 11, 32, 36, 54, 60, 66, 72, 96, 144};
    int exact = 0;
    int all = 0;
    std::vector<double> moved_vmp;  // by the fall-back, on datasheets that look like panels
    while (all < 4000) {
        Panel p;
        p.technology = technology_names.at(std::size_t(all) % technology_names.size()).technology;
        p.cells_in_series = cells[all % 10];
        p.voc_v = p.junctions_in_series() * between(0.5, 0.95);
        p.isc_a = std::exp(between(std::log(0.05), std::log(20.0)));
        const double vmp_ratio = between(0.6, 0.93);
        const double imp_ratio = between(0.7, 0.98);
        if (vmp_ratio * imp_ratio < 0.5 || vmp_ratio * imp_ratio > 0.88) continue;
        p.vmp_v = vmp_ratio * p.voc_v;
        p.imp_a = imp_ratio * p.isc_a;
        p.isc_coefficient_per_k = between(-0.0004, 0.0012);
        p.voc_coefficient_per_k = -between(0.0015, 0.0045);
        p.pmax_coefficient_per_k = -between(0.0015, 0.0055);
        ++all;
        INFO("datasheet " << all);
        const auto fit = fit_datasheet(p, CurveMethod::prior_ideality);
        REQUIRE(fit);
        check_promises(*fit);
        CHECK(fit->form != FitForm::pmax_out_of_reach);
        if (claims_exact(fit->form)) {
            ++exact;
        } else if (vmp_ratio > 0.65 && vmp_ratio < 0.88 && imp_ratio > 0.8) {
            moved_vmp.push_back(std::abs(fit->residuals.vmp_ratio));
        }
        const auto de_soto = fit_datasheet(p, CurveMethod::de_soto);
        REQUIRE(de_soto);
        check_promises(*de_soto);
    }
    CHECK(exact > all / 2);  // and not by falling back every time
    // A study of 24 000 random datasheets: the fall-back moves Vmp by less than 2.7 % for 90 % of those that need it.
    REQUIRE(moved_vmp.size() > 50);
    std::sort(moved_vmp.begin(), moved_vmp.end());
    CHECK(moved_vmp[moved_vmp.size() * 9 / 10] < 0.027);
}
