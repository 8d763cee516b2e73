// Calendar dates as plain data. Only the calendar of <chrono> is used: its clocks belong to the command line.
#pragma once

#include <array>
#include <chrono>
#include <cstddef>
#include <string>
#include <string_view>

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

inline constexpr std::array<std::string_view, 12> month_names{"January", "February", "March",     "April",   "May",      "June",
                                                              "July",    "August",   "September", "October", "November", "December"};
/// Of a month 1 … 12.
[[nodiscard]] constexpr std::string_view month_name(int month) { return month_names[static_cast<std::size_t>(month - 1)]; }

/// "june", "Jun", "sept": the month whose name begins so, 1 … 12, by three letters or more; 0 for none.
[[nodiscard]] constexpr int month_named(std::string_view word) {
    const auto small = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
    for (std::size_t m = 0; word.size() >= 3 && m < month_names.size(); ++m) {
        bool same = word.size() <= month_names[m].size();
        for (std::size_t i = 0; same && i < word.size(); ++i) same = small(word[i]) == small(month_names[m][i]);
        if (same) return static_cast<int>(m) + 1;
    }
    return 0;
}

/// "2026-06-21", of a day since 1970-01-01.
[[nodiscard]] inline std::string iso_date(int day_number) {
    const CivilDate date = date_of(day_number);
    const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return std::to_string(year_of(date)) + "-" + two(month_of(date)) + "-" + two(day_of(date));
}

}  // namespace plait
