// Light on flat ground and square to the sun, turned into light on a plane. Check figures: docs/sun.md.
#pragma once

#include <plait/model/place.hpp>
#include <plait/physics/clear_sky.hpp>
#include <plait/physics/sun_position.hpp>

#include <array>

namespace plait::physics {

/// What of a plane's light comes from where. The parts are never negative.
struct PlaneLight {
    double beam_w_per_m2 = 0.0;
    double circumsolar_w_per_m2 = 0.0;  ///< from the bright sky around the sun; comes in as the beam does
    double sky_w_per_m2 = 0.0;          ///< from the rest of the sky
    double ground_w_per_m2 = 0.0;
    double incidence_ratio = 0.0;  ///< cos of the angle of incidence, 0 with the sun behind the plane
    bool sun_hidden = false;       ///< the sun is up, but behind the plane's horizon

    [[nodiscard]] double diffuse_w_per_m2() const { return circumsolar_w_per_m2 + sky_w_per_m2; }
    [[nodiscard]] double total_w_per_m2() const {
        return beam_w_per_m2 + circumsolar_w_per_m2 + sky_w_per_m2 + ground_w_per_m2;
    }
};

/// One moment's sun and air, as every plane of a site sees them.
struct SkyMoment {
    SunDirection sun;
    double apparent_elevation_deg = 0.0;
    double extraterrestrial_w_per_m2 = 0.0;
    SkyLight light;
};

/// A plane with what does not change from hour to hour worked out once.
class TiltedPlane {
public:
    explicit TiltedPlane(const Plane& plane);

    [[nodiscard]] PlaneLight light(const SkyMoment& now, SkyModel model) const {
        return light(now, model, albedo_ratio_);
    }
    /// The same with the ground's albedo of the day, as a weather file may say it.
    [[nodiscard]] PlaneLight light(const SkyMoment& now, SkyModel model, double albedo_ratio) const;

    /// The share of a sky of even brightness that the plane gets: (1 + cos tilt)/2, less what its horizon hides.
    [[nodiscard]] double sky_view_ratio() const { return sky_view_ratio_; }
    /// cos of the angle of incidence; below 0 the sun is behind the plane.
    [[nodiscard]] double incidence_cosine(const SunDirection& sun) const {
        return up_ratio_ * sun.up_ratio + north_ratio_ * sun.north_ratio + east_ratio_ * sun.east_ratio;
    }
    [[nodiscard]] bool hides(const SunDirection& sun) const;

private:
    double up_ratio_ = 1.0;  // the plane's normal
    double north_ratio_ = 0.0;
    double east_ratio_ = 0.0;
    double flat_ratio_ = 0.0;  // sin of the tilt
    double albedo_ratio_ = 0.2;
    double sky_view_ratio_ = 1.0;
    double open_view_ratio_ = 1.0;           // without a horizon
    std::array<double, 360> horizon_deg_{};  // by whole degrees of azimuth
    bool has_horizon_ = false;
};

}  // namespace plait::physics
