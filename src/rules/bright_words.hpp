// How sentences call the current under the brightest sky.
#pragma once

#include <plait/base/constants.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/stated_weather.hpp>

#include "words.hpp"

#include <algorithm>

namespace plait::rules {

/// "1.25 × Isc", or what the stated light makes of it: "Isc in up to 1600 W/m²".
inline std::string bright_basis(const Situation& s) {
    const double by_code_a = bright_sky_factor * array_isc_a(s, s.wiring()).value;
    const bool by_code = array_bright_isc_a(s, s.wiring()).value <= by_code_a * (1.0 + rounding_ratio);
    std::string basis =
        by_code ? fmt::format("{:.2f} × Isc", bright_sky_factor)
                : fmt::format("Isc in up to {:.0f} W/m² and the heat", s.site().peak_irradiance_w_per_m2);
    const auto lit = [](const PanelPlace& place) { return strongest_light_ratio(place) > 1.0; };
    for (const SeriesString& string : s.wiring().strings) {
        if (std::any_of(string.panels.begin(), string.panels.end(), lit)) {
            return basis + ", with the light stated for its panels";
        }
    }
    return basis;
}

}  // namespace plait::rules
