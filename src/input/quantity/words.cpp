#include "words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace plait::input {
namespace {

constexpr std::size_t longest_shown = 40;
constexpr std::size_t most_listed = 12;
constexpr std::size_t longest_compared = 64;

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

// The code point of one character. Text that is no UTF-8 may have a run of continuing bytes that is longer than any.
std::uint32_t code_of(std::string_view character) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(character[i])); };
    if (character.size() == 1) return byte(0);
    constexpr std::size_t longest_character = 4;
    if (character.size() > longest_character) return 0xFFFDU;
    std::uint32_t code = byte(0) & (0xFFU >> (character.size() + 1));
    for (std::size_t i = 1; i < character.size(); ++i) code = (code << 6U) | (byte(i) & 0x3FU);
    return code;
}

struct CodeRange {
    std::uint32_t first;
    std::uint32_t last;
};

template <std::size_t N>
bool is_in(std::uint32_t code, const std::array<CodeRange, N>& ranges) {
    return std::any_of(ranges.begin(), ranges.end(),
                       [&](CodeRange r) { return code >= r.first && code <= r.last; });
}

// Control characters, line and paragraph separators, and the marks that reorder or hide text.
constexpr std::array<CodeRange, 7> control_codes{{{0x0000, 0x001F},
                                                  {0x007F, 0x009F},
                                                  {0x061C, 0x061C},
                                                  {0x200B, 0x200F},
                                                  {0x2028, 0x202E},
                                                  {0x2060, 0x206F},
                                                  {0xFEFF, 0xFEFF}}};
// What shows nothing by itself: the White_Space and Default_Ignorable_Code_Point properties of Unicode 15, and the
// empty braille pattern.
constexpr std::array<CodeRange, 19> blank_codes{{{0x0020, 0x0020},   {0x00A0, 0x00A0}, {0x00AD, 0x00AD},
                                                 {0x034F, 0x034F},   {0x115F, 0x1160}, {0x1680, 0x1680},
                                                 {0x17B4, 0x17B5},   {0x180B, 0x180F}, {0x2000, 0x200A},
                                                 {0x202F, 0x202F},   {0x205F, 0x205F}, {0x2800, 0x2800},
                                                 {0x3000, 0x3000},   {0x3164, 0x3164}, {0xFE00, 0xFE0F},
                                                 {0xFFA0, 0xFFA0},   {0xFFF0, 0xFFF8}, {0x1BCA0, 0x1BCA3},
                                                 {0xE0000, 0xE0FFF}}};

bool is_control(std::string_view character) { return is_in(code_of(character), control_codes); }
bool is_blank(std::string_view character) {
    const std::uint32_t code = code_of(character);
    return is_in(code, control_codes) || is_in(code, blank_codes);
}

std::string escaped(std::string_view character) {
    if (character == "\n") return "\\n";
    if (character == "\t") return "\\t";
    if (character == "\r") return "\\r";
    return fmt::format("\\u{:04X}", code_of(character));
}

// The next whole character at `i`.
std::string_view character_at(std::string_view text, std::size_t i) {
    std::size_t end = i + 1;
    while (end < text.size() && continues(text[end])) ++end;
    return text.substr(i, end - i);
}

std::string escaped_text(std::string_view text, std::size_t longest) {
    std::string out;
    std::size_t shown = 0;
    for (std::size_t i = 0; i < text.size();) {
        if (shown++ == longest) {
            out += "…";
            break;
        }
        const std::string_view c = character_at(text, i);
        out += is_control(c) ? escaped(c) : std::string(c);
        i += c.size();
    }
    return out;
}

std::string between(std::string_view text, char quote, std::size_t longest) {
    return quote + escaped_text(text, longest) + quote;
}

// Insertions, deletions, changes and swapped neighbours; a change of case or of '-' for '_' costs nothing.
std::size_t distance(std::string_view a, std::string_view b) {
    const auto same = [](char x, char y) {
        const auto dash = [](char c) { return c == '_' || c == ' ' ? '-' : lower(c); };
        return dash(x) == dash(y);
    };
    std::vector<std::size_t> before(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            row[j] = std::min({last[j - 1] + (same(a[i - 1], b[j - 1]) ? 0U : 1U), last[j] + 1, row[j - 1] + 1});
            const bool swapped = i > 1 && j > 1 && same(a[i - 1], b[j - 2]) && same(a[i - 2], b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
        }
        std::swap(before, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

}  // namespace

std::string quoted(std::string_view text) { return between(text, '"', longest_shown); }
std::string printable(std::string_view text) { return escaped_text(text, text.size()); }
std::string quoted_whole(std::string_view text) { return between(text, '"', text.size()); }
std::string named(std::string_view name) { return between(name, '\'', longest_shown); }

std::string any_of(const Words& words) {
    std::string out;
    const std::size_t listed = std::min(words.size(), most_listed);
    for (std::size_t i = 0; i < listed; ++i) {
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += words[i];
    }
    if (listed < words.size()) out += " …";
    return out;
}

std::optional<std::string_view> nearest(std::string_view word, const Words& candidates) {
    if (word.empty() || word.size() > longest_compared) return std::nullopt;
    std::optional<std::string_view> best;
    std::size_t best_distance = std::max<std::size_t>(1, word.size() / 3) + 1;
    for (const std::string_view c : candidates) {
        if (c.size() > longest_compared) continue;
        const std::size_t d = distance(word, c);
        // Two short words that share no letter are not near, however short.
        if (d < best_distance && d < std::max(word.size(), c.size())) {
            best = c;
            best_distance = d;
        }
    }
    return best;
}

std::string suggestion(std::string_view word, const Words& candidates, std::string_view noun) {
    if (const auto near = nearest(word, candidates)) return fmt::format("Did you mean {}?", named(*near));
    if (candidates.empty()) return fmt::format("{}: none.", noun);
    return fmt::format("{}: {}.", noun, any_of(candidates));
}

std::size_t character_count(std::string_view utf8) {
    return static_cast<std::size_t>(std::count_if(utf8.begin(), utf8.end(), [](char c) { return !continues(c); }));
}

bool shows_nothing(std::string_view utf8) {
    for (std::size_t i = 0; i < utf8.size();) {
        const std::string_view c = character_at(utf8, i);
        if (!is_blank(c)) return false;
        i += c.size();
    }
    return true;
}

bool has_control_character(std::string_view utf8) {
    for (std::size_t i = 0; i < utf8.size();) {
        const std::string_view c = character_at(utf8, i);
        if (is_control(c)) return true;
        i += c.size();
    }
    return false;
}

std::size_t utf8_length(std::string_view text, std::size_t i) {
    const auto byte = [&](std::size_t k) { return static_cast<unsigned>(static_cast<unsigned char>(text[k])); };
    const unsigned first = byte(i);
    if (first < 0x80U) return 1;
    const std::size_t length = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
    if (first < 0xC2U || first > 0xF4U || i + length > text.size()) return 0;
    const unsigned second = byte(i + 1);
    const unsigned low = first == 0xE0U ? 0xA0U : first == 0xF0U ? 0x90U : 0x80U;
    const unsigned high = first == 0xEDU ? 0x9FU : first == 0xF4U ? 0x8FU : 0xBFU;
    if (second < low || second > high) return 0;
    for (std::size_t k = i + 2; k < i + length; ++k) {
        if (!continues(text[k])) return 0;
    }
    return length;
}

int column_at(std::string_view line, std::size_t offset) {
    return static_cast<int>(character_count(line.substr(0, offset))) + 1;
}

std::string lower(std::string_view text) {
    std::string small(text);
    for (char& c : small) c = lower(c);
    return small;
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string plain(double value) {
    const bool large_and_whole = std::abs(value) >= 1e6 && std::abs(value) < 1e12 && value == std::floor(value);
    return large_and_whole ? fmt::format("{:.0f}", value) : fmt::format("{:.6g}", value);
}

}  // namespace plait::input
