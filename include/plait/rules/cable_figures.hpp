// What each cable of a wiring must carry, what it takes away, and which sizes would do.
#pragma once

#include <plait/physics/conductor.hpp>
#include <plait/rules/rule.hpp>

#include <optional>
#include <vector>

namespace plait::rules {

/// The currents of one run, from the datasheets.
struct RunCurrents {
    double working_a = 0.0;  ///< Imp: for drop and loss
    /// The most that flows: 1.25 × Isc (NEC 690.8(A)(1), IEC 62548), or 1.25 × the sum of the others' Isc in a string
    /// that no fuse guards. Behind a tracking controller its charge current.
    double most_a = 0.0;
    double continuous_a = 0.0;  ///< × 1.25 again, NEC 690.8(B)
    double guarded_a = 0.0;     ///< of `most_a`, what would flow if a fuse guarded every string
};

struct CableFigures {
    std::size_t cable = 0;  ///< of the set-up
    RunCurrents currents;
    double table_ohm_per_m = 0.0;  ///< one conductor, at the table's temperature; the maker's figure where given
    double loop_ohm = 0.0;         ///< there and back at the working temperature; panel leads: of the longest string
    double drop_v = 0.0;           ///< at the working current
    double drop_ratio = 0.0;       ///< of the working voltage
    double loss_w = 0.0;           ///< in all cables of the run together, at the working current
    std::optional<physics::NecAmpacity> nec;
    std::optional<physics::IecAmpacity> iec;
    /// In the cable's own system: with it, and the way's other cables as they are, the target is met.
    std::optional<CableSize> smallest_for_drop;
    std::optional<CableSize> smallest_by_nec;  ///< AWG
    std::optional<CableSize> smallest_by_iec;  ///< mm²

    [[nodiscard]] bool within_nec() const;
    [[nodiscard]] bool within_iec() const;
    /// By a code in force it may carry its own string's current, and not what the others push through a faulty string: a
    /// fuse in every string is enough, and so is a thicker cable.
    [[nodiscard]] bool wants_fuses(Code code) const;
};

/// The largest fuse that still guards a cable: by NEC the standard size at or next above its ampacity, corrected and no
/// more than the terminals' column (240.4(B), 110.14(C)), no more than 240.4(D) allows a small conductor; by IEC the ampacity itself (IEC 60364-4-43 [from
/// memory]). By the stricter where both are in force; 0 if the table has no value.
[[nodiscard]] double fuse_ceiling_a(const CableFigures& f, Code code);

/// Every cable between the input's array and the input.
[[nodiscard]] std::vector<CableFigures> cable_figures(const Situation& s);
/// The cables between controller and battery; empty without a battery.
[[nodiscard]] std::vector<CableFigures> battery_cable_figures(const Situation& s);

/// Working voltage that drops are held against: the lowest string Vmp at test conditions.
[[nodiscard]] double working_voltage_v(const Situation& s);

/// What flows into the battery.
struct BatteryCurrent {
    double unlimited_a = 0.0;      ///< array watts × efficiency ÷ nominal battery volts; direct-connect: 1.25 × Isc
    double charge_a = 0.0;         ///< the same, or the charge current of a tracking controller if that is lower
    double fuse_least_a = 0.0;     ///< 1.25 × that
    std::optional<double> fuse_a;  ///< the next standard size, NEC 240.6(A); empty above 200 A
};
[[nodiscard]] std::optional<BatteryCurrent> battery_current(const Situation& s);

}  // namespace plait::rules
