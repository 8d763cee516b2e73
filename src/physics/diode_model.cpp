#include <plait/physics/diode_model.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {

DiodeCurve DiodeModel::at(Condition condition) const {
    const double x = std::max(condition.irradiance_w_per_m2, 0.0) / stc_irradiance_w_per_m2;
    const double t = condition.cell - stc_cell;
    const double warmth = absolute_k(condition.cell) / absolute_k(stc_cell);

    DiodeCurve c;
    const double full_light = stc.light_current_a + isc_coefficient_per_k * isc_a * t;
    c.light_current_a = x * full_light;
    c.series_resistance_ohm = stc.series_resistance_ohm * std::max(0.0, 1.0 + series_resistance_per_k * t);
    c.ideality_v = stc.ideality_v * warmth * std::max(0.05, 1.0 + ideality_per_k * t);
    c.shunt_conductance_s = stc.shunt_conductance_s * (shunt_light_power == 0.0   ? 1.0
                                                       : shunt_light_power == 1.0 ? x
                                                                                  : std::pow(x, shunt_light_power));
    if (law == SaturationLaw::voc_line) {
        const double open_v = voc_v * std::max(0.05, 1.0 + voc_coefficient_per_k * t);
        const double diode_a = std::max(full_light - stc.shunt_conductance_s * open_v, 1e-6 * full_light);
        c.saturation_current_a = diode_a / std::expm1(open_v / c.ideality_v);
        // No light, no photovoltage to follow: the exponent is for 1 … 1500 W/m².
        if (saturation_light_power != 0.0 && x > 0.0) c.saturation_current_a *= std::pow(x, -saturation_light_power);
    } else {
        const double gap_ev = band_gap_ev * (1.0 - 0.0002677 * t);
        c.saturation_current_a =
            stc.saturation_current_a * warmth * warmth * warmth *
            std::exp((band_gap_ev / absolute_k(stc_cell) - gap_ev / absolute_k(condition.cell)) /
                     boltzmann_over_charge_v_per_k);
    }
    return c;
}

}  // namespace plait::physics
