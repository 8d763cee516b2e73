// The curve of one input's wiring: groups in series make a string, strings in parallel the array. Unlike panels, shade,
// bypass and blocking diodes included; exact, no tables. Equal groups of a string and equal strings are kept once, with
// a count, so that equal panels cost what one panel costs.
#pragma once

#include <plait/model/wiring.hpp>
#include <plait/physics/diode_model.hpp>
#include <plait/physics/series_string.hpp>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace plait::physics {

/// What a panel kind is to the physics.
struct PanelPhysics {
    DiodeModel model;
    int bypass_diodes = 0;  ///< 0: the cells are one group without a diode
    int cells_in_series = 0;  ///< counted for voltage; 0: not known, and no group can be shaded in part
    bool half_cut = false;    ///< each group is two rows of half cells side by side

    [[nodiscard]] std::size_t group_count() const { return bypass_diodes > 1 ? std::size_t(bypass_diodes) : 1; }
    /// The cells, or half cells, of one row of a group.
    [[nodiscard]] double row_cells_count() const { return cells_in_series / static_cast<double>(group_count()); }
    [[nodiscard]] int rows_count() const { return half_cut ? 2 : 1; }
};

/// The state as the physics knows it: where all cells of a group get the same light, or no cells are shaded, there is
/// nothing in part.
[[nodiscard]] GroupState plain_state(const PanelPhysics& panel, GroupState state);

/// One bypass group of a panel: an equal share of its cells, at the group's own light and temperature, with its diode
/// (rated for the panel's Isc) at that temperature. Where the diode is off (some 1 V and more), groups of a panel in
/// equal light add up to `DiodeModel::at` exactly.
[[nodiscard]] GroupCurve group_curve(const PanelPhysics& panel, Condition condition, GroupState state);

/// The element a blocking diode adds to a string: rated for the largest Isc in it, at the array's cell temperature.
[[nodiscard]] GroupCurve blocking_curve(const SeriesString& string, std::span<const PanelPhysics> kinds,
                                        Condition condition);

/// Resistance of the wires, there and back.
struct WireResistance {
    std::vector<double> string_ohm;  ///< of each string up to the joint, by its place in the wiring; empty: none
    double trunk_ohm = 0.0;          ///< from the joint on
};

/// With wires, every voltage of the array is that at their far end; `solve` finds the one at the joint.
class ArrayCurve {
public:
    /// Equal strings, kept once. `parts` of the array from `first` on.
    struct Branch {
        std::size_t first = 0;
        std::size_t size = 0;
        double count = 0.0;
    };

    /// Every `kind` in the wiring indexes `kinds`; a place's `groups` are empty or one for each bypass group. Strings
    /// without panels count as not there.
    ArrayCurve(const InputWiring& wiring, std::span<const PanelPhysics> kinds, Condition condition,
               const WireResistance& wires = {});

    /// I at a terminal voltage, falling in V.
    [[nodiscard]] double current_a(double voltage_v) const;
    /// V at a current, falling in I.
    [[nodiscard]] double voltage_v(double current_a) const;
    [[nodiscard]] double open_circuit_v() const { return voltage_v(0.0); }
    [[nodiscard]] double short_circuit_a() const { return current_a(0.0); }
    /// dI/dV at a terminal voltage, ≤ 0.
    [[nodiscard]] double slope_s(double voltage_v) const;
    /// The point between two others, `left` at the lower voltage, at which V·I is `power_w`; the power must be monotone
    /// there and pass it.
    [[nodiscard]] PowerPoint power_crossing(double power_w, PowerPoint left, PowerPoint right) const;

    /// The global maximum of V·I for V ≥ 0, good to about 1e-12 and proven: see power_extremes.hpp. Zero in the dark.
    [[nodiscard]] PowerPoint maximum_power() const;
    /// The same over low_v ≤ V ≤ high_v, 0 ≤ low_v; the ends count.
    [[nodiscard]] PowerPoint maximum_power(double low_v, double high_v) const;

    /// One string of these parts.
    [[nodiscard]] static ArrayCurve of_string(std::vector<SeriesPart> parts);
    /// Strings of these parts side by side; those without parts count as not there. Parts may face backward, as a
    /// wiring cannot say. Voltages are those behind a trunk of `trunk_ohm`, 0 or more; the wires of a string are a part
    /// of it (`wire_element`). The accessors by string and panel below know nothing of them.
    [[nodiscard]] static ArrayCurve of_strings(const std::vector<std::vector<SeriesPart>>& strings,
                                               double trunk_ohm = 0.0);

    [[nodiscard]] double trunk_ohm() const { return trunk_ohm_; }
    [[nodiscard]] std::span<const SeriesPart> parts() const { return parts_; }
    [[nodiscard]] std::span<const Branch> branches() const { return branches_; }
    [[nodiscard]] std::span<const SeriesPart> parts_of(const Branch& branch) const {
        return std::span(parts_).subspan(branch.first, branch.size);
    }

    // The wiring's strings, panels and groups, as they were given.
    [[nodiscard]] std::size_t string_count() const { return branch_of_string_.size(); }
    [[nodiscard]] std::size_t panel_count(std::size_t string) const {
        return first_panel_of_string_[string + 1] - first_panel_of_string_[string];
    }
    [[nodiscard]] std::size_t group_count(std::size_t string, std::size_t panel) const {
        const std::size_t at = first_panel_of_string_[string] + panel;
        return first_group_of_panel_[at + 1] - first_group_of_panel_[at];
    }
    /// The branch a string of the wiring is kept in; empty for a string without panels.
    [[nodiscard]] std::optional<std::size_t> branch_of(std::size_t string) const;
    /// The part (counted in the array) a group of a panel is kept in.
    [[nodiscard]] std::size_t part_of(std::size_t string, std::size_t panel, std::size_t group) const;

    /// All strings at a terminal voltage. `points` (one for each of `parts`) hold a start, or nothing if
    /// `from_scratch`, and the solution at return. The array's current.
    double solve(double voltage_v, std::span<GroupPoint> points, bool from_scratch) const;

    /// The same at a voltage at the joint of the strings.
    double solve_at_joint(double voltage_v, std::span<GroupPoint> points, bool from_scratch) const;

private:
    ArrayCurve() = default;

    static constexpr std::uint32_t no_branch = ~std::uint32_t{0};

    std::vector<SeriesPart> parts_;
    std::vector<Branch> branches_;
    std::vector<std::uint32_t> branch_of_string_;
    std::vector<std::uint32_t> first_panel_of_string_;  // one more than strings
    std::vector<std::uint32_t> first_group_of_panel_;   // one more than panels
    std::vector<std::uint32_t> part_of_group_;
    double trunk_ohm_ = 0.0;
};

/// −dI/dV of the array at the joint of its strings, before the trunk, and its derivative by V, from solved points.
struct Conductance {
    double s = 0.0;
    double per_v = 0.0;
};
[[nodiscard]] Conductance conductance_at_joint(const ArrayCurve& array, std::span<const GroupPoint> points);

}  // namespace plait::physics
