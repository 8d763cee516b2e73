#include <plait/physics/wind_warming.hpp>

#include <plait/base/constants.hpp>
#include <plait/physics/cell_temperature.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

struct ExponentialFigures {
    double a;
    double b;
    double cell_above_back_k;  ///< at 1000 W/m²
};

constexpr ExponentialFigures figures_of(Mounting mounting) {
    switch (mounting) {
        case Mounting::open_rack:
            return {-3.56, -0.0750, 3.0};
        case Mounting::close_to_roof:
            return {-2.98, -0.0471, 1.0};
        case Mounting::propped_up:
            return {-3.47, -0.0594, 3.0};
        case Mounting::flat_on_ground:
            return {-2.81, -0.0455, 0.0};
    }
    return {};
}

double exponential_rise_k(Mounting mounting, double irradiance_w_per_m2, double wind_m_per_s) {
    const ExponentialFigures f = figures_of(mounting);
    return irradiance_w_per_m2 * (std::exp(f.a + f.b * wind_m_per_s) + f.cell_above_back_k / stc_irradiance_w_per_m2);
}

}  // namespace

double rise_above_air_in_wind_k(const Panel& panel, Mounting mounting, WarmingModel model, double irradiance_w_per_m2,
                                double wind_m_per_s) {
    if (!(irradiance_w_per_m2 > 0.0)) return 0.0;
    const double wind = wind_m_per_s > 0.0 ? wind_m_per_s : 0.0;
    switch (model) {
        case WarmingModel::nominal:
            return rise_above_air_k(panel, mounting, irradiance_w_per_m2);
        case WarmingModel::faiman: {
            constexpr double u0 = 25.0;
            constexpr double u1 = 6.84;
            static const double at_panels = std::pow(2.0 / 10.0, 1.0 / 7.0);
            const double scale =
                mounting == Mounting::open_rack
                    ? 1.0
                    : exponential_rise_k(mounting, 1.0, 1.0) / exponential_rise_k(Mounting::open_rack, 1.0, 1.0);
            return scale * irradiance_w_per_m2 / (u0 + u1 * at_panels * wind);
        }
        case WarmingModel::exponential:
            return exponential_rise_k(mounting, irradiance_w_per_m2, wind);
    }
    return 0.0;
}

}  // namespace plait::physics
