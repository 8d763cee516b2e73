#include "point_buffer.hpp"
#include "root.hpp"

#include <plait/physics/reverse_current.hpp>

#include <algorithm>
#include <optional>

namespace plait::physics {
namespace {

constexpr double voltage_width_v = 1e-7;  // currents to about 1e-6 of their own

double branch_current_a(const ArrayCurve& array, std::size_t branch, double voltage_v, std::span<GroupPoint> points) {
    const ArrayCurve::Branch& b = array.branches()[branch];
    return current_from_scratch(array.parts_of(b), voltage_v, points.subspan(b.first, b.size));
}

/// The current back through `string` when it is weaker (`sign` +1) or stronger (−1) than stated and the others the
/// other way round.
double driven_back_a(const ArrayCurve& array, std::size_t string, std::span<const StringTolerance> tolerances,
                     double sign, std::span<GroupPoint> points) {
    struct Shifted {
        std::size_t branch = 0;
        double stretch = 1.0;
        double added_a = 0.0;
    };
    std::vector<Shifted> strings;
    std::size_t own = 0;
    double top_v = 0.0;
    for (std::size_t s = 0; s < array.string_count(); ++s) {
        const std::optional<std::size_t> branch = array.branch_of(s);
        if (!branch) continue;
        const double way = s == string ? -sign : sign;
        if (s == string) own = strings.size();
        const double stretch = 1.0 + way * tolerances[s].voltage_ratio;
        const double added_a = way * tolerances[s].current_ratio * branch_current_a(array, *branch, 0.0, points);
        strings.push_back({*branch, stretch, added_a});
        const ArrayCurve::Branch& b = array.branches()[*branch];
        const double open_v =
            voltage_at_current(array.parts_of(b), -std::abs(added_a), points.subspan(b.first, b.size));
        top_v = std::max(top_v, stretch * open_v);
    }
    const auto current_a = [&](const Shifted& s, double v) {
        return branch_current_a(array, s.branch, v / s.stretch, points) + s.added_a;
    };
    const auto sum_a = [&](double v) {
        double sum = 0.0;
        for (const Shifted& s : strings) sum += current_a(s, v);
        return sum;
    };
    const std::optional<double> open_v = crossing(sum_a, 0.0, top_v, voltage_width_v);
    return open_v ? std::max(0.0, -current_a(strings[own], *open_v)) : 0.0;
}

}  // namespace

std::vector<double> string_currents_a(const ArrayCurve& array, double voltage_v) {
    PointBuffer buffer(array.parts().size());
    array.solve(voltage_v, buffer.all(), true);
    std::vector<double> currents;
    for (std::size_t s = 0; s < array.string_count(); ++s) {
        const std::optional<std::size_t> branch = array.branch_of(s);
        currents.push_back(branch ? buffer.all()[array.branches()[*branch].first].current_a : 0.0);
    }
    return currents;
}

Interval reverse_spread_a(const ArrayCurve& array, std::size_t string, std::span<const StringTolerance> tolerances) {
    PointBuffer buffer(array.parts().size());
    const double least_a = driven_back_a(array, string, tolerances, -1.0, buffer.all());
    const double most_a = driven_back_a(array, string, tolerances, 1.0, buffer.all());
    return {std::min(least_a, most_a), std::max(least_a, most_a)};
}

}  // namespace plait::physics
