#include <plait/physics/acceptance_window.hpp>

#include <algorithm>

namespace plait::physics {

double AcceptanceWindow::current_limit_a(double voltage_v) const {
    if (!(voltage_v >= low_v && voltage_v <= high_v)) return 0.0;
    if (bands.empty()) return std::numeric_limits<double>::infinity();
    double limit_a = 0.0;
    for (const CurrentBand& band : bands) {
        if (voltage_v >= band.from_v && voltage_v <= band.to_v) limit_a = std::max(limit_a, band.limit_a);
    }
    return limit_a;
}

std::optional<double> charging_power_limit_w(const Controller& controller) {
    if (!controller.battery || !controller.battery->max_charge_current_a) return std::nullopt;
    return *controller.battery->max_charge_current_a * controller.battery->nominal_voltage_v / controller.efficiency_ratio;
}

std::optional<double> pinned_voltage_v(const Controller& controller) {
    if (controller.type != ControllerType::direct_connect || !controller.battery) return std::nullopt;
    return controller.battery->nominal_voltage_v + controller.direct_connect_drop_v;
}

AcceptanceWindow window_of(const Controller& controller, const Input& input) {
    AcceptanceWindow window;
    window.low_v = input.tracking_min_v.value_or(0.0);
    window.high_v = input.tracking_max_v.value_or(input.max_voltage_v.value_or(window.high_v));
    window.bands = input.bands;
    window.power_w = std::min(input.max_power_w.value_or(window.power_w),
                              charging_power_limit_w(controller).value_or(window.power_w));
    if (controller.battery && controller.type == ControllerType::step_down) {
        window.low_v = std::max(window.low_v, controller.battery->max_voltage_v + controller.running_headroom_v);
    }
    if (controller.battery && controller.type == ControllerType::step_up) {
        window.high_v = std::min(window.high_v, controller.battery->min_voltage_v);
    }
    return window;
}

}  // namespace plait::physics
