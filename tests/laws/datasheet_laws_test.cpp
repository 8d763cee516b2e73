// What a panel's curve owes its datasheet, on every panel file of the project.
#include "shipped_panels.hpp"

#include <plait/physics/datasheet_fit.hpp>

#include <catch2/catch.hpp>

#include <cmath>

using namespace plait;
using namespace plait::physics;
using laws::shipped_panels;
using laws::ShippedPanel;

namespace {

/// The forms that promise Isc, Voc, Vmp and Imp as printed.
bool promises_all_points(FitForm form) {
    return form == FitForm::prior_ideality || form == FitForm::ideality_lowered || form == FitForm::five_parameters;
}

}  // namespace

TEST_CASE("a curve meets the datasheet's points to 0.1 %, or names the fall-back it used") {
    for (const ShippedPanel& shipped : shipped_panels()) {
        const Panel& p = shipped.panel;
        for (const CurveMethod method : {CurveMethod::prior_ideality, CurveMethod::de_soto}) {
            INFO(shipped.file << (method == CurveMethod::de_soto ? ", De Soto" : ", prior ideality"));
            const auto fit = fit_datasheet(p, method);
            REQUIRE(fit.has_value());
            const DiodeCurve stc = fit->model.at({});
            CHECK(stc.short_circuit_a() == Approx(p.isc_a).epsilon(1e-3));
            CHECK(stc.open_circuit_v() == Approx(p.voc_v).epsilon(1e-3));
            if (!promises_all_points(fit->form)) {
                CHECK((fit->form == FitForm::given || fit->form == FitForm::four_parameters));
                continue;
            }
            const PowerPoint best = stc.maximum_power();
            CHECK(best.voltage_v == Approx(p.vmp_v).epsilon(1e-3));
            CHECK(best.current_a == Approx(p.imp_a).epsilon(1e-3));
            // The datasheet's own Pmax and Vmp·Imp differ by rounding; this library keeps that below 0.2 %.
            CHECK(best.power_w() == Approx(p.pmax_w).epsilon(2e-3));
        }
    }
}

TEST_CASE("by the default method every panel of the library keeps all its points and coefficients") {
    for (const ShippedPanel& shipped : shipped_panels()) {
        const auto fit = fit_datasheet(shipped.panel, CurveMethod::prior_ideality);
        REQUIRE(fit.has_value());
        INFO(shipped.file);
        CHECK((promises_all_points(fit->form) || fit->form == FitForm::given));
        CHECK((fit->form == FitForm::given) == shipped.panel.given_diode.has_value());
        for (const double residual : {fit->residuals.isc_ratio, fit->residuals.voc_ratio, fit->residuals.vmp_ratio,
                                      fit->residuals.imp_ratio, fit->residuals.pmax_ratio}) {
            CHECK(std::abs(residual) < 1e-3);
        }
        CHECK(fit->pmax_coefficient == Closure::met);
        CHECK(std::abs(fit->pmax_coefficient_residual_per_k) < 1e-7);
        CHECK(fit->weak_light == Closure::met);
        CHECK(fit->weak_light_stated == shipped.panel.weak_light_efficiency_ratio.has_value());
        if (fit->weak_light_stated) {
            CHECK(fit->weak_light_ratio == Approx(*shipped.panel.weak_light_efficiency_ratio).epsilon(1e-6));
        }
    }
}
