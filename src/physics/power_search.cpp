#include "power_search.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace plait::physics {
namespace {

constexpr int most_halvings = 60;
constexpr int most_steps = 100;
constexpr double last_step = 1e-5;  // of the length over which the curve bends: the error left is of its square
constexpr double least_conductance_s = 1e-90;
// Nothing better than the best by more than rounding.
constexpr double equal_power_ratio = 1e-13;

}  // namespace

PowerSearch::PowerSearch(const ArrayCurve& array, double low_v, double high_v)
    : array_(array), low_v_(low_v), high_v_(high_v), stride_(array.parts().size()) {
    for (const ArrayCurve::Branch& branch : array.branches()) most_a_ += branch.count * strongest_a(branch);
    points_.reserve(stride_ * (stride_ + 6));
}

std::size_t PowerSearch::room() {
    const std::size_t first = points_.size();
    points_.resize(first + stride_);
    return first;
}

void PowerSearch::complete(Node& node, double joint_v) const {
    const double drop_v = array_.trunk_ohm() * node.current_a;
    node.joint_v = joint_v;
    node.voltage_v = joint_v - drop_v;
    node.lever_v = joint_v - 2.0 * drop_v;
    node.conductance = conductance_at_joint(array_, std::span(points_).subspan(node.first, stride_));
}

void PowerSearch::solve_at_joint(Node& node, double joint_v) {
    node.current_a = array_.solve_at_joint(joint_v, states(node.first), false);
    complete(node, joint_v);
}

void PowerSearch::solve_at_terminals(Node& node, double voltage_v) {
    node.current_a = array_.solve(voltage_v, states(node.first), false);
    complete(node, voltage_v + array_.trunk_ohm() * node.current_a);
    node.voltage_v = voltage_v;
}

PowerSearch::Node PowerSearch::node_between(const Node& a, const Node& b, double joint_v, std::size_t first) {
    Node node;
    node.first = first;
    const double share = (joint_v - a.joint_v) / (b.joint_v - a.joint_v);
    const std::span<GroupPoint> own = states(first);
    const std::span<const GroupPoint> from_a = states(a.first);
    const std::span<const GroupPoint> from_b = states(b.first);
    for (std::size_t i = 0; i < stride_; ++i) {
        own[i] = array_.parts()[i].curve.at_junction(from_a[i].junction_v +
                                                     share * (from_b[i].junction_v - from_a[i].junction_v));
    }
    solve_at_joint(node, joint_v);
    return node;
}

namespace {

/// The least and the greatest of x·y, x and y each between their bounds.
template <class B>
B product(const B& x, const B& y) {
    const double corners[]{x.low * y.low, x.low * y.high, x.high * y.low, x.high * y.high};
    return {*std::min_element(corners, corners + 4), *std::max_element(corners, corners + 4)};
}

}  // namespace

PowerSearch::Slopes PowerSearch::slopes(const Node& a, const Node& b) const {
    Bounds s;
    Bounds per_v;
    for (const ArrayCurve::Branch& branch : array_.branches()) {
        Bounds ohm;
        Bounds ohm_per_a;
        for (std::size_t i = branch.first; i < branch.first + branch.size; ++i) {
            const SeriesPart& part = array_.parts()[i];
            // A group that faces backward rises where the others fall: its own interval runs from b to a.
            const bool backward = part.curve.faces_backward();
            const GroupPoint& pa = points_[(backward ? b : a).first + i];
            const GroupPoint& pb = points_[(backward ? a : b).first + i];
            Bounds g;
            Bounds own;
            if (part.curve.part_shade() != nullptr) {
                const BendingBounds shade = part.curve.shade_bounds(pa, pb);
                g = {std::max(shade.low.s, least_conductance_s), std::max(shade.high.s, least_conductance_s)};
                own = {shade.low.s_per_v, shade.high.s_per_v};
            } else {
                const double bend_v = part.curve.cells().ideality_v;
                const double bypass_bend_v = part.curve.bypass().slope_v;
                const double wa = part.curve.voltage_per_junction(pa);
                const double wb = part.curve.voltage_per_junction(pb);
                // The cells' terms rise with V, the bypass diode's fall.
                g = {std::max(pa.cells_s + pb.bypass_s, least_conductance_s),
                     std::max(pb.cells_s + pa.bypass_s, least_conductance_s)};
                own = {pa.junction_s / (bend_v * wb * wb * wb) - pa.bypass_s / bypass_bend_v,
                       pb.junction_s / (bend_v * wa * wa * wa) - pb.bypass_s / bypass_bend_v};
            }
            const Bounds slope = backward ? Bounds{-own.high, -own.low} : own;
            const Bounds r{1.0 / g.high, 1.0 / g.low};
            const Bounds cube{r.low * r.low * r.low, r.high * r.high * r.high};
            ohm.low += part.count * r.low;
            ohm.high += part.count * r.high;
            ohm_per_a.low += part.count * slope.low * (slope.low >= 0.0 ? cube.low : cube.high);
            ohm_per_a.high += part.count * slope.high * (slope.high >= 0.0 ? cube.high : cube.low);
        }
        const Bounds g{1.0 / ohm.high, 1.0 / ohm.low};
        const Bounds cube{g.low * g.low * g.low, g.high * g.high * g.high};
        s.low += branch.count * g.low;
        s.high += branch.count * g.high;
        per_v.low += branch.count * ohm_per_a.low * (ohm_per_a.low >= 0.0 ? cube.low : cube.high);
        per_v.high += branch.count * ohm_per_a.high * (ohm_per_a.high >= 0.0 ? cube.high : cube.low);
    }
    // S rises and falls, but I only falls with U and W only rises.
    const double ohm = array_.trunk_ohm();
    const Bounds lever{a.lever_v, b.lever_v};
    const Bounds pull = product(lever, s);
    const Bounds bend = product(lever, per_v);
    Slopes bounds;
    bounds.second = {-2.0 * s.high - bend.high - 2.0 * ohm * s.high * s.high,
                     -2.0 * s.low - bend.low - 2.0 * ohm * s.low * s.low};
    bounds.first = {b.current_a - pull.high, a.current_a - pull.low};
    // The second derivative tells how far the first can get from its values at the ends; on short pieces that is less.
    const double width_v = b.joint_v - a.joint_v;
    const double fall = std::min(bounds.second.low, 0.0) * width_v;
    const double rise = std::max(bounds.second.high, 0.0) * width_v;
    bounds.first.low = std::max({bounds.first.low, a.power_per_v() + fall, b.power_per_v() - rise});
    bounds.first.high = std::min({bounds.first.high, a.power_per_v() + rise, b.power_per_v() - fall});
    return bounds;
}

bool PowerSearch::hopeless(double bound_w) const {
    return only_best_ && bound_w <= best_.power_w() * (1.0 + equal_power_ratio);
}

void PowerSearch::refine(const Node& a, const Node& b, int depth) {
    if (hopeless(b.voltage_v * a.current_a)) return;
    const Slopes bounds = slopes(a, b);
    if (bounds.first.low > 0.0 || bounds.first.high < 0.0) return;
    const double most_w = crest_w(a, b, bounds.first);
    if (hopeless(most_w)) return;
    const bool rises_at_a = a.power_per_v() >= 0.0;
    const bool rises_at_b = b.power_per_v() >= 0.0;
    const bool bends_one_way = bounds.second.low >= 0.0 || bounds.second.high <= 0.0;
    const double hidden_w = most_w - std::max(a.power_w(), b.power_w());
    // Written so that what is not a number hides nothing: halving would not make it one.
    if (bends_one_way || !(hidden_w > floor_w_) || depth == most_halvings) {
        if (rises_at_a != rises_at_b && !(only_best_ && rises_at_b)) found(root(a, b), rises_at_a);
        return;
    }
    const auto level = static_cast<std::size_t>(depth);
    if (rooms_.size() <= level) rooms_.push_back(room());
    const Node middle = node_between(a, b, 0.5 * (a.joint_v + b.joint_v), rooms_[level]);
    if (only_best_ && middle.power_w() > best_.power_w()) best_ = {middle.voltage_v, middle.current_a};
    refine(a, middle, depth + 1);
    refine(middle, b, depth + 1);
}

/// A guess: one exponential of the current through both nodes, behind one resistance. With u = V + R·I, D = Ia − Ib and
/// E = D·exp((u − ub)/a), I = Ia − E; dP/du = 0 where a·I/E + 2·R·I = u.
double PowerSearch::likely_maximum_v(const Node& a, const Node& b) const {
    double bend_v = 0.0;
    double strings_ohm = 0.0;
    for (const ArrayCurve::Branch& branch : array_.branches()) {
        for (std::size_t i = branch.first; i < branch.first + branch.size; ++i) {
            const SeriesPart& part = array_.parts()[i];
            if (part.curve.is_wire()) strings_ohm += branch.count / part.curve.cells().shunt_conductance_s;
            if (points_[a.first + i].voltage_v < 0.0) continue;  // bypassed
            bend_v += branch.count * part.count * part.curve.cells().ideality_v;
            strings_ohm += branch.count * part.count * part.curve.cells().series_resistance_ohm;
        }
    }
    double strings = 0.0;
    for (const ArrayCurve::Branch& branch : array_.branches()) strings += branch.count;
    bend_v /= strings;
    strings_ohm /= strings * strings;
    const double ohm = strings_ohm + array_.trunk_ohm();
    const double end_v = b.joint_v + strings_ohm * b.current_a;
    double v = 0.8 * end_v;
    double current_a = 0.94 * a.current_a;
    for (int round = 0; round < 2; ++round) {
        const double share = 1.0 / (1.0 + (v - 2.0 * ohm * current_a) / bend_v);  // E/Ia
        v = end_v + bend_v * std::log(share * a.current_a / (a.current_a - b.current_a));
        current_a = a.current_a * (1.0 - share);
    }
    return v - strings_ohm * current_a;
}

/// The place where dP/dU = 0 between two nodes of different sign, by Newton on ln(W·S/I): nearly straight where the
/// conductance is an exponential, which dP/dU itself is not.
PowerPoint PowerSearch::root(const Node& a, const Node& b) {
    const double trunk_ohm = array_.trunk_ohm();
    const bool rises_at_a = a.power_per_v() >= 0.0;
    double low = a.joint_v;
    double high = b.joint_v;
    double u = rises_at_a ? likely_maximum_v(a, b) : 0.5 * (low + high);
    if (!(u > low && u < high)) u = 0.5 * (low + high);
    if (!root_room_) root_room_ = room();
    Node node = node_between(a, b, u, *root_room_);
    double last_change = high - low;
    for (int step = 0; step < most_steps; ++step) {
        const double i = node.current_a;
        const Conductance g = node.conductance;
        ((node.power_per_v() >= 0.0) == rises_at_a ? low : high) = u;
        const bool has_logarithm = i > 0.0 && node.lever_v > 0.0;
        const double logarithm = has_logarithm ? std::log(node.lever_v * g.s / i) : 1.0;
        double next = low;
        if (has_logarithm) {
            next = u - logarithm / ((1.0 + 2.0 * trunk_ohm * g.s) / node.lever_v + g.per_v / g.s + g.s / i);
        }
        // Across a knee Newton's steps may go to and fro for ever inside the bracket: where one is not much shorter than
        // the one before, halve.
        const double step_v = next - u;
        const bool near = std::abs(logarithm) <= last_step && std::abs(step_v * g.per_v) <= last_step * g.s;
        const bool slow = !near && std::abs(step_v) > 0.5 * std::abs(last_change);
        if (slow || !(next > low && next < high)) next = 0.5 * (low + high);
        const double change = next - u;
        last_change = change;
        if (near || !(low < high)) {
            const double next_a = i - change * (g.s + 0.5 * change * g.per_v);
            return {next - trunk_ohm * next_a, next_a};
        }
        u = next;
        solve_at_joint(node, u);
    }
    return {node.voltage_v, node.current_a};
}

std::vector<PowerExtreme> PowerSearch::extremes() {
    const std::vector<Cut> ends = cuts();
    floor_w_ = least_prominence_ratio * most_a_ * ends.back().voltage_v;
    Node a = node_at(low_end());
    if (a.power_per_v() < 0.0) extremes_.push_back({{a.voltage_v, a.current_a}, true, true});
    for (const Cut& end : ends) {
        if (!(end.voltage_v > a.voltage_v)) continue;
        const Node b = node_at(end);
        if (!(b.voltage_v > a.voltage_v)) continue;  // behind the trunk a cut may lie below the range
        refine(a, b, 0);
        a = b;
    }
    if (a.power_per_v() >= 0.0) extremes_.push_back({{a.voltage_v, a.current_a}, true, true});
    return std::move(extremes_);
}

PowerPoint PowerSearch::maximum() {
    only_best_ = true;
    const std::vector<Cut> ends = cuts();
    const std::vector<double> bounds = bounds_w(ends);
    floor_w_ = equal_power_ratio * most_a_ * ends.back().voltage_v;
    // The most promising piece first: what it yields rules others out.
    std::vector<std::size_t> order(ends.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) { return bounds[i] > bounds[j]; });
    std::vector<std::optional<Node>> nodes(ends.size() + 1);
    const auto node = [&](std::size_t i) -> const Node& {  // 0: the range's low end
        if (!nodes[i]) {
            nodes[i] = i == 0 ? node_at(low_end()) : node_at(ends[i - 1]);
            if (nodes[i]->voltage_v >= low_v_ && nodes[i]->power_w() > best_.power_w())
                best_ = {nodes[i]->voltage_v, nodes[i]->current_a};
        }
        return *nodes[i];
    };
    for (const std::size_t i : order) {
        if (hopeless(bounds[i])) break;
        const Node& b = node(i + 1);
        const Node& a = node(i).voltage_v < low_v_ ? node(0) : node(i);
        if (b.voltage_v > a.voltage_v) refine(a, b, 0);
    }
    return best_;
}

void PowerSearch::found(PowerPoint point, bool maximum) {
    if (only_best_) {
        if (point.power_w() > best_.power_w()) best_ = point;
    } else {
        extremes_.push_back({point, maximum, false});
    }
}

}  // namespace plait::physics
