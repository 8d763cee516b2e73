#include <plait/physics/diode_model.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

// Below 1 W/m² the weak-light powers are a guess on top of a guess (they are fitted at 200 W/m²), and x^−m would grow
// without end, or vanish and leave cells without a junction; they hold still there, and only the light current goes on
// to zero.
constexpr double least_light_ratio = 1e-3;

double light_power(double x, double exponent) {
    if (exponent == 0.0 || x == 1.0) return 1.0;
    const double lit = std::max(x, least_light_ratio);
    return exponent == 1.0 ? lit : std::pow(lit, exponent);
}

}  // namespace

DiodeCurve DiodeModel::at(Condition condition) const {
    const double x = std::max(condition.irradiance_w_per_m2, 0.0) / stc_irradiance_w_per_m2;
    const double t = condition.cell - stc_cell;
    const double warmth = absolute_k(condition.cell) / absolute_k(stc_cell);
    const double full_light = std::max(0.0, stc.light_current_a + isc_coefficient_per_k * isc_a * t);

    DiodeCurve c;
    c.light_current_a = x * full_light;
    c.series_resistance_ohm = stc.series_resistance_ohm * std::max(0.0, 1.0 + series_resistance_per_k * t);
    c.ideality_v = stc.ideality_v * warmth * std::max(0.05, 1.0 + ideality_per_k * t);
    c.shunt_conductance_s = stc.shunt_conductance_s * light_power(x, shunt_light_power);
    if (law == SaturationLaw::voc_line) {
        const double open_v = voc_v * std::max(0.05, 1.0 + voc_coefficient_per_k * t);
        // The floor is for a panel that is nearly all shunt, in deep cold: its line rises past what the light can
        // carry.
        const double diode_a = std::max(full_light - stc.shunt_conductance_s * open_v, 1e-6 * stc.light_current_a);
        const double full_light_saturation = diode_a / std::expm1(std::min(open_v / c.ideality_v, 600.0));
        c.saturation_current_a = full_light_saturation * light_power(x, -saturation_light_power);
    } else {
        const double gap_ev = band_gap_ev * (1.0 - 0.0002677 * t);
        c.saturation_current_a = stc.saturation_current_a * warmth * warmth * warmth *
                                 std::exp((band_gap_ev / absolute_k(stc_cell) - gap_ev / absolute_k(condition.cell)) /
                                          boltzmann_over_charge_v_per_k);
    }
    return c;
}

}  // namespace plait::physics
