#include <plait/physics/cell_temperature.hpp>

#include <plait/base/constants.hpp>

namespace plait::physics {

double rise_above_air_k(const Panel& panel, Mounting mounting, double irradiance_w_per_m2) {
    constexpr Celsius nominal_air{20.0};
    constexpr double nominal_irradiance_w_per_m2 = 800.0;
    constexpr double narrow_gap_k = 11.0;
    const double nominal_rise_k = panel.nominal_temperature - nominal_air;
    switch (mounting) {
        case Mounting::open_rack: return nominal_rise_k * irradiance_w_per_m2 / nominal_irradiance_w_per_m2;
        case Mounting::close_to_roof:
            return (nominal_rise_k + narrow_gap_k) * irradiance_w_per_m2 / nominal_irradiance_w_per_m2;
        case Mounting::propped_up: return 35.0 * irradiance_w_per_m2 / stc_irradiance_w_per_m2;
        case Mounting::flat_on_ground: return 50.0 * irradiance_w_per_m2 / stc_irradiance_w_per_m2;
    }
    return 0.0;
}

}  // namespace plait::physics
