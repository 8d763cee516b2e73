// Where the search of power_extremes.hpp begins: the voltages worth solving first, and what the pieces between them can
// give at most.
#include "power_search.hpp"

#include <algorithm>

namespace plait::physics {

/// At V ≥ 0 some group of a string has a voltage ≥ 0, and so no more than its short-circuit current.
double PowerSearch::strongest_a(const ArrayCurve::Branch& branch) const {
    double strongest = 0.0;
    for (const SeriesPart& part : array_.parts_of(branch))
        strongest = std::max(strongest, part.curve.short_circuit_a());
    return strongest;
}

PowerSearch::Cut PowerSearch::low_end() { return {low_v_, nullptr, 0.0, room()}; }

/// By rising voltage; the range's low end is not among them.
std::vector<PowerSearch::Cut> PowerSearch::cuts() {
    std::vector<Cut> found;
    found.reserve(stride_ + 1);
    // Above its open-circuit voltage the array only consumes, and its power only falls. A string's own may lie far above
    // that of the array, where the others would take currents without end.
    Cut top{array_.open_circuit_v(), nullptr, 0.0, room()};
    const double end_v = std::min(high_v_, top.voltage_v);
    for (const ArrayCurve::Branch& branch : array_.branches()) {
        const std::span<const SeriesPart> parts = array_.parts_of(branch);
        for (std::size_t own = 0; own < parts.size(); ++own) {
            const GroupCurve& curve = parts[own].curve;
            if (!curve.bypass().present() || !(curve.cells().light_current_a > 0.0)) continue;
            const GroupPoint off = curve.at_voltage(curve.bypass_off_v());
            if (!(off.current_a > 0.0)) continue;
            const std::size_t at = room();
            const std::span<GroupPoint> points = states(at).subspan(branch.first, branch.size);
            double v = parts[own].count * off.voltage_v;
            for (std::size_t i = 0; i < parts.size(); ++i) {
                points[i] = i == own ? off : parts[i].curve.at_current(off.current_a);
                if (i != own) v += parts[i].count * points[i].voltage_v;
            }
            if (v > low_v_ && v < end_v) found.push_back({v, &branch, off.current_a, at});
        }
    }
    if (top.voltage_v > high_v_) {
        found.push_back({high_v_, nullptr, 0.0, room()});
    } else if (top.voltage_v > low_v_) {
        found.push_back(top);
    } else {
        found.push_back({low_v_, nullptr, 0.0, room()});  // above open circuit, or in the dark
    }
    std::sort(found.begin(), found.end(), [](const Cut& a, const Cut& b) { return a.voltage_v < b.voltage_v; });
    return found;
}

/// For each piece, from the cut before (or the range's low end) to its own cut, a power that is not exceeded there: its
/// highest voltage times the highest currents of its strings. Without solving anything.
std::vector<double> PowerSearch::bounds_w(const std::vector<Cut>& cuts) const {
    std::vector<double> string_a;
    for (const ArrayCurve::Branch& branch : array_.branches()) string_a.push_back(strongest_a(branch));
    double current_a = most_a_;
    std::vector<double> bounds;
    for (const Cut& cut : cuts) {
        bounds.push_back(cut.voltage_v * current_a);
        if (!cut.branch) continue;
        double& known_a = string_a[static_cast<std::size_t>(cut.branch - array_.branches().data())];
        current_a += cut.branch->count * (cut.string_a - known_a);
        known_a = cut.string_a;
    }
    return bounds;
}

PowerSearch::Node PowerSearch::node_at(const Cut& cut) {
    Node node;
    node.first = cut.first;
    if (!cut.branch) {
        node.current_a = array_.solve(cut.voltage_v, states(cut.first), true);
        complete(node, cut.voltage_v + array_.trunk_ohm() * node.current_a);
        node.voltage_v = cut.voltage_v;
        return node;
    }
    for (const ArrayCurve::Branch& branch : array_.branches()) {
        const std::span<GroupPoint> own = states(cut.first).subspan(branch.first, branch.size);
        const double string_a =
            &branch == cut.branch ? cut.string_a : current_from_scratch(array_.parts_of(branch), cut.voltage_v, own);
        node.current_a += branch.count * string_a;
    }
    complete(node, cut.voltage_v);
    return node;
}

}  // namespace plait::physics
