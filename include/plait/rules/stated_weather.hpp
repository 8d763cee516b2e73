// The light and the warmth that each panel of a wiring is stated to have, at the two ends that rules look at. What makes
// an array stronger counts (light above that of the site, cells cooler than the others) and what makes it weaker does
// not, where too much is the danger: shade goes away. Where too little is the trouble it is the other way round.
#pragma once

#include <plait/model/wiring.hpp>
#include <plait/rules/figure.hpp>

namespace plait::rules {

/// The light of the coldest morning: that of test conditions, at which the codes take Voc, or the site's strongest light
/// where that is stated to be more. The curves' cold and bright weather has the same.
[[nodiscard]] double cold_irradiance_w_per_m2(const Site& site);

/// The cell temperature of a panel on the hottest bright day.
[[nodiscard]] Celsius hottest_cell(const Site& site, const Panel& panel);

/// Voc of one panel at 1000 W/m² by its curve.
[[nodiscard]] double curve_voc_v(const physics::FittedPanel& curve, Celsius cell);
/// How the curve's Voc at another irradiance stands to that at 1000 W/m²; 0 in the dark.
[[nodiscard]] double voc_light_factor(const physics::FittedPanel& curve, Celsius cell, double irradiance_w_per_m2);

/// The strongest light of a place's bypass groups, as a share of the site's; at least 1.
[[nodiscard]] double strongest_light_ratio(const PanelPlace& place);

}  // namespace plait::rules
