#include "noted_number.hpp"

#include "quantity/decimal.hpp"
#include "quantity/words.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::input {
namespace {

bool begins_with(std::string_view text, std::string_view small) {
    return text.size() >= small.size() &&
           std::equal(small.begin(), small.end(), text.begin(), [](char s, char c) { return lower(c) == s; });
}

template <std::size_t N>
bool take_one_of(std::string_view& text, const std::array<std::string_view, N>& words) {
    for (const std::string_view word : words) {
        if (!begins_with(text, word)) continue;
        text = trimmed(text.substr(word.size()));
        return true;
    }
    return false;
}

/// The number at the beginning, which is taken off.
std::optional<double> take_number(std::string_view& text, char point, std::string_view& digits) {
    std::size_t end = 0;
    while (end < text.size() && ((text[end] >= '0' && text[end] <= '9') || text[end] == point)) ++end;
    digits = text.substr(0, end);
    const auto value = decimal_number(digits, point);
    if (value) text = trimmed(text.substr(end));
    return value;
}

double about_step(std::string_view digits, char point) {
    const double step = last_digit_step(digits, point);
    return step == 1.0 && digits.size() > 1 && digits.back() == '0' ? 10.0 : step;
}

}  // namespace

double last_digit_step(std::string_view number, char point) {
    const std::size_t at = number.find(point);
    if (at == std::string_view::npos) return 1.0;
    std::size_t digits = 0;
    while (at + 1 + digits < number.size() && number[at + 1 + digits] >= '0' && number[at + 1 + digits] <= '9') ++digits;
    static constexpr std::array<double, 7> steps{1.0, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6};  // a million rows have eight million numbers
    return digits < steps.size() ? steps[digits] : std::pow(10.0, -static_cast<double>(digits));
}

std::optional<NotedNumber> noted_number(std::string_view text, char point) {
    static constexpr std::array<std::string_view, 13> abouts{"about ",   "around ", "approximately ", "approx. ", "approx ",
                                                             "roughly ", "circa ",  "ca. ",           "ca ",      "c. ",
                                                             "etwa ",    "~",       "≈"};
    static constexpr std::array<std::string_view, 6> belows{"<", "≤", "less than ", "below ", "under ", "unter "};
    static constexpr std::array<std::string_view, 6> dashes{"–", "—", "-", "to ", "bis ", "…"};
    text = trimmed(text);
    const bool below = take_one_of(text, belows);
    const bool about = !below && take_one_of(text, abouts);
    std::string_view digits;
    const auto first = take_number(text, point, digits);
    if (!first) return std::nullopt;
    if (below) return NotedNumber{0.5 * *first, *first, text};
    static constexpr std::array<std::string_view, 2> ish{"-ish", "ish"};
    if (take_one_of(text, ish) || about) return NotedNumber{*first, 2.0 * about_step(digits, point), text};
    if (!take_one_of(text, dashes)) return std::nullopt;
    const auto second = take_number(text, point, digits);
    if (!second || !(*second > *first)) return std::nullopt;
    return NotedNumber{0.5 * (*first + *second), *second - *first, text};
}

}  // namespace plait::input
