// One bypass group: cells in series with a diode across them, cathode to +. With u the junction voltage of the cells,
//
//     I = IL − I0·expm1(u/a) − G·u + Ib0·expm1(−V/ab),   V = u − Rs·(IL − I0·expm1(u/a) − G·u)
//
// so current and voltage are both explicit in u; V rises with u, I falls. The conductance −dI/dV is that of the cells,
// which rises with V, plus that of the diode, which falls with V: bounds over an interval come from its two ends.
#pragma once

#include <plait/base/temperature.hpp>
#include <plait/physics/part_shade.hpp>
#include <plait/physics/single_diode.hpp>

#include <memory>
#include <optional>

namespace plait::physics {

/// I = Is·expm1(V/slope), V forward. A saturation current of 0: there is no diode.
struct ExponentialDiode {
    double saturation_current_a = 0.0;
    double slope_v = 1.0;  ///< n·kT/q

    [[nodiscard]] bool present() const { return saturation_current_a > 0.0; }
    [[nodiscard]] double current_a(double forward_v) const;
    /// The forward drop at a current > −Is.
    [[nodiscard]] double forward_v(double current_a) const;
};

/// The Schottky diode used for bypass and blocking: 0.5 V at the rated current and 25 °C, about 1 mV/K less when warmer
/// (0.44 V at 85 °C), n = 1. *Common practice, no source* for the drop (0.3–0.6 V). Its saturation current follows
/// thermionic emission, T²·exp(−0.75 eV/kT) (Sze, Physics of Semiconductor Devices, from memory). In reverse it leaks
/// 4e-9 (25 °C) to 6e-7 (85 °C) of the rated current.
[[nodiscard]] ExponentialDiode schottky(double rated_current_a, Celsius junction);

/// The curve with a constant current added at its terminals: again a single-diode curve. The junction voltage shifts by
/// Rs times that current, which the saturation current takes up.
[[nodiscard]] DiodeCurve with_constant(const DiodeCurve& curve, double current_a);

/// Where a group sits on its curve, with its two conductances. A part-shaded group is known by its voltage: `junction_v`
/// is that, and `junction_s` is what the derivative of `cells_s` by V would be the junction's, `cells().ideality_v` times it.
struct GroupPoint {
    double junction_v = 0.0;
    double voltage_v = 0.0;
    double current_a = 0.0;
    double junction_s = 0.0;  ///< I0/a·exp(u/a), inside the series resistance
    double cells_s = 0.0;     ///< −dI/dV of the cells, series resistance included
    double bypass_s = 0.0;    ///< −dI/dV of the bypass diode

    /// −dI/dV
    [[nodiscard]] double conductance_s() const { return cells_s + bypass_s; }
};

/// A group's curve. A blocking diode is one too: no cells, only the diode and a leakage (see `blocking_element`).
///
/// A group may face backward, its − end where the + belongs: I'(V) = −I(−V). It falls with V all the same. Points are
/// always as the string sees them; `cells` and `bypass` are the group's own.
///
/// Of a group that is shaded in part, `part_shade` is the curve and `cells` stands in for it where a solver guesses: the
/// light of its brightest cells, the ideality of all, no resistance.
class GroupCurve {
public:
    /// Cells without a junction and without a shunt (a blocking diode) get the leakage of `blocking_element`.
    GroupCurve(const DiodeCurve& cells, const ExponentialDiode& bypass);
    /// Shaded in part; some cells are lit. `bypass` may be absent.
    GroupCurve(PartShade shade, const ExponentialDiode& bypass);

    /// The same group turned round.
    [[nodiscard]] GroupCurve turned() const;
    [[nodiscard]] bool faces_backward() const { return backward_; }

    [[nodiscard]] const DiodeCurve& cells() const { return cells_; }
    [[nodiscard]] const ExponentialDiode& bypass() const { return bypass_; }
    /// Null where all cells are alike.
    [[nodiscard]] const PartShade* part_shade() const { return shade_.get(); }
    /// Bounds of the conductance and its derivative between two points of the group, of a part-shaded one.
    [[nodiscard]] BendingBounds shade_bounds(const GroupPoint& low, const GroupPoint& high) const;
    /// No cells: a blocking diode.
    [[nodiscard]] bool is_blocking() const { return !(cells_.saturation_current_a > 0.0) && bypass_.present(); }
    /// Neither cells nor diode: a piece of wire.
    [[nodiscard]] bool is_wire() const { return !(cells_.saturation_current_a > 0.0) && !bypass_.present(); }
    [[nodiscard]] double short_circuit_a() const { return backward_ ? -short_circuit_a_ : short_circuit_a_; }

    [[nodiscard]] double current_a(double voltage_v) const { return at_voltage(voltage_v).current_a; }
    /// Falling in I. About −1e6 V where no voltage carries that much (no bypass, no shunt, more than the light
    /// current).
    [[nodiscard]] double voltage_v(double current_a) const { return at_current(current_a).voltage_v; }
    /// The maximum of V·I for V ≥ 0, if the curve is proven to have no other; zero for a dark one; empty if not proven
    /// (light not far above the bypass diode's leakage).
    [[nodiscard]] std::optional<PowerPoint> only_maximum() const;

    [[nodiscard]] GroupPoint at_junction(double junction_v) const {
        return plain_ ? own_at_junction(junction_v) : other_at_junction(junction_v);
    }
    [[nodiscard]] GroupPoint at_voltage(double voltage_v) const {
        return plain_ ? own_at_voltage(voltage_v) : other_at_voltage(voltage_v);
    }
    [[nodiscard]] GroupPoint at_current(double current_a) const {
        return plain_ ? own_at_current(current_a) : other_at_current(current_a);
    }
    /// The point moved by a small step of u: what is left out is of the third power of step/a and (step·dV/du)/ab.
    /// `current_a` is the caller's to set.
    void nudge(GroupPoint& point, double junction_step_v) const;
    /// The point seen from the other side.
    [[nodiscard]] static GroupPoint mirrored(GroupPoint p) {
        p.junction_v = -p.junction_v;
        p.voltage_v = -p.voltage_v;
        p.current_a = -p.current_a;
        return p;
    }

    /// dV/du
    [[nodiscard]] double voltage_per_junction(const GroupPoint& p) const {
        return 1.0 + cells_.series_resistance_ohm * (p.junction_s + cells_.shunt_conductance_s);
    }
    /// The derivative of the conductance by V.
    [[nodiscard]] double conductance_per_v(const GroupPoint& p) const {
        const double stretch_ratio = voltage_per_junction(p);
        const double cubed_ratio = stretch_ratio * stretch_ratio * stretch_ratio;
        const double own_s_per_v = p.junction_s / (cells_.ideality_v * cubed_ratio) - p.bypass_s / bypass_.slope_v;
        return backward_ ? -own_s_per_v : own_s_per_v;
    }
    /// The shortest length of u over which the curve bends at a point.
    [[nodiscard]] double bend_v(double voltage_v) const;
    /// Above this voltage the bypass diode only leaks: the exponential is below 1e-17.
    [[nodiscard]] double bypass_off_v() const { return bypass_.present() ? 40.0 * bypass_.slope_v : 0.0; }

    friend bool operator==(const GroupCurve& a, const GroupCurve& b);
    /// A total order, by short-circuit current first.
    friend bool operator<(const GroupCurve& a, const GroupCurve& b);

private:
    [[nodiscard]] static DiodeCurve leaking(DiodeCurve cells, const ExponentialDiode& bypass);

    // As if it faced forward.
    [[nodiscard]] GroupPoint own_at_junction(double junction_v) const;
    [[nodiscard]] GroupPoint own_at_voltage(double voltage_v) const;
    [[nodiscard]] GroupPoint own_at_current(double current_a) const;
    void own_nudge(GroupPoint& point, double junction_step_v) const;
    [[nodiscard]] double own_bend_v(double voltage_v) const;
    // As it is: backward, shaded in part, or both.
    [[nodiscard]] GroupPoint other_at_junction(double junction_v) const;
    [[nodiscard]] GroupPoint other_at_voltage(double voltage_v) const;
    [[nodiscard]] GroupPoint other_at_current(double current_a) const;
    [[nodiscard]] GroupPoint shaded_at_voltage(double voltage_v) const;
    [[nodiscard]] GroupPoint shaded_at_current(double current_a) const;

    DiodeCurve cells_;
    ExponentialDiode bypass_;
    std::shared_ptr<const PartShade> shade_;
    bool backward_ = false;
    bool plain_ = true;  // neither backward nor shaded in part
    double short_circuit_a_ = 0.0;
    double per_ideality_v_ = 1.0;      // 1/a: a division costs as much as half an exponential
    double per_bypass_slope_v_ = 1.0;  // 1/ab
};

/// A blocking diode as a member of a string: `schottky`, with a leakage of 1e-9 S per ampere of rating in reverse.
[[nodiscard]] GroupCurve blocking_element(double rated_current_a, Celsius junction);

/// A resistance (> 0) as a member of a string: V = −R·I.
[[nodiscard]] GroupCurve wire_element(double resistance_ohm);

}  // namespace plait::physics
