// Numbers as every report writes them: enough digits that "exceeds" never reads "60.0 V against 60.0 V", a true minus,
// and no sign where nothing is left after rounding.
#pragma once

#include <plait/base/temperature.hpp>
#include <plait/model/cable.hpp>

#include <cstddef>
#include <string>

namespace plait::rules {

[[nodiscard]] std::string volts(double value_v);
[[nodiscard]] std::string amps(double value_a);
[[nodiscard]] std::string watts(double value_w);
[[nodiscard]] std::string degrees(Celsius t);

/// Six digits at most, no unit: for a number whose place gives the unit.
[[nodiscard]] std::string plain_number(double value);

/// "1 string", "2 strings".
[[nodiscard]] std::string counted(std::size_t n, const char* one, const char* many);

/// "4 mm²", "12 AWG".
[[nodiscard]] std::string size_text(const CableSize& size);

/// A printed number with U+2212 for its hyphen; "-0.0 W" loses the sign: it would only be the last bit of a sum
/// showing.
[[nodiscard]] std::string with_minus_sign(std::string text);

}  // namespace plait::rules
