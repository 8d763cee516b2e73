// Numbers with units as people write them: "18.5 V", "-0.27 %/K", "14 °F", "1 kW/m²".
#pragma once

#include "notes.hpp"
#include "units.hpp"

#include <plait/base/result.hpp>

#include <string>
#include <string_view>

namespace plait::input {

/// A value with the place and the words it was written in.
struct Measure {
    double value = 0.0;
    Dimension dimension = Dimension::none;
    Place at;             ///< line 0: stands in for a missing key
    std::string written;  ///< as the file has it, ready for a message
    double typed_number = 0.0;
    std::string typed_unit;  ///< in normal form; empty where none was written
};

struct NumberAndUnit {
    double number = 0.0;
    std::string unit;  ///< in normal form; may be empty
};

/// Splits "18.5 V". The error completes the sentence "'voc' is "…", which …".
[[nodiscard]] Result<NumberAndUnit, std::string> split_quantity(std::string_view text);

/// What a number of degrees would be in Fahrenheit: "14 °F, which is -10 °C".
[[nodiscard]] std::string fahrenheit_reading(double number);

}  // namespace plait::input
