#include <plait/rules/stated_weather.hpp>

#include <plait/base/constants.hpp>
#include <plait/physics/cell_temperature.hpp>

#include <algorithm>

namespace plait::rules {

double cold_irradiance_w_per_m2(const Site& site) {
    return std::max(stc_irradiance_w_per_m2, site.peak_irradiance_w_per_m2);
}

Celsius hottest_cell(const Site& site, const Panel& panel) {
    return site.hottest_air + physics::rise_above_air_k(panel, site.mounting, site.peak_irradiance_w_per_m2);
}

double curve_voc_v(const physics::FittedPanel& curve, Celsius cell) {
    return curve.model.at({stc_irradiance_w_per_m2, cell}).open_circuit_v();
}

double voc_light_factor(const physics::FittedPanel& curve, Celsius cell, double irradiance_w_per_m2) {
    const double in_full_light_v = curve_voc_v(curve, cell);
    if (!(in_full_light_v > 0.0)) return 0.0;
    return curve.model.at({irradiance_w_per_m2, cell}).open_circuit_v() / in_full_light_v;
}

double strongest_light_ratio(const PanelPlace& place) {
    double strongest = 1.0;
    for (const GroupState& group : place.groups) strongest = std::max(strongest, group.light_ratio);
    return strongest;
}

}  // namespace plait::rules
