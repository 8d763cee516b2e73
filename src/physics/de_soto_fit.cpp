#include "de_soto_fit.hpp"

#include "root.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

constexpr double least_ideality = 0.35;
constexpr double most_ideality = 5.0;
// The paper meets the Voc coefficient a few kelvin from STC.
constexpr double coefficient_step_k = 2.0;

// eV at 25 °C. Silicon's is the paper's. The others from memory of semiconductor tables; they are not fitted to, since
// n is fitted to the Voc coefficient after them. Its relative change per kelvin is silicon's for all (DiodeModel::at).
double band_gap_ev(Technology t) {
    switch (t) {
        case Technology::amorphous:
        case Technology::amorphous_tandem:
        case Technology::amorphous_triple:
            return 1.7;
        case Technology::cigs:
            return 1.15;
        case Technology::cdte:
            return 1.475;
        case Technology::gallium_arsenide:
            return 1.424;
        default:
            return 1.121;
    }
}

/// The current at the voltage where the coefficient puts Voc, a little above STC: zero when the coefficient is met.
/// Falls with n.
double coefficient_residual_a(const Panel& panel, const StcMember& member) {
    return de_soto_model(panel, member.curve(panel.voc_v, panel.isc_a))
        .at({stc_irradiance_w_per_m2, stc_cell + coefficient_step_k})
        .current_a(panel.voc_v * (1.0 + panel.voc_coefficient_per_k * coefficient_step_k));
}

}  // namespace

DiodeModel de_soto_model(const Panel& panel, const DiodeCurve& stc) {
    DiodeModel model;
    model.stc = stc;
    model.isc_a = panel.isc_a;
    model.voc_v = stc.open_circuit_v();
    model.isc_coefficient_per_k = panel.isc_coefficient_per_k;
    model.voc_coefficient_per_k = panel.voc_coefficient_per_k;
    model.law = SaturationLaw::band_gap;
    model.band_gap_ev = band_gap_ev(panel.technology);
    return model;
}

StcFit fit_de_soto(const Panel& panel) {
    const StcFamily family(panel.vmp_v / panel.voc_v, panel.imp_a / panel.isc_a);
    if (!family.maximum_possible()) return fit_pmax_only(panel);
    const double thermal = thermal_ratio(panel);
    const double low = std::max(least_ideality * thermal, 1.0 / 200.0);
    const double high = std::max(most_ideality * thermal, low);

    if (const auto greatest = family.greatest_ideality(low, high)) {
        const auto residual = [&](double a) {
            return coefficient_residual_a(panel,
                                          a >= greatest->ideality ? *greatest : family.exact(a).value_or(*greatest));
        };
        if (const auto a = crossing(residual, low, greatest->ideality, 1e-13)) {
            return {*a >= greatest->ideality ? *greatest : family.exact(*a).value_or(*greatest),
                    FitForm::five_parameters};
        }
    }
    const auto greatest = family.greatest_shuntless(low, high);
    if (!greatest) return fit_pmax_only(panel);
    const auto member = [&](double a) { return family.shuntless(a).value_or(shuntless_with_series(a, 0.0)); };
    const auto residual = [&](double a) { return coefficient_residual_a(panel, member(a)); };
    if (const auto a = crossing(residual, low, *greatest, 1e-13)) return {member(*a), FitForm::four_parameters};
    const bool low_is_nearer = std::abs(residual(low)) < std::abs(residual(*greatest));
    return {member(low_is_nearer ? low : *greatest), FitForm::four_parameters};
}

}  // namespace plait::physics
