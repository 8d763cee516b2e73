// Where an array and an input meet.
//
// A steady point lies on the array's curve: if the input draws less than the array gives at some voltage, the voltage
// rises until the two agree. So the answer is the best V·I(V) over the V inside the window with I(V) ≤ the band's limit
// and V·I(V) ≤ the power limit. (The looser min(I(V), limit, P/V)·V credits points that no array can stay at.)
//
// The set of allowed V is found exactly: I falls with V, so a band's limit cuts off its lower part; between two
// neighbouring extremes of V·I the power is monotone, so the power limit cuts off one end of each such piece.
#pragma once

#include <plait/physics/acceptance_window.hpp>
#include <plait/physics/array_curve.hpp>
#include <plait/physics/single_diode.hpp>

#include <cstddef>
#include <span>

namespace plait::physics {

/// What keeps the point where it is.
enum class Binding {
    nothing,        ///< the array's own maximum
    current_limit,  ///< a band's limit: the point moved up the curve until the current fits
    power_limit,
    window_bottom,  ///< the array's maximum lies below the window
    window_top,     ///< … above it
    band_edge,      ///< the next band takes less
    pinned,         ///< a direct-connect controller chooses the voltage
};

/// Why there is no point.
enum class NoPoint {
    held,              ///< there is one
    dark,              ///< no light, no power
    too_low,           ///< open-circuit voltage below the window
    pushed_out,        ///< the array gives more than the input takes everywhere in the window, and leaves it at the top
};

struct OperatingPoint {
    NoPoint none = NoPoint::dark;
    PowerPoint point;                      ///< zero when none
    Binding binding = Binding::nothing;
    double binding_limit = 0.0;            ///< A, W or V by `binding`; 0 when nothing binds
    bool low_side_of_power_limit = false;  ///< the power limit is met left of the maximum: no other point is in reach
    PowerPoint free_maximum;               ///< with no input in the way
    double hand_rule_w = 0.0;              ///< the usual estimate: Vmp × the smaller of Imp and the limit there, capped

    [[nodiscard]] bool held() const { return none == NoPoint::held; }
    [[nodiscard]] double lost_w() const { return free_maximum.power_w() - point.power_w(); }
};

/// The point of a single-diode curve (one panel or equal ones) in a window.
[[nodiscard]] OperatingPoint operating_point(const DiodeCurve& curve, const AcceptanceWindow& window);

/// The same where the curve's maximum is known already: `free` is `curve.maximum_power()`.
[[nodiscard]] OperatingPoint operating_point(const DiodeCurve& curve, PowerPoint free, const AcceptanceWindow& window);

/// The same of unlike, shaded or blocked strings: with several power maxima, the best one the window allows.
[[nodiscard]] OperatingPoint operating_point(const ArrayCurve& curve, const AcceptanceWindow& window);

/// The point at a given voltage; the free maximum beside it.
[[nodiscard]] OperatingPoint pinned_point(const DiodeCurve& curve, double voltage_v);
[[nodiscard]] OperatingPoint pinned_point(const ArrayCurve& curve, double voltage_v);

}  // namespace plait::physics
