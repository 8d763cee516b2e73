#include <plait/input/clean_text.hpp>

#include "words.hpp"

#include <cstddef>
#include <string_view>

namespace plait::input {
namespace {

/// The length of a colour sequence at `i`, 0 if there is none.
std::size_t colour_length(std::string_view text, std::size_t i) {
    if (text.substr(i, 2) != "\x1B[") return 0;
    std::size_t end = i + 2;
    while (end < text.size() && (is_digit(text[end]) || text[end] == ';')) ++end;
    return end < text.size() && text[end] == 'm' ? end + 1 - i : 0;
}

/// The length of what may pass at `i`, 0 if it may not.
std::size_t passing_length(std::string_view text, std::size_t i, OwnMarks own) {
    const char c = text[i];
    if (c >= ' ' && c <= '~') return 1;
    if (c == '\n' || c == '\t') return 1;
    if (c == '\x1B' && own.colours) return colour_length(text, i);
    const std::size_t length = utf8_length(text, i);
    if (own.isolates && (text.substr(i, length) == "\u2068" || text.substr(i, length) == "\u2069")) return length;
    return length > 0 && !has_control_character(text.substr(i, length)) ? length : 0;
}

}  // namespace

std::string clean_text(std::string text, OwnMarks own) {
    std::size_t i = 0;
    while (i < text.size()) {
        const std::size_t length = passing_length(text, i, own);
        if (length == 0) break;
        i += length;
    }
    if (i == text.size()) return text;
    std::string out = text.substr(0, i);
    while (i < text.size()) {
        if (const std::size_t length = passing_length(text, i, own)) {
            out.append(text, i, length);
            i += length;
        } else if (const std::size_t whole = utf8_length(text, i)) {
            out += printable(std::string_view(text).substr(i, whole));
            i += whole;
        } else {
            out += "\uFFFD";
            ++i;
        }
    }
    return out;
}

}  // namespace plait::input
