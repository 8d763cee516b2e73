#include <plait/physics/incidence.hpp>

#include "angles.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

constexpr double ashrae_b0 = 0.05;
constexpr double martin_ruiz_ar = 0.16;

/// What gets through the glass, before it is held against light from straight ahead.
double through_glass(double cosine) {
    constexpr double index = 1.526;
    constexpr double absorbed_ratio = 4.0 * 0.002;  // K·L
    const double sine = std::sqrt(std::max(0.0, 1.0 - cosine * cosine)) / index;
    const double inside = std::sqrt(1.0 - sine * sine);  // cos θr
    // Fresnel, the two polarisations.
    const double across = (cosine - index * inside) / (cosine + index * inside);
    const double along = (index * cosine - inside) / (index * cosine + inside);
    return (1.0 - 0.5 * (across * across + along * along)) * std::exp(-absorbed_ratio / inside);
}

/// s: the solid-angle term of Martin & Ruiz for sky or ground.
double martin_ruiz_diffuse(double s) {
    constexpr double c1 = 0.4244;
    constexpr double c2 = 0.5 * martin_ruiz_ar - 0.154;
    return 1.0 - std::exp(-(c1 * s + c2 * s * s) / martin_ruiz_ar);
}

}  // namespace

double beam_incidence_ratio(IncidenceModel model, double cosine_ratio) {
    const double cosine = std::min(cosine_ratio, 1.0);
    if (model == IncidenceModel::none) return 1.0;
    if (!(cosine > 0.0)) return 0.0;
    switch (model) {
        case IncidenceModel::none:
            return 1.0;
        case IncidenceModel::ashrae:
            return std::max(0.0, 1.0 - ashrae_b0 * (1.0 / cosine - 1.0));
        case IncidenceModel::physical: {
            static const double straight = through_glass(1.0);
            return through_glass(cosine) / straight;
        }
        case IncidenceModel::martin_ruiz: {
            static const double straight = -std::expm1(-1.0 / martin_ruiz_ar);
            return -std::expm1(-cosine / martin_ruiz_ar) / straight;
        }
    }
    return 1.0;
}

double sky_incidence_ratio(IncidenceModel model, double tilt_deg) {
    if (model == IncidenceModel::none) return 1.0;
    if (model == IncidenceModel::martin_ruiz) {
        const double tilt = tilt_deg * radians_per_degree;
        return martin_ruiz_diffuse(std::sin(tilt) +
                                   (std::numbers::pi - tilt - std::sin(tilt)) / (1.0 + std::cos(tilt)));
    }
    const double angle_deg = 59.7 - 0.1388 * tilt_deg + 0.001497 * tilt_deg * tilt_deg;
    return beam_incidence_ratio(model, cos_deg(angle_deg));
}

double ground_incidence_ratio(IncidenceModel model, double tilt_deg) {
    if (model == IncidenceModel::none) return 1.0;
    if (!(tilt_deg > 0.0)) return 0.0;  // no ground to be seen
    if (model == IncidenceModel::martin_ruiz) {
        const double tilt = tilt_deg * radians_per_degree;
        return martin_ruiz_diffuse(std::sin(tilt) + (tilt - std::sin(tilt)) / (1.0 - std::cos(tilt)));
    }
    const double angle_deg = 90.0 - 0.5788 * tilt_deg + 0.002693 * tilt_deg * tilt_deg;
    return beam_incidence_ratio(model, cos_deg(angle_deg));
}

IncidenceLoss::IncidenceLoss(IncidenceModel model, double tilt_deg)
    : model_(model),
      sky_ratio_(sky_incidence_ratio(model, tilt_deg)),
      ground_ratio_(ground_incidence_ratio(model, tilt_deg)) {}

double IncidenceLoss::entering_w_per_m2(const PlaneLight& light) const {
    return (light.beam_w_per_m2 + light.circumsolar_w_per_m2) * beam_incidence_ratio(model_, light.incidence_ratio) +
           light.sky_w_per_m2 * sky_ratio_ + light.ground_w_per_m2 * ground_ratio_;
}

}  // namespace plait::physics
