#include <plait/physics/nmot_check.hpp>

#include <cmath>

namespace plait::physics {
namespace {

constexpr double nmot_irradiance_w_per_m2 = 800.0;
constexpr double most_pmax_ratio = 0.04;
constexpr double most_other_ratio = 0.03;

}  // namespace

bool NmotResiduals::contradicts() const {
    const auto off = [](const std::optional<double>& residual, double most) {
        return residual && !(std::abs(*residual) <= most);
    };
    return off(pmax_ratio, most_pmax_ratio) || off(vmp_ratio, most_other_ratio) || off(imp_ratio, most_other_ratio) ||
           off(voc_ratio, most_other_ratio) || off(isc_ratio, most_other_ratio);
}

std::optional<NmotResiduals> nmot_residuals(const Panel& panel, const FittedPanel& fitted) {
    if (!panel.nmot_point) return std::nullopt;
    const DiodeCurve curve = fitted.model.at({nmot_irradiance_w_per_m2, panel.nominal_temperature});
    const PowerPoint best = curve.maximum_power();
    const auto over = [](double curve_value, const std::optional<double>& printed) {
        return printed ? std::optional(curve_value / *printed - 1.0) : std::nullopt;
    };
    const NmotPoint& point = *panel.nmot_point;
    return NmotResiduals{over(best.power_w(), point.pmax_w), over(best.voltage_v, point.vmp_v),
                         over(best.current_a, point.imp_a), over(curve.open_circuit_v(), point.voc_v),
                         over(curve.short_circuit_a(), point.isc_a)};
}

}  // namespace plait::physics
