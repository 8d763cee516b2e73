// The three ways codes and makers allow for a cold morning's open-circuit voltage.
#pragma once

#include <plait/rules/figure.hpp>

#include <array>
#include <optional>

namespace plait::rules {

inline constexpr std::array cold_methods{ColdMethod::coefficient, ColdMethod::code_table, ColdMethod::flat_factor};

/// NEC table 690.7(A), editions 2008 to 2023, for crystalline silicon [whole table from memory; IEC 62548:2016 and
/// AS/NZS 5033 print the same figures]. Between two rows the colder counts. 1 at 25 °C and above; nothing below −40 °C.
[[nodiscard]] std::optional<double> code_table_factor(Celsius coldest_air);

/// The same, carried on below the table's end by its own last step: 0.02 for each 5 K or part of them. Judgement: the
/// table stops at 1.25 for want of places so cold, not because colder would be less.
[[nodiscard]] double extended_table_factor(Celsius coldest_air);

/// What a factor rests on, from the best authority to the least. The first three are the methods themselves.
enum class ColdBasis {
    coefficient,          ///< the panel's own, as printed
    code_table,           ///< NEC table 690.7(A)
    flat_factor,          ///< the site's
    assumed_coefficient,  ///< the panel's is not printed
    table_for_want,       ///< the table, because the panel's coefficient is not printed
    beyond_table,         ///< the table carried on below −40 °C
    usual_factor,         ///< 1.25 below 0 °C, because neither coefficient nor table speaks about the panel
    curve,                ///< the panel's curve, which gives more than the method asked for
};
inline constexpr std::size_t cold_basis_count = 8;

/// Voc(cold) over Voc(STC) of one panel, in the light of test conditions.
struct ColdFactor {
    double voc_ratio = 1.0;
    ColdBasis basis = ColdBasis::coefficient;
};

/// The factor by a method, from the datasheet. Rules use the straight line of the coefficient: the diode curve bends
/// below it in the cold, so the line is the cautious one. Where the table does not apply to a panel the coefficient
/// stands in for it, and below −40 °C the larger of the coefficient and the extended table. A coefficient the maker does
/// not state is never trusted alone: the larger of line and (extended) table for crystalline silicon, and of line and
/// 1.25 below 0 °C for anything else. Colder air never gives less.
[[nodiscard]] ColdFactor cold_factor(const Panel& panel, const Site& site, ColdMethod method, Celsius coldest_air);

/// Whether the method itself speaks about this panel at this temperature.
[[nodiscard]] bool method_applies(const Panel& panel, ColdMethod method, Celsius coldest_air);

/// One panel's highest open-circuit voltage in some air.
struct ColdVoltage {
    double voc_v = 0.0;
    ColdFactor factor;          ///< of its bypass groups the one that counts most
    double light_factor = 1.0;  ///< by which light above 1000 W/m² raises it
};

/// A panel's factor by a method, or what its curve gives if that is more: some curves lie above the line (De Soto's, and
/// parameters given outright), and a factor may be less than what the panel's coefficient gives. Times what the stated
/// light adds. No curve of the program shows more at that air.
[[nodiscard]] ColdVoltage panel_cold_voltage(const StatedArray& stated, const PanelPlace& place, ColdMethod method,
                                             Celsius air);

/// Open-circuit voltage of a string at the site's coldest air: the sum of its panels' own, and over the tolerances.
[[nodiscard]] Figure string_cold_voc_v(const StatedArray& stated, const SeriesString& string, ColdMethod method);
/// The same at another air.
[[nodiscard]] Figure string_cold_voc_v(const StatedArray& stated, const SeriesString& string, ColdMethod method,
                                       Celsius air);

/// The highest of an array's strings (strings in parallel share their voltage, and at worst only one is in the light).
[[nodiscard]] Figure array_cold_voc_v(const StatedArray& stated, const InputWiring& wiring, ColdMethod method);
/// By the site's method.
[[nodiscard]] Figure array_cold_voc_v(const StatedArray& stated, const InputWiring& wiring);

/// Colder air than was ever measured on earth (−89 °C): nothing below it is looked for.
inline constexpr Celsius coldest_looked_at{-100.0};

}  // namespace plait::rules
