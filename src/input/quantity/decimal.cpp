#include "decimal.hpp"

#include <fast_float/fast_float.h>

#include <array>
#include <cstdint>

namespace plait::input {
namespace {

// Digits with at most one mark among them, up to fifteen: the digits and the power of ten are doubles without error, so that
// their quotient is the double next to the number (W. D. Clinger, Proc. PLDI 1990, p. 92). All other spellings are left
// to fast_float, which takes three times as long over these.
std::optional<double> short_number(std::string_view text, char point) {
    constexpr std::size_t most_digits = 15;
    constexpr std::array<double, most_digits> powers{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14};
    const char* at = text.data();
    const char* const end = at + text.size();
    const bool minus = at != end && *at == '-';
    if (minus) ++at;
    if (static_cast<std::size_t>(end - at) > most_digits) return std::nullopt;
    const auto digits = [&](std::uint64_t& sum) {
        const char* const begin = at;
        for (; at != end; ++at) {
            const auto digit = static_cast<unsigned>(static_cast<unsigned char>(*at)) - unsigned{'0'};
            if (digit > 9U) break;
            sum = 10U * sum + digit;
        }
        return static_cast<std::size_t>(at - begin);
    };
    std::uint64_t sum = 0;
    if (digits(sum) == 0) return std::nullopt;
    std::size_t behind = 0;
    if (at != end && *at == point) {
        ++at;
        behind = digits(sum);
        if (behind == 0) return std::nullopt;
    }
    if (at != end) return std::nullopt;
    const double value = behind == 0 ? static_cast<double>(sum) : static_cast<double>(sum) / powers[behind];
    return minus ? -value : value;
}

}  // namespace

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
    if (const std::optional<double> value = short_number(text, point)) return value;
    const std::optional<DecimalPrefix> prefix = decimal_prefix(text, point);
    return prefix && prefix->length == text.size() ? std::optional<double>(prefix->value) : std::nullopt;
}

}  // namespace plait::input
