// The fit of De Soto, Klein & Beckman, Solar Energy 80 (2006), nested: the outer unknown is the ideality n, and for
// every n the rest follows from the STC points. Kept for comparison; the default is prior_ideality_fit.hpp.
#pragma once

#include "prior_ideality_fit.hpp"

namespace plait::physics {

/// A curve at STC with De Soto's laws and the panel's coefficients.
[[nodiscard]] DiodeModel de_soto_model(const Panel& panel, const DiodeCurve& stc);

[[nodiscard]] StcFit fit_de_soto(const Panel& panel);

}  // namespace plait::physics
