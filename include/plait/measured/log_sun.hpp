// Where nobody measured the light, the place and the minute bound it: what a clear sky would give the panels, night, and
// global light turned onto their plane.
#pragma once

#include <plait/model/setup.hpp>
#include <plait/physics/tilted_light.hpp>

#include <optional>

namespace plait::measured {

/// How the stamps of a log become universal time.
struct LogClock {
    bool zoned = false;       ///< they name their zone: universal time already
    bool wall_clock = false;  ///< they follow the clock on the wall, summer time and all; else standard time
    double ahead_s = 0.0;     ///< by how much the logger's clock was ahead
};

/// The most and the usual of a clear sky, on the plane of the panels.
struct SunBound {
    double elevation_deg = 0.0;     ///< without refraction
    double clear_w_per_m2 = 0.0;    ///< of a clear sky by the place's turbidity; 0 with the sun down
    double brightest_w_per_m2 = 0.0;  ///< with bright edges of clouds beside the sun
};

/// A sun lower than this turns no global light onto a plane: a small error of the beam is a large one there.
inline constexpr double least_turned_deg = 5.0;
/// How far light turned from flat ground onto a plane may be off, the sensor's own error aside. *Our judgement*, from
/// what splitting and turning cost on minutes of broken cloud.
inline constexpr double turned_light_ratio = 0.08;

class LogSun {
public:
    /// Empty unless the set-up has a place and all panels of the wiring look the same way, as its planes say.
    [[nodiscard]] static std::optional<LogSun> of(const Setup& setup, const InputWiring& wiring);

    /// Seconds of universal time since 1970 of what a log writes as seconds since 1970.
    [[nodiscard]] double universal_s(double written_s, const LogClock& clock) const;
    [[nodiscard]] SunBound bound(double universal_s) const;
    /// Light on the plane from global light on flat ground, split and turned by the set-up's sky model. Empty with the
    /// sun below `least_turned_deg`; at night what there is.
    [[nodiscard]] std::optional<double> turned_w_per_m2(double global_w_per_m2, double universal_s) const;

private:
    LogSun(const Location& location, const Plane& plane, SkyModel sky);
    [[nodiscard]] physics::SkyMoment sky_at(double universal_s) const;

    Location location_;
    physics::TiltedPlane plane_;
    SkyModel sky_model_;
};

}  // namespace plait::measured
