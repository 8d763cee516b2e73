#include "power_search.hpp"

#include <plait/physics/power_extremes.hpp>

#include <algorithm>
#include <limits>
#include <optional>

namespace plait::physics {
namespace {

/// The only maximum, where all groups are equal: no search.
std::optional<PowerPoint> maximum_of_equals(const ArrayCurve& array) {
    if (array.parts().empty()) return PowerPoint{};
    if (array.parts().size() != 1 || array.trunk_ohm() > 0.0) return std::nullopt;
    const SeriesPart& part = array.parts().front();
    const std::optional<PowerPoint> one = part.curve.only_maximum();
    if (!one) return std::nullopt;
    return PowerPoint{one->voltage_v * part.count, one->current_a * array.branches().front().count};
}

}  // namespace

const PowerExtreme& PowerExtremes::best() const {
    const PowerExtreme* best = &points.back();
    for (const PowerExtreme& p : points) {
        if (p.maximum && p.point.power_w() > best->point.power_w()) best = &p;
    }
    return *best;
}

PowerExtremes power_extremes(const ArrayCurve& array, double low_v, double high_v) {
    if (const std::optional<PowerPoint> only = maximum_of_equals(array)) {
        const double v = std::max(low_v, std::min(only->voltage_v, high_v));
        const bool inside = v == only->voltage_v;
        return {{{inside ? *only : PowerPoint{v, array.current_a(v)}, true, !inside}}};
    }
    PowerExtremes found{PowerSearch(array, low_v, high_v).extremes()};
    // Nothing rises above an end: in the dark, or a range of no width.
    if (found.points.empty()) found.points.push_back({{low_v, array.current_a(low_v)}, true, true});
    return found;
}

PowerExtremes power_extremes(const ArrayCurve& array) {
    return power_extremes(array, 0.0, std::numeric_limits<double>::infinity());
}

PowerPoint ArrayCurve::maximum_power() const {
    if (const std::optional<PowerPoint> only = maximum_of_equals(*this)) return *only;
    return PowerSearch(*this, 0.0, std::numeric_limits<double>::infinity()).maximum();
}

PowerPoint ArrayCurve::maximum_power(double low_v, double high_v) const {
    if (maximum_of_equals(*this)) return power_extremes(*this, low_v, high_v).points.front().point;
    return PowerSearch(*this, low_v, high_v).maximum();
}

}  // namespace plait::physics
