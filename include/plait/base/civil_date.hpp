// Calendar dates as plain data. Only the calendar of <chrono> is used: its clocks belong to the command line.
#pragma once

#include <chrono>

namespace plait {

using CivilDate = std::chrono::year_month_day;

/// A date from its three numbers; ask `ok()` whether there is such a day.
[[nodiscard]] constexpr CivilDate civil_date(int year, int month, int day) {
    return {std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
            std::chrono::day{static_cast<unsigned>(day)}};
}

/// Days since 1970-01-01, of a date that is there.
[[nodiscard]] constexpr int day_number(CivilDate date) {
    return static_cast<int>(std::chrono::sys_days(date).time_since_epoch().count());
}
/// The date of a day counted from 1970-01-01.
[[nodiscard]] constexpr CivilDate date_of(int day_number) {
    return std::chrono::sys_days(std::chrono::days(day_number));
}

[[nodiscard]] constexpr int year_of(CivilDate date) { return static_cast<int>(date.year()); }
/// 1 … 12
[[nodiscard]] constexpr int month_of(CivilDate date) { return static_cast<int>(static_cast<unsigned>(date.month())); }
/// 1 … 31
[[nodiscard]] constexpr int day_of(CivilDate date) { return static_cast<int>(static_cast<unsigned>(date.day())); }
/// 1 … 366
[[nodiscard]] constexpr int day_of_year(CivilDate date) {
    return day_number(date) - day_number(civil_date(year_of(date), 1, 1)) + 1;
}

}  // namespace plait
