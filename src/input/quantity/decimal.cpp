#include "decimal.hpp"

#include <fast_float/fast_float.h>

namespace plait::input {

std::optional<DecimalPrefix> decimal_prefix(std::string_view text, char point) {
    const bool plus = !text.empty() && text.front() == '+';
    const std::string_view number = text.substr(plus ? 1 : 0);
    // What fast_float would take besides digits: "inf", "nan", and a second sign.
    const std::size_t first = !plus && !number.empty() && number.front() == '-' ? 1 : 0;
    if (first >= number.size()) return std::nullopt;
    const char c = number[first];
    if (!(c >= '0' && c <= '9') && c != point) return std::nullopt;
    DecimalPrefix prefix;
    const fast_float::parse_options options(fast_float::chars_format::general, point);
    const auto read =
        fast_float::from_chars_advanced(number.data(), number.data() + number.size(), prefix.value, options);
    if (read.ec == std::errc::invalid_argument) return std::nullopt;
    prefix.length = static_cast<std::size_t>(read.ptr - number.data()) + (plus ? 1 : 0);
    return prefix;
}

std::optional<double> decimal_number(std::string_view text, char point) {
    const std::optional<DecimalPrefix> prefix = decimal_prefix(text, point);
    return prefix && prefix->length == text.size() ? std::optional<double>(prefix->value) : std::nullopt;
}

}  // namespace plait::input
