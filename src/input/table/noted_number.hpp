// Amps and watts as a hand notes them: "about 8", "8–9", "8ish", "<15".
#pragma once

#include <optional>
#include <string_view>

namespace plait::input {

/// A number with the width of all that it may stand for, in the unit it is written in.
struct NotedNumber {
    double value = 0.0;  ///< the middle
    double width = 0.0;
    std::string_view rest;  ///< what stands behind it, such as a unit
};

/// What is written, where it says itself that it is no exact figure; nothing for a plain number. About 8 is from 7 to 9,
/// about 80 from 70 to 90: one unit of the last digit that is no trailing zero, of tens at most [our reading of such
/// notes, no source].
[[nodiscard]] std::optional<NotedNumber> noted_number(std::string_view text, char point);

/// The step between two neighbours written with the same digits: 1 of "8", 0.1 of "8.0".
[[nodiscard]] double last_digit_step(std::string_view number, char point);

}  // namespace plait::input
