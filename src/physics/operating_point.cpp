#include <plait/physics/operating_point.hpp>

#include <plait/physics/power_extremes.hpp>

#include "window_search.hpp"

#include <array>
#include <vector>

namespace plait::physics {

OperatingPoint operating_point(const DiodeCurve& curve, const AcceptanceWindow& window) {
    const PowerPoint free = curve.maximum_power();
    const std::array extremes_v{free.voltage_v};
    return WindowSearch<DiodeCurve>(curve, extremes_v, free, window).run();
}

OperatingPoint operating_point(const ArrayCurve& curve, const AcceptanceWindow& window) {
    if (!(curve.short_circuit_a() > 0.0)) return {};
    const PowerExtremes extremes = power_extremes(curve);
    std::vector<double> extremes_v;
    for (const PowerExtreme& e : extremes.points) extremes_v.push_back(e.point.voltage_v);
    return WindowSearch<ArrayCurve>(curve, extremes_v, extremes.best().point, window).run();
}

namespace {

template <class Curve>
OperatingPoint pinned(const Curve& curve, double voltage_v) {
    OperatingPoint found;
    found.free_maximum = curve.maximum_power();
    found.hand_rule_w = found.free_maximum.power_w();
    const PowerPoint p{voltage_v, curve.current_a(voltage_v)};
    if (!(found.free_maximum.power_w() > 0.0)) return found;
    if (!(p.current_a > 0.0)) {
        found.none = NoPoint::too_low;
        return found;
    }
    found.none = NoPoint::held;
    found.point = p;
    found.binding = Binding::pinned;
    found.binding_limit = voltage_v;
    return found;
}

}  // namespace

OperatingPoint pinned_point(const DiodeCurve& curve, double voltage_v) { return pinned(curve, voltage_v); }
OperatingPoint pinned_point(const ArrayCurve& curve, double voltage_v) { return pinned(curve, voltage_v); }

}  // namespace plait::physics
