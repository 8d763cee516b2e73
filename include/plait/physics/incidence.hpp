// How much of the light that falls on a panel gets through its glass, against light from straight ahead.
#pragma once

#include <plait/model/place.hpp>
#include <plait/physics/tilted_light.hpp>

namespace plait::physics {

/// For the beam, by cos of the angle of incidence, 0 … 1. 1 at cos = 1, 0 at cos = 0; never below 0.
///  - ASHRAE: 1 − 0.05·(1/cos θ − 1)
///  - physical: Fresnel at n = 1.526, absorption exp(−K·L/cos θr), K = 4 per m, L = 2 mm (De Soto, Klein & Beckman
///  2006)
///  - Martin & Ruiz, Solar Energy Materials & Solar Cells 70 (2001), corrigendum 2013, ar = 0.16: IEC 61853-3
[[nodiscard]] double beam_incidence_ratio(IncidenceModel model, double cosine_ratio);

/// For even light from the sky and from the ground, by the plane's tilt. Martin & Ruiz have their own formulas. For the
/// others: the beam's ratio at the one angle that Brandemuehl & Beckman, Solar Energy 24 (1980), give.
[[nodiscard]] double sky_incidence_ratio(IncidenceModel model, double tilt_deg);
[[nodiscard]] double ground_incidence_ratio(IncidenceModel model, double tilt_deg);

/// All of a plane's light that gets in.
class IncidenceLoss {
public:
    IncidenceLoss(IncidenceModel model, double tilt_deg);
    [[nodiscard]] double entering_w_per_m2(const PlaneLight& light) const;

private:
    IncidenceModel model_;
    double sky_ratio_ = 1.0;
    double ground_ratio_ = 1.0;
};

}  // namespace plait::physics
