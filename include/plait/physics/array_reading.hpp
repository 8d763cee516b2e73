// What each string, panel and bypass group does while the array sits at some voltage.
#pragma once

#include <plait/physics/array_curve.hpp>

#include <optional>
#include <vector>

namespace plait::physics {

/// What the shaded cells of a part-shaded group do, each of them, were they all alike. Cells are not: of those in shade the
/// one that leaks least takes the most voltage.
struct ShadedCells {
    int cells_count = 0;  ///< of one row that is also lit; half cells where cells are halves
    double cell_v = 0.0;  ///< across each; in reverse below 0
    double cell_w = 0.0;  ///< the others' power that each turns into heat; below 0 where it gives power itself
    /// What one cell could take at most, whatever it leaks, as long as the bypass diode works: all that the other cells
    /// of its row can give, and the diode's drop. Absent without a bypass diode.
    std::optional<double> most_cell_w;

    [[nodiscard]] bool in_reverse() const { return cell_v < 0.0 && cell_w > 0.0; }
};

struct GroupReading {
    double voltage_v = 0.0;
    double bypass_a = 0.0;  ///< through its bypass diode, forward positive; 0 without one
    bool bypassed = false;  ///< the diode carries more than 1 % of the string's current
    std::optional<ShadedCells> shaded{};  ///< where part of the group is shaded
};

/// The shaded cells of a group at its voltage; empty where no row has lit and shaded cells both.
[[nodiscard]] std::optional<ShadedCells> shaded_cells(const GroupCurve& curve, double voltage_v);

struct PanelReading {
    double voltage_v = 0.0;
    std::vector<GroupReading> groups;
};

struct StringReading {
    double current_a = 0.0;   ///< negative: the other strings drive current back through it
    double blocking_v = 0.0;  ///< forward drop of its blocking diode; 0 without one
    double wire_v = 0.0;      ///< drop in the string's wires, up to the joint
    std::vector<PanelReading> panels;
};

struct ArrayReading {
    PowerPoint point;
    std::vector<StringReading> strings;
    double trunk_v = 0.0;  ///< drop from the joint to the terminals

    /// What the wires turn into heat.
    [[nodiscard]] double wire_w() const;
};

/// Every string, panel and group of the wiring, in its order. At `open_circuit_v` it shows the reverse current the
/// strong strings drive through the weak.
[[nodiscard]] ArrayReading array_reading(const ArrayCurve& array, double voltage_v);

/// One panel, alone and in the array.
struct PanelShare {
    double own_maximum_w = 0.0;  ///< by itself, in the light it has
    double delivered_w = 0.0;    ///< in the array; negative: it consumes
    [[nodiscard]] double lost_w() const { return own_maximum_w - delivered_w; }
};

/// What the panels cannot give because they are tied together.
struct Mismatch {
    PowerPoint point;                             ///< of the array
    double own_w = 0.0;                           ///< sum of the panels' own maxima
    double blocking_w = 0.0;                      ///< lost in blocking diodes
    std::vector<std::vector<PanelShare>> panels;  ///< by string and panel
    [[nodiscard]] double lost_w() const { return own_w - point.power_w(); }
};

/// The loss at a voltage: the array's global maximum, or where an input holds it.
[[nodiscard]] Mismatch mismatch_at(const ArrayCurve& array, double voltage_v);
[[nodiscard]] Mismatch mismatch_at_maximum(const ArrayCurve& array);

}  // namespace plait::physics
