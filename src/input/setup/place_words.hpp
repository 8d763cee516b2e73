// How people write places and directions: "52° 18' N", "SSE", "+5:45", "03-30", "18:30".
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"

#include <array>
#include <optional>
#include <string_view>

namespace plait::input {

/// Degrees, `positive` and `negative` being the letters of the two sides ("N", "S"): 52.3, "52.3 °N", "52°18'30\" N".
[[nodiscard]] std::optional<double> written_coordinate(std::string_view text, char positive, char negative);
/// Degrees from north through east: "SSE", "south-east", "157.5", "157.5 °".
[[nodiscard]] std::optional<double> written_azimuth(std::string_view text);
/// Hours: "+1", "-3:30", "UTC+05:45".
[[nodiscard]] std::optional<double> written_zone(std::string_view text);

struct DayOfYear {
    int month = 0;
    int day = 0;
};
/// "03-30"
[[nodiscard]] std::optional<DayOfYear> written_day_of_year(std::string_view text);
/// Hours since midnight: "18:30", "7".
[[nodiscard]] std::optional<double> written_time_of_day(std::string_view text);

/// A number, or a text that one of the above reads; a complaint that ends with `how` otherwise.
[[nodiscard]] std::optional<double> number_or(const FileNotes& notes, const Entry& entry, double low, double high,
                                              std::optional<double> (*reads)(std::string_view), std::string_view how);

/// Twelve values of a kind, January first.
[[nodiscard]] std::optional<std::array<double, 12>> read_months(const FileNotes& notes, const Spec& each,
                                                                const Entry& entry);

}  // namespace plait::input
