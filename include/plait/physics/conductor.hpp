// Copper conductors: the resistance and the ampacity tables of IEC and NEC, each with what corrects them.
#pragma once

#include <plait/base/temperature.hpp>
#include <plait/model/cable.hpp>

#include <optional>
#include <span>

namespace plait::physics {

/// The sizes of a table, rising in area. Metric: 1.5 … 50 mm². American: 18 … 2 AWG.
[[nodiscard]] std::span<const CableSize> metric_sizes();
[[nodiscard]] std::span<const CableSize> american_sizes();
/// The sizes of the system a size is in.
[[nodiscard]] std::span<const CableSize> sizes_like(const CableSize& size);
/// The thickest size of the other system that is not thicker than this; empty below its thinnest.
[[nodiscard]] std::optional<CableSize> as_metric(const CableSize& size);
[[nodiscard]] std::optional<CableSize> as_american(const CableSize& size);

/// Resistance of one conductor, ohms a metre. Metric: IEC 60228 table 3, class 5, maximum at 20 °C. American: NEC
/// chapter 9 table 8, stranded, uncoated or coated, at 75 °C. `size` is one of the table's.
[[nodiscard]] double table_resistance_ohm_per_m(const CableSize& size, ConductorKind kind);
/// The temperature at which that table holds: 20 °C or 75 °C.
[[nodiscard]] Celsius table_temperature(const CableSize& size);
/// The same at a temperature: R20·(1 + 0.00393·(T − 20)) for metric sizes (copper, IEC 60228 annex A [from memory]),
/// R75·(1 + 0.00323·(T − 75)) for American ones (note to table 8 [from memory]).
[[nodiscard]] double resistance_ohm_per_m(const CableSize& size, ConductorKind kind, Celsius conductor);

/// There and back at the cable's working temperature, or by the maker's figure.
[[nodiscard]] double loop_resistance_ohm(const Cable& cable);
/// The same, were the cable of another size of the tables.
[[nodiscard]] double loop_resistance_ohm(const Cable& cable, const CableSize& size);

/// NEC table 310.16, copper, up to three loaded conductors, 30 °C ambient. Column 60, 75 or 90 °C; empty where the
/// table has no value (18 and 16 AWG below 90 °C).
[[nodiscard]] std::optional<double> nec_ampacity_a(int awg, Celsius column);
/// NEC 310.15(B)(1), base 30 °C: between two rows the hotter counts. Empty where the column ends.
[[nodiscard]] std::optional<double> nec_ambient_factor(Celsius column, Celsius ambient);
/// NEC 310.15(C)(1) by loaded conductors: 1 up to 3, 0.80 up to 6, 0.70 up to 9, 0.50 up to 20 [the last from memory].
[[nodiscard]] double nec_bundle_factor(int conductors);
/// 240.4(D): the largest overcurrent device of a small conductor; empty above 10 AWG.
[[nodiscard]] std::optional<double> nec_small_conductor_cap_a(int awg);

/// EN 50618 table A.3 [from memory], ambient 60 °C, conductor 120 °C. `size` is metric.
[[nodiscard]] std::optional<double> en_ampacity_a(const CableSize& size, Laying laying);
/// EN 50618 table A.4 [from memory]: 1 up to 60 °C, 0.92, 0.84, 0.75 at 70, 80, 90 °C. Between two rows the hotter
/// counts; empty above 90 °C.
[[nodiscard]] std::optional<double> en_ambient_factor(Celsius ambient);
/// IEC 60364-5-52 [from memory], two loaded copper conductors, ambient 30 °C, for cable that is not made for PV: PVC
/// from 70 °C, XLPE or rubber from 90 °C; in free air by method E, else by method C. `size` is metric; empty below 70 °C.
[[nodiscard]] std::optional<double> building_ampacity_a(const CableSize& size, Celsius insulation, Laying laying);
/// Table B.52.14 of the same [from memory]; between two rows the hotter counts, empty where the column ends.
[[nodiscard]] std::optional<double> building_ambient_factor(Celsius insulation, Celsius ambient);
/// IEC 60364-5-52 table B.52.17, circuits bundled in air [from memory]. 1 … 10 circuits; more count as 10.
[[nodiscard]] double iec_bundle_factor(int circuits);

/// What a cable may carry where it lies, by each code, and the parts that make it up.
struct NecAmpacity {
    CableSize taken_as;                ///< an AWG size, not thicker than the cable
    std::optional<double> terminal_a;  ///< table column of the terminals (or of the wire, if lower), uncorrected
    std::optional<double> column_a;    ///< table column of the wire's insulation
    std::optional<double> ambient_factor;
    double bundle_factor = 1.0;
    std::optional<double> corrected_a;  ///< the column × both factors
};
struct IecAmpacity {
    CableSize taken_as;  ///< a metric size, not thicker than the cable
    std::optional<double> table_a;
    std::optional<double> ambient_factor;
    double bundle_factor = 1.0;
    std::optional<double> corrected_a;
};
/// Empty if the cable is thinner than the code's table. By IEC a battery cable is taken by IEC 60364-5-52, all others by
/// EN 50618: that holds for PV cable at a conductor temperature of 120 °C, and says nothing about others.
[[nodiscard]] std::optional<NecAmpacity> nec_ampacity(const Cable& cable);
[[nodiscard]] std::optional<NecAmpacity> nec_ampacity(const Cable& cable, const CableSize& size);
[[nodiscard]] std::optional<IecAmpacity> iec_ampacity(const Cable& cable);
[[nodiscard]] std::optional<IecAmpacity> iec_ampacity(const Cable& cable, const CableSize& size);

}  // namespace plait::physics
