#include <plait/physics/operating_point.hpp>

#include <plait/physics/power_extremes.hpp>

#include "window_search.hpp"

#include <vector>

namespace plait::physics {

OperatingPoint operating_point(const DiodeCurve& curve, const AcceptanceWindow& window) {
    return operating_point(curve, curve.maximum_power(), window);
}

OperatingPoint operating_point(const DiodeCurve& curve, PowerPoint free, const AcceptanceWindow& window) {
    return WindowSearch<DiodeCurve>(curve, std::span(&free, 1), free, window).run();
}

OperatingPoint operating_point(const ArrayCurve& curve, const AcceptanceWindow& window) {
    // The maximum alone is found faster than all extremes, and most windows allow it.
    const PowerPoint free = curve.maximum_power();
    if (!(free.power_w() > 0.0)) return {};
    std::vector<PowerPoint> extremes;
    if (!allows(window, free)) {
        for (const PowerExtreme& e : power_extremes(curve).points) extremes.push_back(e.point);
    }
    return WindowSearch<ArrayCurve>(curve, extremes, free, window).run();
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
