// What the header of a measured table calls its columns, and in which units.
#pragma once

#include "measured_times.hpp"
#include "quantity/fields.hpp"

#include <plait/input/measured_table.hpp>

#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

/// The unit of a measured quantity that a text names ("V", "volts", "mA", "W/m²", "°F"), ASCII upper and lower case
/// alike; null if there is none. Seconds, minutes and hours have no dimension of their own and are not among these.
[[nodiscard]] const Unit* measured_unit(std::string_view text);

/// Seconds in "s", "ms", "min", "h" and their words.
[[nodiscard]] std::optional<double> seconds_in(std::string_view unit);

/// What values of a column are: for messages and the range of the possible.
struct ColumnFacts {
    MeasuredColumn column;
    std::string_view what;     ///< "an air temperature"
    std::string_view example;  ///< "21.5"
    Spec spec;                 ///< its kind and its range; of words and times by hand

    [[nodiscard]] Dimension dimension() const;
    /// "V, mV, kV"
    [[nodiscard]] std::string units() const;
};
[[nodiscard]] const ColumnFacts& facts_of(MeasuredColumn column);

struct NamedColumn {
    MeasuredColumn column = MeasuredColumn::voltage;
    double factor = 1.0;
    double offset = 0.0;
    std::string bad_unit;     ///< not empty: the column is known, but not in this unit
    bool unit_given = false;  ///< false: the usual unit is assumed
    bool by_hand = false;     ///< somebody said so; then no other column of its kind counts
    bool of_panels = false;   ///< says that it is of the panels or the input
    bool from_start = false;  ///< "elapsed": times count from the start
    DateOrder order = DateOrder::unknown;
};

/// The column a header cell names: "V", "volts", "Voltage [V]", "U (V)", "current_mA", "PV power / kW",
/// "PvVoltage", "PV-Spannung" … A name with a word that is not known ("battery voltage", "grid power") names none.
[[nodiscard]] std::optional<NamedColumn> named_column(std::string_view cell);
/// The same, but what is named by hand comes first.
[[nodiscard]] std::optional<NamedColumn> named_column(std::string_view cell, const std::vector<ColumnByHand>& by_hand);
/// A column named by hand in the unit of a line of units.
[[nodiscard]] NamedColumn with_unit(NamedColumn named, std::string_view unit);

}  // namespace plait::input
