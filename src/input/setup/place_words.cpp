#include "place_words.hpp"

#include "quantity/words.hpp"
#include "quantity/decimal.hpp"

#include <plait/base/civil_date.hpp>

#include <fmt/core.h>

#include <cmath>
#include <cstdint>
#include <string>

namespace plait::input {
namespace {

void replace_all(std::string& text, std::string_view what, std::string_view by) {
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size())) {
        text.replace(at, what.size(), by);
    }
}

/// Takes a decimal number off the front.
std::optional<double> take_number(std::string_view& rest) {
    std::size_t end = 0;
    while (end < rest.size() &&
           (is_digit(rest[end]) || rest[end] == '.' || (end == 0 && (rest[0] == '-' || rest[0] == '+'))))
        ++end;
    const auto value = decimal_number(rest.substr(0, end));
    if (value) rest.remove_prefix(end);
    return value;
}

void skip(std::string_view& rest, std::string_view any) {
    while (!rest.empty() && any.find(rest.front()) != std::string_view::npos) rest.remove_prefix(1);
}

}  // namespace

std::optional<double> written_coordinate(std::string_view text, char positive, char negative) {
    std::string plain_text(trimmed(text));
    static constexpr std::array<std::array<std::string_view, 2>, 7> signs{
        {{"°", "d"}, {"º", "d"}, {"′", "'"}, {"″", "\""}, {"’", "'"}, {"”", "\""}, {"−", "-"}}};
    for (const auto& [sign, by] : signs) {
        replace_all(plain_text, sign, by);
    }
    std::string_view rest = plain_text;
    const auto degrees = take_number(rest);
    if (!degrees) return std::nullopt;
    double value = std::abs(*degrees);
    skip(rest, " d");
    if (const auto minutes = take_number(rest)) {
        if (rest.empty() || rest.front() != '\'' || *minutes < 0.0 || *minutes >= 60.0) return std::nullopt;
        skip(rest, "' ");
        value += *minutes / 60.0;
        if (const auto seconds = take_number(rest)) {
            if (rest.empty() || rest.front() != '"' || *seconds < 0.0 || *seconds >= 60.0) return std::nullopt;
            skip(rest, "\" ");
            value += *seconds / 3600.0;
        }
    }
    const bool below = plain_text.front() == '-';
    if (rest.empty()) return below ? -value : value;
    if (rest.size() != 1 || below) return std::nullopt;
    if (lower(rest.front()) == lower(positive)) return value;
    if (lower(rest.front()) == lower(negative)) return -value;
    return std::nullopt;
}

std::optional<double> written_azimuth(std::string_view text) {
    static constexpr std::array<std::string_view, 16> points{"n", "nne", "ne", "ene", "e", "ese", "se", "sse",
                                                             "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"};
    std::string word;
    for (const char c : trimmed(text)) {
        if (c != '-' && c != ' ') word += lower(c);
    }
    static constexpr std::array<std::array<std::string_view, 2>, 4> names{
        {{"north", "n"}, {"east", "e"}, {"south", "s"}, {"west", "w"}}};
    for (const auto& [name, letter] : names) {
        replace_all(word, name, letter);
    }
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (points[i] == word) return 22.5 * static_cast<double>(i);
    }
    std::string_view rest = trimmed(text);
    const auto degrees = take_number(rest);
    rest = trimmed(rest);
    if (!degrees || !(rest.empty() || rest == "°" || rest == "deg")) return std::nullopt;
    return degrees;
}

std::optional<double> written_zone(std::string_view text) {
    std::string_view rest = trimmed(text);
    if (rest.substr(0, 3) == "UTC" || rest.substr(0, 3) == "GMT") rest.remove_prefix(3);
    rest = trimmed(rest);
    if (rest.empty()) return 0.0;
    const bool below = rest.front() == '-';
    const auto hours = take_number(rest);
    if (!hours) return std::nullopt;
    double value = std::abs(*hours);
    if (!rest.empty() && rest.front() == ':') {
        rest.remove_prefix(1);
        const auto minutes = take_number(rest);
        if (!minutes || *minutes < 0.0 || *minutes >= 60.0 || value != std::floor(value)) return std::nullopt;
        value += *minutes / 60.0;
    }
    if (!trimmed(rest).empty() && trimmed(rest) != "h") return std::nullopt;
    return below ? -value : value;
}

std::optional<DayOfYear> written_day_of_year(std::string_view text) {
    text = trimmed(text);
    if (text.size() != 5 || text[2] != '-') return std::nullopt;
    for (const std::size_t i : {0u, 1u, 3u, 4u}) {
        if (!is_digit(text[i])) return std::nullopt;
    }
    const DayOfYear d{10 * (text[0] - '0') + text[1] - '0', 10 * (text[3] - '0') + text[4] - '0'};
    if (!civil_date(2024, d.month, d.day).ok()) return std::nullopt;
    return d;
}

std::optional<double> written_time_of_day(std::string_view text) {
    std::string_view rest = trimmed(text);
    const auto hours = take_number(rest);
    if (!hours || *hours < 0.0) return std::nullopt;
    double value = *hours;
    if (!rest.empty() && rest.front() == ':') {
        rest.remove_prefix(1);
        const auto minutes = take_number(rest);
        if (!minutes || *minutes < 0.0 || *minutes >= 60.0 || value != std::floor(value)) return std::nullopt;
        value += *minutes / 60.0;
    }
    if (!trimmed(rest).empty() && trimmed(rest) != "h") return std::nullopt;
    return value <= 24.0 ? std::optional(value) : std::nullopt;
}

std::optional<double> number_or(const FileNotes& notes, const Entry& entry, double low, double high,
                                std::optional<double> (*reads)(std::string_view), std::string_view how) {
    std::optional<double> value;
    std::string written(type_name(entry.value));
    if (const auto* integer = entry.value.as<std::int64_t>()) value = static_cast<double>(*integer);
    if (const auto* number = entry.value.as<double>()) value = *number;
    if (value) written = plain(*value);
    if (const auto* text = entry.value.as<std::string>()) {
        value = reads(*text);
        written = quoted(*text);
    }
    if (value && *value >= low && *value <= high) return value;
    notes.complain(entry.value.at, Complaint::no_number,
                   fmt::format("{} is {}. Write {}.", named(entry.key), written, how));
    return std::nullopt;
}

std::optional<std::array<double, 12>> read_months(const FileNotes& notes, const Spec& each, const Entry& entry) {
    const auto* list = entry.value.as<List>();
    if (list == nullptr || list->size() != 12) {
        notes.complain(entry.value.at, Complaint::wrong_type,
                       fmt::format("{} is {}. Write a list of twelve values, January first.", named(entry.key),
                                   list == nullptr ? std::string(type_name(entry.value))
                                                   : fmt::format("a list of {}", list->size())));
        return std::nullopt;
    }
    std::array<double, 12> months{};
    for (std::size_t i = 0; i < months.size(); ++i) {
        const auto one = read_measure(notes, each, (*list)[i]);
        if (!one) return std::nullopt;
        months[i] = one->value;
    }
    return months;
}

}  // namespace plait::input
