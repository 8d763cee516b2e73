#include "prior_ideality_fit.hpp"

#include "root.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

// Chosen on the odd rows of an open table of outdoor tests; any n from 1.25 to 1.4 does equally well for silicon.
constexpr double silicon_ideality = 1.25;
constexpr double thin_film_ideality = 1.75;
// Below this no real cell's knee is as sharp; the datasheet's points are then rounded, or mixed from several tests.
constexpr double sharp_knee_ideality = 0.6;
// Voc/a of the sharpest curve: its fill factor is 0.97, and exp(200) is still far inside a double in deep cold.
constexpr double least_thermal_ratio = 1.0 / 200.0;
// At Rs = Voc/Isc a curve would be a straight line.
constexpr double most_series = 0.98;

constexpr double most_ideality_per_k = 0.004;
constexpr double most_series_resistance_per_k = 0.03;
constexpr double least_saturation_power = -1.5;
constexpr double most_saturation_power = 3.0;

bool is_silicon_diode(Technology t) {
    return is_crystalline_silicon(t) || t == Technology::film_silicon || t == Technology::unknown;
}

double power_ratio(const StcMember& m) { return m.curve(1.0, 1.0).maximum_power().power_w(); }

/// Bends one dial of the model until Pmp at the condition is the target, or as near as the dial's ends allow.
Closure bend(DiodeModel& model, double DiodeModel::*dial, double low, double high, Condition condition,
             double target_w) {
    const auto excess = [&](double x) {
        model.*dial = x;
        return model.at(condition).maximum_power().power_w() / target_w - 1.0;
    };
    const double at_low = excess(low);
    const double at_high = excess(high);
    if (at_low * at_high <= 0.0) {
        const auto met = crossing(excess, low, high, 1e-12);
        model.*dial = met.value_or(low);
        return Closure::met;
    }
    model.*dial = std::abs(at_low) < std::abs(at_high) ? low : high;
    return Closure::clipped;
}

}  // namespace

double thermal_ratio(const Panel& panel) {
    return panel.junctions_in_series() * boltzmann_over_charge_v_per_k * absolute_k(stc_cell) / panel.voc_v;
}

StcFit fit_prior_ideality(const Panel& panel) {
    const StcFamily family(panel.vmp_v / panel.voc_v, panel.imp_a / panel.isc_a);
    if (!family.maximum_possible()) return fit_pmax_only(panel);
    const double thermal = thermal_ratio(panel);
    const double prior_n = is_silicon_diode(panel.technology) ? silicon_ideality : thin_film_ideality;
    const double prior = std::max(prior_n * thermal, least_thermal_ratio);
    const double sharpest = std::max(sharp_knee_ideality * thermal, least_thermal_ratio);
    const auto exact = family.greatest_ideality(std::min(sharpest, prior), prior);
    if (!exact) return fit_pmax_only(panel);
    return {*exact, exact->ideality < prior ? FitForm::ideality_lowered : FitForm::prior_ideality};
}

StcFit fit_pmax_only(const Panel& panel) {
    const double target = panel.vmp_v * panel.imp_a / (panel.voc_v * panel.isc_a);
    const double sharp = std::max(sharp_knee_ideality * thermal_ratio(panel), least_thermal_ratio);
    // Pmp falls with Rs and with n.
    const auto series_excess = [&](double r) { return power_ratio(shuntless_with_series(sharp, r)) - target; };
    if (const auto series = crossing(series_excess, 0.0, most_series, 1e-14)) {
        return {shuntless_with_series(sharp, *series), FitForm::no_sharp_knee};
    }
    if (series_excess(0.0) > 0.0) return {shuntless_with_series(sharp, most_series), FitForm::pmax_out_of_reach};
    const auto ideality_excess = [&](double a) { return power_ratio(shuntless_with_series(a, 0.0)) - target; };
    if (const auto ideality = crossing(ideality_excess, least_thermal_ratio, sharp, 1e-14)) {
        return {shuntless_with_series(*ideality, 0.0), FitForm::sharpest_knee};
    }
    return {shuntless_with_series(least_thermal_ratio, 0.0), FitForm::pmax_out_of_reach};
}

Closure meet_pmax_coefficient(DiodeModel& model, double pmax_coefficient_per_k, Technology technology) {
    const Condition warm{stc_irradiance_w_per_m2, stc_cell + 25.0};
    const double target_w = model.at({}).maximum_power().power_w() * (1.0 + 25.0 * pmax_coefficient_per_k);
    if (!(pmax_coefficient_per_k < 0.0) || !(target_w > 0.0)) return Closure::left_alone;
    // A thin film's μ would have to go past 0.01 per kelvin, which no cell does; its Rs does change with temperature.
    if (is_silicon_diode(technology)) {
        return bend(model, &DiodeModel::ideality_per_k, -most_ideality_per_k, most_ideality_per_k, warm, target_w);
    }
    return bend(model, &DiodeModel::series_resistance_per_k, -most_series_resistance_per_k,
                most_series_resistance_per_k, warm, target_w);
}

Closure meet_weak_light(DiodeModel& model, double ratio) {
    const Condition weak{200.0, stc_cell};
    const double target_w = model.at({}).maximum_power().power_w() * 0.2 * ratio;
    model.saturation_light_power = 0.0;
    if (bend(model, &DiodeModel::shunt_light_power, 0.0, 1.0, weak, target_w) == Closure::met) return Closure::met;
    return bend(model, &DiodeModel::saturation_light_power, least_saturation_power, most_saturation_power, weak,
                target_w);
}

}  // namespace plait::physics
