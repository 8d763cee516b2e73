// The small change of messages: quoting what a person wrote, shortened and with nothing unprintable in it, and finding
// the word that was meant.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

using Words = std::vector<std::string_view>;

/// The text in double quotes, at most about 40 characters of it, control characters escaped.
[[nodiscard]] std::string quoted(std::string_view text);
/// The text without quotes and uncut, control characters escaped.
[[nodiscard]] std::string printable(std::string_view text);
/// Like `quoted`, uncut: for paths, which are of use only whole.
[[nodiscard]] std::string quoted_whole(std::string_view text);

/// The key, id or name in single quotes, otherwise like `quoted`.
[[nodiscard]] std::string named(std::string_view name);

/// "a, b or c"; at most a dozen of them.
[[nodiscard]] std::string any_of(const Words& words);

/// The candidate within a few typing slips of `word`, upper and lower case alike; the nearest if there are several.
[[nodiscard]] std::optional<std::string_view> nearest(std::string_view word, const Words& candidates);

/// "Did you mean 'x'?" or, when nothing is near, "<noun>: a, b or c."
[[nodiscard]] std::string suggestion(std::string_view word, const Words& candidates, std::string_view noun);

/// The number of characters (code points) of a UTF-8 text.
[[nodiscard]] std::size_t character_count(std::string_view utf8);

/// Whether nothing of the text is to be seen: it is empty, or of blanks and invisible characters alone.
[[nodiscard]] bool shows_nothing(std::string_view utf8);

/// Whether the text holds what a name may not: control characters, and the invisible ones that reorder or hide text.
[[nodiscard]] bool has_control_character(std::string_view utf8);

/// The length of the well-formed UTF-8 character at `i`, or 0 (Unicode 15, table 3-7: no overlong forms, no surrogates,
/// nothing above U+10FFFF).
[[nodiscard]] std::size_t utf8_length(std::string_view text, std::size_t i);

/// The column, from 1, of the character at a byte of a line.
[[nodiscard]] int column_at(std::string_view line, std::size_t offset);

[[nodiscard]] constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
[[nodiscard]] constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
[[nodiscard]] std::string lower(std::string_view text);

/// The text without blanks at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// A number as a person would write it: six digits, or all of a large whole number; no trailing zeros.
[[nodiscard]] std::string plain(double value);

}  // namespace plait::input
