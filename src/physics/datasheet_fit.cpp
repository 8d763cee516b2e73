#include <plait/physics/datasheet_fit.hpp>

#include "de_soto_fit.hpp"
#include "prior_ideality_fit.hpp"

#include <cmath>

namespace plait::physics {
namespace {

bool usable(const Panel& p) {
    // Written so that NaN fails.
    return p.imp_a > 0.0 && p.imp_a < p.isc_a && p.vmp_v > 0.0 && p.vmp_v < p.voc_v && std::isfinite(p.isc_a) &&
           std::isfinite(p.voc_v) && p.voc_coefficient_per_k < 0.0 && std::isfinite(p.voc_coefficient_per_k) &&
           std::isfinite(p.isc_coefficient_per_k) && p.cells_in_series > 0;
}

bool usable(const GivenDiode& d) {
    return d.light_current_a > 0.0 && d.saturation_current_a > 0.0 && d.ideality > 0.0 &&
           d.series_resistance_ohm >= 0.0 && d.shunt_resistance_ohm > 0.0 && std::isfinite(d.light_current_a) &&
           std::isfinite(d.saturation_current_a) && std::isfinite(d.ideality) && std::isfinite(d.series_resistance_ohm);
}

DiodeCurve curve_of(const GivenDiode& d, int junctions) {
    return {d.light_current_a, d.saturation_current_a,
            d.ideality * junctions * boltzmann_over_charge_v_per_k * absolute_k(stc_cell), d.series_resistance_ohm,
            1.0 / d.shunt_resistance_ohm};
}

void take_stock(FittedPanel& fitted, const Panel& panel) {
    const DiodeCurve stc = fitted.model.at({});
    const PowerPoint best = stc.maximum_power();
    fitted.ideality = fitted.model.stc.ideality_v / (thermal_ratio(panel) * panel.voc_v);
    fitted.residuals = {stc.short_circuit_a() / panel.isc_a - 1.0, stc.open_circuit_v() / panel.voc_v - 1.0,
                        best.voltage_v / panel.vmp_v - 1.0, best.current_a / panel.imp_a - 1.0,
                        best.power_w() / (panel.vmp_v * panel.imp_a) - 1.0};
    const DiodeCurve warm = fitted.model.at({stc_irradiance_w_per_m2, stc_cell + 25.0});
    fitted.voc_coefficient_residual_per_k =
        (warm.open_circuit_v() / stc.open_circuit_v() - 1.0) / 25.0 - panel.voc_coefficient_per_k;
    fitted.pmax_coefficient_residual_per_k =
        (warm.maximum_power().power_w() / best.power_w() - 1.0) / 25.0 - panel.pmax_coefficient_per_k;
    fitted.weak_light_ratio = fitted.model.at({200.0, stc_cell}).maximum_power().power_w() / (0.2 * best.power_w());
}

}  // namespace

double weak_light_prior_ratio(Technology technology) {
    switch (technology) {
        case Technology::mono_silicon:
        case Technology::perc:
        case Technology::topcon:
        case Technology::back_contact:
            return 0.96;
        case Technology::poly_silicon:
            return 0.945;
        case Technology::heterojunction:
            return 0.95;
        case Technology::film_silicon:
            return 0.83;
        case Technology::amorphous:  // no rows of its own in the table: as the tandem
        case Technology::amorphous_tandem:
            return 0.965;
        case Technology::amorphous_triple:
            return 1.16;
        case Technology::cigs:
            return 0.84;
        case Technology::cdte:
            return 1.0;
        case Technology::gallium_arsenide:
            return 0.99;
        case Technology::unknown:
            return 0.95;
    }
    return 0.95;
}

bool weak_light_prior_holds(Technology technology) { return is_crystalline_silicon(technology); }

std::optional<FittedPanel> fit_datasheet(const Panel& panel, CurveMethod method) {
    if (!usable(panel) || (panel.given_diode && !usable(*panel.given_diode))) return std::nullopt;

    FittedPanel fitted;
    DiodeCurve stc;
    if (panel.given_diode) {
        fitted.form = FitForm::given;
        stc = curve_of(*panel.given_diode, panel.junctions_in_series());
    } else {
        const StcFit fit = method == CurveMethod::de_soto ? fit_de_soto(panel) : fit_prior_ideality(panel);
        fitted.form = fit.form;
        stc = fit.member.curve(panel.voc_v, panel.isc_a);
    }
    fitted.model = de_soto_model(panel, stc);
    fitted.weak_light_stated = panel.weak_light_efficiency_ratio.has_value();
    if (method == CurveMethod::prior_ideality) {
        fitted.model.law = SaturationLaw::voc_line;
        fitted.pmax_coefficient = meet_pmax_coefficient(fitted.model, panel.pmax_coefficient_per_k, panel.technology);
        // Whoever gives the shunt gives the weak light with it; only a measured figure overrules that.
        if (fitted.weak_light_stated || !panel.given_diode) {
            fitted.weak_light = meet_weak_light(
                fitted.model, panel.weak_light_efficiency_ratio.value_or(weak_light_prior_ratio(panel.technology)));
        }
    }
    take_stock(fitted, panel);
    return fitted;
}

}  // namespace plait::physics
