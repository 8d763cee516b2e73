// All single-diode curves through a datasheet's points, one for each ideality. With voltages over Voc and currents over
// Isc (so that Isc = Voc = 1) and E(u) = exp((u − 1)/a), u = V + I·Rs, the curve is
//
//     I = J·(1 − E(u)) + G·(1 − u)            J = I0·exp(1/a): passes through (Voc, 0) by its form.
//
// (0, Isc) and (Vmp, Imp) are two equations linear in J and G; dP/dV = 0 at (Vmp, Imp) then fixes Rs. No exponent is
// above zero, so nothing overflows.
#pragma once

#include <plait/model/panel.hpp>
#include <plait/physics/single_diode.hpp>

#include <optional>

namespace plait::physics {

/// One curve, scaled as above.
struct StcMember {
    double ideality = 0.0;  ///< a/Voc
    double series = 0.0;    ///< Rs·Isc/Voc
    double shunt = 0.0;     ///< G·Voc/Isc
    double diode = 0.0;     ///< J/Isc

    /// In amperes, volts and ohms.
    [[nodiscard]] DiodeCurve curve(double voc_v, double isc_a) const;
};

class StcFamily {
public:
    /// Vmp/Voc and Imp/Isc, both between 0 and 1.
    StcFamily(double vmp_ratio, double imp_ratio) : v_(vmp_ratio), i_(imp_ratio) {}

    /// Whether any curve at all can have its maximum there: a falling, concave curve lies under its tangent at the
    /// maximum power point, so Isc < 2·Imp and Voc < 2·Vmp.
    [[nodiscard]] bool maximum_possible() const { return v_ > 0.5 && i_ > 0.5; }

    /// The curve of this ideality with its maximum at (Vmp, Imp). Nothing where Rs would be negative; G may be. Needs
    /// maximum_possible().
    [[nodiscard]] std::optional<StcMember> exact(double ideality) const;

    /// The curve of the greatest ideality in [low, high] with Rs ≥ 0 and G ≥ 0; nothing if `low` has none already. Rs
    /// and G both fall with the ideality, so this is where the first of them reaches zero. Needs maximum_possible().
    [[nodiscard]] std::optional<StcMember> greatest_ideality(double low, double high) const;

    /// The curve of this ideality without shunt through all points, its maximum wherever it falls; nothing where Rs
    /// would be negative.
    [[nodiscard]] std::optional<StcMember> shuntless(double ideality) const;

    /// The greatest ideality in [low, high] for which shuntless() has an answer.
    [[nodiscard]] std::optional<double> greatest_shuntless(double low, double high) const;

private:
    [[nodiscard]] StcMember through_points(double ideality, double series) const;
    [[nodiscard]] double steepness(double ideality, double series) const;
    [[nodiscard]] double shunt_share(double ideality, double series) const;
    [[nodiscard]] double widest_series() const { return (1.0 - v_) / i_; }

    double v_;
    double i_;
};

/// The curve of this ideality without shunt through Isc and Voc alone, with the given Rs·Isc/Voc in [0, 1).
[[nodiscard]] StcMember shuntless_with_series(double ideality, double series);

}  // namespace plait::physics
