// The search behind power_extremes.hpp. Private to the physics layer.
//
// It goes by the voltage U at the joint of the strings, which rises with that at the terminals: V = U − R·I behind a
// trunk of resistance R. No node then needs a second equation solved, and nothing is divided by 1 + R·S:
//
//     P = (U − R·I)·I     dP/dU = I − S·W     d²P/dU² = −2·S − S'·W − 2·R·S²     with W = U − 2·R·I
#pragma once

#include <plait/physics/power_extremes.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace plait::physics {

class PowerSearch {
public:
    /// 0 ≤ low_v ≤ high_v.
    PowerSearch(const ArrayCurve& array, double low_v, double high_v);

    /// Everything, by rising voltage.
    [[nodiscard]] std::vector<PowerExtreme> extremes();
    /// Only the global maximum: pieces that cannot reach the best found so far are not looked into.
    [[nodiscard]] PowerPoint maximum();
    /// As power_ceilings.hpp says.
    void ceilings(std::span<const double> nodes_v, std::span<double> current_a, std::span<double> ceiling_w);

private:
    /// A solved voltage. Its groups' states lie in `points_` from `first` on.
    struct Node {
        double joint_v = 0.0;
        double voltage_v = 0.0;  ///< at the terminals
        double current_a = 0.0;
        double lever_v = 0.0;     ///< W
        Conductance conductance;  ///< at the joint
        std::size_t first = 0;

        [[nodiscard]] double power_w() const { return voltage_v * current_a; }
        /// By the joint's volts.
        [[nodiscard]] double power_per_v() const { return current_a - lever_v * conductance.s; }
    };
    /// A voltage worth solving: a range's end, the array's open circuit, or where a bypass diode has just ceased to
    /// conduct and its string's curve is concave from there on.
    struct Cut {
        double voltage_v = 0.0;  ///< at the joint of the strings; of a range's end at the terminals
        const ArrayCurve::Branch* branch = nullptr;  ///< none: a range's end or open circuit
        double string_a = 0.0;                       ///< the current of that branch's strings
        std::size_t first = 0;                       ///< where the branch's states are
    };
    struct Bounds {
        double low = 0.0;
        double high = 0.0;
    };
    struct Slopes {
        Bounds first;   ///< dP/dU
        Bounds second;  ///< d²P/dU²
    };

    std::span<GroupPoint> states(std::size_t first) { return std::span(points_).subspan(first, stride_); }
    std::size_t room();
    /// The rest of a node whose groups are solved and whose current is known.
    void complete(Node& node, double joint_v) const;
    /// Both start from the groups' states that are there.
    void solve_at_joint(Node& node, double joint_v);
    void solve_at_terminals(Node& node, double voltage_v);
    double strongest_a(const ArrayCurve::Branch& branch) const;
    Cut low_end();
    Node node_between(const Node& a, const Node& b, double joint_v, std::size_t first);
    std::vector<Cut> cuts();
    std::vector<double> bounds_w(const std::vector<Cut>& cuts) const;
    Node node_at(const Cut& cut);
    Slopes slopes(const Node& a, const Node& b) const;
    /// What the power between two nodes does not exceed, from the bounds of dP/dU there.
    static double crest_w(const Node& a, const Node& b, const Bounds& slope);
    void refine(const Node& a, const Node& b, int depth);
    double likely_maximum_v(const Node& a, const Node& b) const;  ///< at the joint
    PowerPoint root(const Node& a, const Node& b);
    void found(PowerPoint point, bool maximum);
    bool hopeless(double bound_w) const;

    const ArrayCurve& array_;
    double low_v_;
    double high_v_;
    std::size_t stride_;
    std::vector<GroupPoint> points_;
    std::vector<std::size_t> rooms_;  ///< for the nodes of each depth of halving
    std::optional<std::size_t> root_room_;
    double most_a_ = 0.0;   ///< the current nowhere exceeds this for V ≥ 0
    double floor_w_ = 0.0;  ///< what hides below this may stay hidden
    bool only_best_ = false;
    PowerPoint best_;
    std::vector<PowerExtreme> extremes_;
};

}  // namespace plait::physics
