// What each string, panel and bypass group does while the array sits at some voltage.
#pragma once

#include <plait/physics/array_curve.hpp>

#include <vector>

namespace plait::physics {

struct GroupReading {
    double voltage_v = 0.0;
    double bypass_a = 0.0;  ///< through its bypass diode, forward positive; 0 without one
    bool bypassed = false;  ///< the diode carries more than 1 % of the string's current
};

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
