// The cells of a measured table: numbers and states, read fast where they are written as usual.
#pragma once

#include <plait/input/measured_table.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <string_view>

namespace plait::input {

/// A decimal number that fills the whole text. Exact up to 15 digits with exponents to ±22 (both factors are then exact
/// doubles, so the one rounding is the right one); beyond that within a few units in the last place, which no meter
/// reaches. Floating-point from_chars is not in every library this is built with, and strtod heeds the locale.
/// Too large for a double comes out as infinity; "nan" and "inf" are no numbers.
[[nodiscard]] inline std::optional<double> fast_number(std::string_view text, char decimal) {
    static constexpr std::array<double, 23> tens{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                                 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    static constexpr std::uint64_t full = (std::numeric_limits<std::uint64_t>::max() - 9U) / 10U;
    const char* p = text.data();
    const char* const end = p + text.size();
    const bool negative = p != end && *p == '-';
    if (p != end && (*p == '-' || *p == '+')) ++p;
    std::uint64_t digits = 0;
    int exponent = 0;
    bool any = false;
    bool after = false;
    for (; p != end; ++p) {
        const auto digit = static_cast<unsigned>(*p) - static_cast<unsigned>('0');
        if (digit < 10U) {
            any = true;
            if (digits <= full) {
                digits = digits * 10U + digit;
                if (after) --exponent;
            } else if (!after) {
                ++exponent;
            }
        } else if (*p == decimal && !after) {
            after = true;
        } else {
            break;
        }
    }
    if (!any) return std::nullopt;
    if (p != end && (*p == 'e' || *p == 'E')) {
        if (++p == end) return std::nullopt;
        const bool small = *p == '-';
        if ((*p == '-' || *p == '+') && ++p == end) return std::nullopt;
        int written = 0;
        for (; p != end; ++p) {
            const auto digit = static_cast<unsigned>(*p) - static_cast<unsigned>('0');
            if (digit >= 10U) return std::nullopt;
            if (written < 100000) written = written * 10 + static_cast<int>(digit);
        }
        exponent += small ? -written : written;
    }
    if (p != end) return std::nullopt;
    auto value = static_cast<double>(digits);
    if (digits != 0 && exponent > 0) {
        for (; exponent > 22 && std::isfinite(value); exponent -= 22) value *= tens[22];
        if (std::isfinite(value)) value *= tens[static_cast<std::size_t>(exponent)];
    } else if (digits != 0 && exponent < 0) {
        for (; exponent < -22 && value != 0.0; exponent += 22) value /= tens[22];
        if (value != 0.0) value /= tens[static_cast<std::size_t>(-exponent)];
    }
    return negative ? -value : value;
}

/// The state a word stands for.
[[nodiscard]] std::optional<MeasuredState> written_state(std::string_view word);

/// What a remark in a person's own words says: "TRIP!", "still off", "supply in CC".
struct SaidInWords {
    MeasuredState state = MeasuredState::unsaid;
    bool supply_was_the_limit = false;
};
[[nodiscard]] SaidInWords said_in(std::string_view remark);
/// Whether a column of this title holds such remarks.
[[nodiscard]] bool titles_remarks(std::string_view title);

/// Empty, dashes, "n/a", "null", "nan", "unavailable" and their like: not measured.
[[nodiscard]] bool says_not_measured(std::string_view cell);

/// Whether a line begins like one below a table: "Total", "Average", "Summe", "End of …".
[[nodiscard]] bool says_summary(std::string_view line);

}  // namespace plait::input
