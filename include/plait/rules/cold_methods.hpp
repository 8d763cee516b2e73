// The three ways codes and makers allow for a cold morning's open-circuit voltage, and what follows from them: the
// coldest air a string survives and the longest string an input survives.
#pragma once

#include <plait/model/panel.hpp>
#include <plait/model/setup.hpp>
#include <plait/model/site.hpp>
#include <plait/model/wiring.hpp>

#include <array>
#include <optional>

namespace plait::rules {

inline constexpr std::array cold_methods{ColdMethod::coefficient, ColdMethod::code_table, ColdMethod::flat_factor};

/// NEC table 690.7(A), editions 2008 to 2023, for crystalline silicon [whole table from memory; IEC 62548:2016 and
/// AS/NZS 5033 print the same figures]. Between two rows the colder counts. 1 at 25 °C and above; nothing below −40 °C.
[[nodiscard]] std::optional<double> code_table_factor(Celsius coldest_air);

/// Voc(cold) over Voc(STC) of one panel. Rules use the straight line of the coefficient: the diode curve bends below it
/// in the cold, so the line is the cautious one. Where a method does not apply (the table to thin film or below −40 °C)
/// the coefficient stands in for it. A coefficient the maker does not state is never trusted alone: the larger of line
/// and table for crystalline silicon (1.25 below the table's end), 1.25 below 0 °C for anything else.
[[nodiscard]] double cold_factor(const Panel& panel, const Site& site, ColdMethod method, Celsius coldest_air);

/// Whether the method itself speaks about this panel at this temperature.
[[nodiscard]] bool method_applies(const Panel& panel, ColdMethod method, Celsius coldest_air);

/// Open-circuit voltage of a string: the sum of its panels' own corrected values.
[[nodiscard]] double string_cold_voc_v(const Setup& setup, const SeriesString& string, ColdMethod method);

/// The highest of an array's strings (strings in parallel share their voltage, and at worst only one is in the light).
[[nodiscard]] double array_cold_voc_v(const Setup& setup, const InputWiring& wiring, ColdMethod method);

/// Colder air than was ever measured on earth (−89 °C): nothing below it is looked for.
inline constexpr Celsius coldest_looked_at{-100.0};

/// The coldest air at which a string stays within a voltage, by the panels' coefficients; empty when none of −100 to
/// 25 °C does. The inverse of the coefficient method.
[[nodiscard]] std::optional<Celsius> coldest_survived(const Setup& setup, const InputWiring& wiring, double limit_v);

/// How many panels of one kind may stand in series within a voltage, by the site's method; 0 when not even one.
[[nodiscard]] int longest_within(const Setup& setup, std::size_t kind, double limit_v);

}  // namespace plait::rules
