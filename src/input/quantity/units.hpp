// The units of every quantity that is read, from files, options and measured tables alike: one table, so that what is
// good in one place is good in all.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace plait::input {

/// What a unit measures. Values are kept in V, A, W, Ω, °C, K, W/m², ratios (1.0 = 100 %), m, mm² and these per kelvin.
enum class Dimension {
    none,
    voltage,
    current,
    power,
    resistance,
    temperature,  ///< absolute, kept in °C
    difference,   ///< of two temperatures, K
    irradiance,
    ratio,
    ratio_per_k,
    voltage_per_k,
    current_per_k,
    power_per_k,
    cell_voltage_per_k,  ///< of one cell
    length,
    area,
    gauge,  ///< American wire gauge, a number of its own
    resistance_per_length,
    angle,   ///< kept in degrees
    energy,  ///< kept in Wh
    charge,  ///< kept in Ah
};

struct Unit {
    std::string_view text;  ///< its symbol, in normal form; see `normal_unit`
    Dimension dimension;
    double factor;
    double offset = 0.0;          ///< value = number·factor + offset
    std::string_view words = "";  ///< other ways to write it, in normal form and small letters, parted by |
    bool usual = true;            ///< false: read, but not offered
};

[[nodiscard]] std::span<const Unit> units();

/// The unit of a dimension that a text in normal form names: its symbol, else one of its words or its symbol in letters
/// of the other case. Only a capital M is never taken for a small one: "MW" is no mW. Null if there is none.
[[nodiscard]] const Unit* unit_called(std::string_view text, Dimension dimension);

/// "a voltage", "a change in volts per kelvin" …
[[nodiscard]] std::string_view dimension_name(Dimension dimension);

/// One spelling for °, ², Ω, C for °C in rates, no blanks around the stroke.
[[nodiscard]] std::string normal_unit(std::string_view unit);

[[nodiscard]] constexpr double in_base_unit(double number, const Unit& unit) {
    return number * unit.factor + unit.offset;
}

}  // namespace plait::input
