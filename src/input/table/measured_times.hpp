// Times as people and loggers write them.
#pragma once

#include <plait/input/measured_table.hpp>

#include <optional>
#include <string_view>

namespace plait::input {

/// Which of "05/06/2026" is the day.
enum class DateOrder : unsigned char { unknown, day_first, month_first };

struct WrittenTime {
    TimeForm form = TimeForm::none;
    double time_s = 0.0;  ///< as MeasuredRow::time_s
    /// What the text itself says of the order of a date with strokes or dashes: "25/11/2026" can only be read one way.
    DateOrder order = DateOrder::unknown;
    bool ambiguous = false;     ///< the order matters, and neither the text nor `order` told
    bool minutes_only = false;  ///< "12:30", without seconds
};

/// Times with a colon or a date: "2024-06-01T12:30:00.5+02:00", "2024-06-01 12:30Z", "01.06.2024 12:30",
/// "25/11/2026 2:03 PM", "25 Nov 2026 14:03", "12:30:05", and dates alone. Empty for anything else, impossible days and
/// hours included. Points mean day.month.year; of strokes and dashes `order` says which comes first.
[[nodiscard]] std::optional<WrittenTime> written_time(std::string_view text, DateOrder order = DateOrder::unknown);

/// "100:00:05": hours, minutes and seconds from a start, in seconds.
[[nodiscard]] std::optional<double> written_duration_s(std::string_view text);

/// The order a header asks for: "time [dd/mm/yyyy hh:mm]", "(MM-DD-YYYY)", "TT.MM.JJJJ".
[[nodiscard]] DateOrder asked_order(std::string_view normal_text);

/// Seconds since 1970 in a number that is far too large for a time from the start: seconds, or (`unit_given` false)
/// also milliseconds, microseconds or nanoseconds. Empty for other numbers.
[[nodiscard]] std::optional<double> epoch_s(double number, bool unit_given);

}  // namespace plait::input
