#include <plait/physics/tilted_light.hpp>

#include "angles.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::physics {
namespace {

/// Perez et al. (1990), table 6 ("all sites composite"), by clearness.
struct PerezBin {
    double from;
    double f11, f12, f13, f21, f22, f23;
};
constexpr std::array perez_bins{
    PerezBin{1.0, -0.008, 0.588, -0.062, -0.060, 0.072, -0.022},
    PerezBin{1.065, 0.130, 0.683, -0.151, -0.019, 0.066, -0.029},
    PerezBin{1.23, 0.330, 0.487, -0.221, 0.055, -0.064, -0.026},
    PerezBin{1.5, 0.568, 0.187, -0.295, 0.109, -0.152, -0.014},
    PerezBin{1.95, 0.873, -0.392, -0.362, 0.226, -0.462, 0.001},
    PerezBin{2.8, 1.132, -1.237, -0.412, 0.288, -0.823, 0.056},
    PerezBin{4.5, 1.060, -1.600, -0.359, 0.264, -1.127, 0.131},
    PerezBin{6.2, 0.678, -0.327, -0.250, 0.156, -1.377, 0.251},
};

struct Brightening {
    double circumsolar = 0.0;
    double horizon = 0.0;
};

Brightening perez_brightening(const SkyMoment& now) {
    const double zenith = (90.0 - now.sun.elevation_deg) * radians_per_degree;
    const double cube = 1.041 * zenith * zenith * zenith;
    const double diffuse = now.light.diffuse_w_per_m2;
    const double clearness = ((diffuse + now.light.direct_normal_w_per_m2) / diffuse + cube) / (1.0 + cube);
    // Zenith and air mass both without refraction: the figures in docs/sun.md tell the two readings apart.
    const double brightness = diffuse * air_mass_ratio(now.sun.elevation_deg) / now.extraterrestrial_w_per_m2;
    const PerezBin* bin = &perez_bins.front();
    for (const PerezBin& b : perez_bins) {
        if (clearness >= b.from) bin = &b;
    }
    return {std::max(0.0, bin->f11 + bin->f12 * brightness + bin->f13 * zenith),
            bin->f21 + bin->f22 * brightness + bin->f23 * zenith};
}

/// ∫ cos θ dω over the sky above an elevation in one direction, `off_deg` from where the plane looks, per radian of
/// azimuth: with the elevation h, cos θ = sin h·cos β + cos h·sin β·cos φ, dω = cos h dh.
double view_above(double elevation_deg, double cos_tilt, double along) {
    // Below this elevation the plane looks away.
    const double behind_deg = along >= 0.0 ? 0.0 : atan2_deg(-along, cos_tilt);
    const double low = std::max(elevation_deg, behind_deg) * radians_per_degree;
    const auto integral = [&](double h) {
        const double s = std::sin(h);
        return 0.5 * cos_tilt * s * s + 0.5 * along * (h + s * std::cos(h));
    };
    const double value = integral(0.5 * std::numbers::pi) - integral(low);
    return std::max(value, 0.0);
}

double view_over(const std::array<double, 360>& horizon_deg, double tilt_deg, double azimuth_deg) {
    const double cos_tilt = cos_deg(tilt_deg);
    const double sin_tilt = sin_deg(tilt_deg);
    double sum = 0.0;
    for (std::size_t i = 0; i < horizon_deg.size(); ++i) {
        const double along = sin_tilt * cos_deg(static_cast<double>(i) + 0.5 - azimuth_deg);
        const double h_deg = 0.5 * (horizon_deg[i] + horizon_deg[(i + 1) % horizon_deg.size()]);
        sum += view_above(h_deg, cos_tilt, along) * radians_per_degree;
    }
    return sum / std::numbers::pi;
}

}  // namespace

TiltedPlane::TiltedPlane(const Plane& plane)
    : up_ratio_(cos_deg(plane.tilt_deg)),
      north_ratio_(sin_deg(plane.tilt_deg) * cos_deg(plane.azimuth_deg)),
      east_ratio_(sin_deg(plane.tilt_deg) * sin_deg(plane.azimuth_deg)),
      flat_ratio_(sin_deg(plane.tilt_deg)),
      albedo_ratio_(plane.albedo_ratio),
      sky_view_ratio_(0.5 * (1.0 + up_ratio_)),
      open_view_ratio_(sky_view_ratio_),
      has_horizon_(!plane.horizon.empty()) {
    if (!has_horizon_) return;
    for (std::size_t i = 0; i < horizon_deg_.size(); ++i) {
        horizon_deg_[i] = horizon_elevation_deg(plane.horizon, static_cast<double>(i));
    }
    // The sum over whole degrees is off by the same little with and without the horizon.
    const double whole = view_over({}, plane.tilt_deg, plane.azimuth_deg);
    sky_view_ratio_ *= whole > 0.0 ? view_over(horizon_deg_, plane.tilt_deg, plane.azimuth_deg) / whole : 1.0;
}

bool TiltedPlane::hides(const SunDirection& sun) const {
    if (!has_horizon_) return false;
    const double at = std::min(sun.azimuth_deg, 359.999999);
    const auto i = static_cast<std::size_t>(at);
    const double share = at - static_cast<double>(i);
    return sun.elevation_deg <
           horizon_deg_[i] + share * (horizon_deg_[(i + 1) % horizon_deg_.size()] - horizon_deg_[i]);
}

PlaneLight TiltedPlane::light(const SkyMoment& now, SkyModel model, double albedo_ratio) const {
    constexpr double least_hay_cosine = 0.01745;                // cos 89°
    constexpr double least_perez_cosine = 0.08715574274765817;  // cos 85°
    PlaneLight out;
    const double cosine = incidence_cosine(now.sun);
    const bool up = now.sun.up_ratio > 0.0;
    out.sun_hidden = up && hides(now.sun);
    out.incidence_ratio = up ? std::max(cosine, 0.0) : 0.0;
    const double seen = out.sun_hidden ? 0.0 : out.incidence_ratio;
    out.beam_w_per_m2 = now.light.direct_normal_w_per_m2 * seen;
    out.ground_w_per_m2 = std::max(now.light.global_w_per_m2, 0.0) * albedo_ratio * 0.5 * (1.0 - up_ratio_);
    const double diffuse = now.light.diffuse_w_per_m2;
    if (!(diffuse > 0.0)) return out;
    const double view = open_view_ratio_ > 0.0 ? sky_view_ratio_ / open_view_ratio_ : 1.0;
    switch (model) {
        case SkyModel::isotropic:
            out.sky_w_per_m2 = diffuse * sky_view_ratio_;
            break;
        case SkyModel::hay_davies: {
            const double share =
                up ? std::min(now.light.direct_normal_w_per_m2 / now.extraterrestrial_w_per_m2, 1.0) : 0.0;
            out.circumsolar_w_per_m2 = diffuse * share * seen / std::max(now.sun.up_ratio, least_hay_cosine);
            out.sky_w_per_m2 = diffuse * (1.0 - share) * sky_view_ratio_;
            break;
        }
        case SkyModel::perez: {
            const Brightening f = perez_brightening(now);
            const double around = f.circumsolar * seen / std::max(now.sun.up_ratio, least_perez_cosine);
            const double dome = (1.0 - f.circumsolar) * open_view_ratio_ + f.horizon * flat_ratio_;
            // What the fit makes negative in all is no light; a horizon hides of dome and bright rim alike.
            out.circumsolar_w_per_m2 = diffuse * std::max(0.0, around + std::min(dome, 0.0));
            out.sky_w_per_m2 = diffuse * std::max(dome, 0.0) * view;
            break;
        }
    }
    return out;
}

}  // namespace plait::physics
