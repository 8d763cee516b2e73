#include "display_width.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace plait::output {
namespace {

bool is_unit(std::string_view word) {
    static constexpr std::array<std::string_view, 24> units{
        "Wh", "kWh", "mm²", "V", "mV", "kV",   "A",   "mA",  "W",    "kW",  "Ω",   "mΩ",
        "°C", "°F",  "K",   "%", "h",  "W/m²", "%/K", "V/K", "mV/K", "AWG", "m/s", "MΩ"};
    while (!word.empty() && std::string_view(".,;:)?").find(word.back()) != std::string_view::npos) {
        word.remove_suffix(1);
    }
    return std::find(units.begin(), units.end(), word) != units.end();
}

// Where a line may end: at the first blank that does not part a number from its unit.
std::size_t end_of_word(std::string_view text) {
    std::size_t blank = text.find(' ');
    while (blank != std::string_view::npos && blank > 0 && text[blank - 1] >= '0' && text[blank - 1] <= '9') {
        const std::size_t next = text.find(' ', blank + 1);
        if (!is_unit(text.substr(blank + 1, next == std::string_view::npos ? next : next - blank - 1))) break;
        blank = next;
    }
    return blank;
}

}  // namespace

std::size_t display_width(std::string_view text) {
    // fmt pads by display width and has no public function for the width itself: what it adds to a field as wide as the
    // text has bytes is the rest.
    return 2 * text.size() - fmt::formatted_size("{:<{}}", text, text.size());
}

std::string padded(std::string_view text, std::size_t width) { return fmt::format("{:<{}}", text, width); }
std::string padded_left(std::string_view text, std::size_t width) { return fmt::format("{:>{}}", text, width); }

std::vector<std::string> broken(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    std::size_t column = 0;
    while (!text.empty()) {
        const std::size_t blank = end_of_word(text);
        const std::string_view word = text.substr(0, blank);
        const std::size_t wide = display_width(word);
        if (lines.empty() || column + 1 + wide > width) {
            lines.emplace_back(word);
            column = wide;
        } else {
            lines.back() += ' ';
            lines.back() += word;
            column += 1 + wide;
        }
        text = blank == std::string_view::npos ? std::string_view() : text.substr(blank + 1);
    }
    return lines;
}

// By hand: fmt::join lies in a header that takes longer to compile than all of this file.
std::string listed(const std::vector<std::string>& parts) {
    std::string out;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        out += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    }
    return out;
}

std::string joined(const std::vector<std::string>& parts, std::string_view separator) {
    std::string out;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (i > 0) out += separator;
        out += parts[i];
    }
    return out;
}

std::string units_kept(std::string_view text) {
    std::string out;
    for (;;) {
        const std::size_t end = end_of_word(text);
        for (const char c : text.substr(0, end)) {
            if (c == ' ') {
                out += "\u00A0";
            } else {
                out += c;
            }
        }
        if (end == std::string_view::npos) return out;
        out += ' ';
        text.remove_prefix(end + 1);
    }
}

}  // namespace plait::output
