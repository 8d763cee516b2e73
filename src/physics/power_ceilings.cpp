#include <plait/physics/power_ceilings.hpp>

#include "power_search.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

// A node's current is good to about 1e-13; a bound must not be short by that.
constexpr double room_for_rounding = 1e-11;

}  // namespace

double PowerSearch::crest_w(const Node& a, const Node& b, const Bounds& slope) {
    const double width_v = b.joint_v - a.joint_v;
    if (slope.high <= 0.0) return a.power_w();
    if (slope.low >= 0.0) return b.power_w();
    const double up = slope.high;
    const double down = -slope.low;
    return (a.power_w() * down + b.power_w() * up + up * down * width_v) / (up + down);
}

void PowerSearch::ceilings(std::span<const double> nodes_v, std::span<double> current_a, std::span<double> ceiling_w) {
    Node a = node_at({nodes_v.front(), nullptr, 0.0, room()});
    current_a[0] = a.current_a;
    Node b;
    b.first = room();
    for (std::size_t i = 1; i < nodes_v.size(); ++i) {
        const std::span<GroupPoint> from = states(a.first);
        std::copy(from.begin(), from.end(), states(b.first).begin());
        solve_at_terminals(b, nodes_v[i]);
        current_a[i] = b.current_a;
        const double most_w = crest_w(a, b, slopes(a, b).first);
        // Power in the piece in numbers no larger than this; what is not a number bounds nothing.
        const double simple_w = std::max(a.current_a * b.voltage_v, a.current_a * a.voltage_v);
        ceiling_w[i - 1] = std::isfinite(most_w) ? std::min(most_w, simple_w) : simple_w;
        ceiling_w[i - 1] += room_for_rounding * std::abs(a.current_a) * b.voltage_v;
        std::swap(a, b);
    }
}

void power_ceilings(const ArrayCurve& array, std::span<const double> nodes_v, std::span<double> current_a,
                    std::span<double> ceiling_w) {
    PowerSearch(array, nodes_v.front(), nodes_v.back()).ceilings(nodes_v, current_a, ceiling_w);
}

}  // namespace plait::physics
