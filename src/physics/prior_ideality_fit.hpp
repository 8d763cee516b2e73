// The default fit. The ideality n comes from a prior instead of from the Voc coefficient; Rs and the shunt follow
// exactly from the STC points; the temperature coefficients and the efficiency in weak light are met by the laws that
// carry the curve away from STC.
#pragma once

#include <plait/physics/datasheet_fit.hpp>

#include "stc_family.hpp"

namespace plait::physics {

struct StcFit {
    StcMember member;
    FitForm form = FitForm::prior_ideality;
};

/// n·k·Tr/q·N over Voc for n = 1: what an ideality is multiplied with to become one of StcFamily.
[[nodiscard]] double thermal_ratio(const Panel& panel);

/// The STC curve with the technology's usual ideality, or the nearest that is physical.
[[nodiscard]] StcFit fit_prior_ideality(const Panel& panel);

/// Curves that do not have their maximum at (Vmp, Imp): the ways out when the points fit no diode curve.
[[nodiscard]] StcFit fit_pmax_only(const Panel& panel);

/// Bends μ (silicon) or κ (thin film) until Pmp at 1000 W/m², 50 °C has fallen as the coefficient says.
[[nodiscard]] Closure meet_pmax_coefficient(DiodeModel& model, double pmax_coefficient_per_k, Technology technology);

/// Bends k, then m, until the efficiency at 200 W/m², 25 °C over that at STC is `ratio`.
[[nodiscard]] Closure meet_weak_light(DiodeModel& model, double ratio);

}  // namespace plait::physics
