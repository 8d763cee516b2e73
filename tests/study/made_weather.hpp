// Weather and a set-up made for tests: clear skies with clouds that come and go by rule.
#pragma once

#include <plait/base/civil_date.hpp>
#include <plait/study/harvest_year.hpp>
#include <plait/study/light_series.hpp>

#include "trial.hpp"

#include <cmath>

namespace plait::study {

/// Middle of Europe, or its mirror image in the south.
inline Location middle_place(bool south = false) {
    Location l;
    l.latitude_deg = south ? -48.0 : 48.0;
    l.longitude_deg = 11.0;
    l.height_m = 500.0;
    l.from_utc_h = 1.0;
    return l;
}

/// A year of clear skies with clouds: of every hour a share by a fixed pattern; air and wind with it.
inline WeatherSeries cloudy_year(const Setup& setup) {
    WeatherSeries w = climate_year(setup);
    unsigned state = 12345;
    double cloud = 0.5;
    for (std::size_t i = 0; i < w.hours.size(); ++i) {
        state = state * 1664525u + 1013904223u;
        cloud = 0.9 * cloud + 0.1 * (static_cast<double>(state >> 8) / 16777216.0 < 0.5 ? 0.0 : 1.0);
        WeatherHour& h = w.hours[i];
        h.global_w_per_m2 = *h.global_w_per_m2 * (1.0 - 0.75 * cloud);
        h.direct_normal_w_per_m2.reset();
        h.diffuse_w_per_m2.reset();
        const double day = static_cast<double>(i) / 24.0;
        h.air = Celsius{9.0 - 11.0 * std::cos(6.2832 * (day - 20.0) / 365.0) - 5.0 * std::cos(6.2832 * (day - 0.125))};
        h.wind_m_per_s = 1.0 + 3.0 * cloud;
    }
    return w;
}

/// The roomy trial, on a plane of 35° to the south.
inline Trial sunny_trial() {
    Trial t = roomy_trial();
    t.setup.location = middle_place();
    Plane plane;
    plane.name = "roof";
    plane.tilt_deg = 35.0;
    plane.azimuth_deg = 180.0;
    t.setup.planes = {plane};
    return t.wire(2, 1);
}

}  // namespace plait::study
