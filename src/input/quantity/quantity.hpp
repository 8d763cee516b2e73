// Numbers with units as people write them: "18.5 V", "-0.27 %/K", "14 °F", "1 kW/m²".
#pragma once

#include "notes.hpp"

#include <plait/base/result.hpp>

#include <span>
#include <string>
#include <string_view>

namespace plait::input {

/// What a unit measures. Values are kept in V, A, W, Ω, °C, K, W/m², ratios (1.0 = 100 %) and these per kelvin.
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
};

/// A value with the place and the words it was written in.
struct Measure {
    double value = 0.0;
    Dimension dimension = Dimension::none;
    Place at;
    std::string written;  ///< as the file has it, ready for a message
    double typed_number = 0.0;
    std::string typed_unit;  ///< in normal form; empty where none was written
};

struct Unit {
    std::string_view text;  ///< in normal form; see `normal_unit`
    Dimension dimension;
    double factor;
    double offset = 0.0;  ///< value = number·factor + offset
};

[[nodiscard]] std::span<const Unit> units();

/// "a voltage", "a change in volts per kelvin" …
[[nodiscard]] std::string_view dimension_name(Dimension dimension);

struct NumberAndUnit {
    double number = 0.0;
    std::string unit;  ///< in normal form; may be empty
};

/// Splits "18.5 V". The error completes the sentence "'voc' is "…", which …".
[[nodiscard]] Result<NumberAndUnit, std::string> split_quantity(std::string_view text);

/// One spelling for °, ², Ω, C for °C in rates, no blanks around the stroke.
[[nodiscard]] std::string normal_unit(std::string_view unit);

[[nodiscard]] double in_base_unit(double number, const Unit& unit);

/// What a number of degrees would be in Fahrenheit: "14 °F, which is -10 °C".
[[nodiscard]] std::string fahrenheit_reading(double number);

}  // namespace plait::input
