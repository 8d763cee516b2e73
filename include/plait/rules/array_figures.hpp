// Figures of an array that several rules need, straight from the datasheets.
#pragma once

#include <plait/rules/rule.hpp>

#include <array>

namespace plait::rules {

/// Lowest string Vmp on the hottest day, by γ − α: Vmp falls faster than Voc, so the Voc coefficient must not be used.
[[nodiscard]] Figure hot_vmp_v(const Situation& s);
/// Lowest string Voc on the hottest day, by the line or by the curve if that is less, in the light stated but no more
/// than that of test conditions.
[[nodiscard]] Figure hot_voc_v(const Situation& s);
/// Highest string Vmp at the coldest air.
[[nodiscard]] Figure cold_vmp_v(const Situation& s);
/// Highest string Voc at the coldest air, by the site's method (`array_cold_voc_v`). Whatever the array's voltage stands
/// on is held against it: NEC 690.7 and IEC 62548 rate input, panels, fuse, holder and disconnect by the same corrected
/// voltage.
[[nodiscard]] Figure cold_voc_v(const Situation& s);
/// What it rests on.
inline constexpr std::array cold_voc_rests_on{Quantity::panel_voc, Quantity::panel_voc_coefficient,
                                              Quantity::panel_voc_tolerance, Quantity::panel_technology,
                                              Quantity::site_coldest_air};

/// Short-circuit current of one string by the labels: that of its strongest panel, since bypass diodes let it through
/// the others. Bifacial panels count 135 W/m² more from behind (IEC TS 60904-1-2, nameplate irradiance), a panel that is
/// stated to have more light than the site counts that.
[[nodiscard]] Figure string_isc_a(const Situation& s, const SeriesString& string);
/// Sum of the strings' short-circuit currents.
[[nodiscard]] Figure array_isc_a(const Situation& s, const InputWiring& wiring);

/// The same under the brightest sky: 1.25 times the label (`bright_sky_factor`), which holds every tolerance; or what
/// the curve gives in the site's strongest light if that is more, with the label's tolerance.
[[nodiscard]] Figure string_bright_isc_a(const Situation& s, const SeriesString& string);
[[nodiscard]] Figure array_bright_isc_a(const Situation& s, const InputWiring& wiring);
/// The label's current in the site's strongest light, if that is more than 1000 W/m²: for tests of a code that count by
/// Isc alone.
[[nodiscard]] double string_lit_isc_a(const Situation& s, const SeriesString& string);

/// Sum of the panels' rated powers.
[[nodiscard]] Figure array_pmax_w(const Situation& s, const InputWiring& wiring);
/// The same over every used input of the plan, in the light stated for panels and site, never less than 1000 W/m².
[[nodiscard]] Figure plan_lit_pmax_w(const Situation& s);

/// Sunlight above 1000 W/m²: the factor by which codes raise short-circuit currents at least. NEC 690.8(A)(1),
/// IEC 62548-1:2023 and IEC 60364-7-712 (KI ≥ 1.25).
inline constexpr double bright_sky_factor = 1.25;

/// More than three hours at a time: the second 1.25 of NEC 690.8(B), for conductors and fuses.
inline constexpr double continuous_duty_factor = 1.25;

/// The least maximum series fuse of a string's panels, A: what it bears backwards.
[[nodiscard]] double weakest_series_fuse_a(const Setup& setup, const SeriesString& string);

}  // namespace plait::rules
