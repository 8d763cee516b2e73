// Decimal numbers as files and meters write them, correctly rounded and in every locale the same.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace plait::input {

struct DecimalPrefix {
    double value = 0.0;      ///< infinity where it is too large for a double, zero where too small
    std::size_t length = 0;  ///< of [sign] digits [. digits] [e [sign] digits]
};

/// The number a text begins with; empty if it begins with none. "nan" and "inf" are no numbers. `point` is the decimal
/// mark.
[[nodiscard]] std::optional<DecimalPrefix> decimal_prefix(std::string_view text, char point = '.');

/// The number that fills the whole text.
[[nodiscard]] std::optional<double> decimal_number(std::string_view text, char point = '.');

}  // namespace plait::input
