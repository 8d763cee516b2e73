// How many columns a text takes in a terminal, and how it is padded and broken.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// Columns of a UTF-8 text, as fmt pads it: wide characters count two.
[[nodiscard]] std::size_t display_width(std::string_view text);
[[nodiscard]] std::string padded(std::string_view text, std::size_t width);
[[nodiscard]] std::string padded_left(std::string_view text, std::size_t width);

/// The text in lines of at most so many columns, broken at blanks that do not part a number from its unit. A longer
/// word has a line to itself.
[[nodiscard]] std::vector<std::string> broken(std::string_view text, std::size_t width);

/// The parts with a separator between each two.
[[nodiscard]] std::string joined(const std::vector<std::string>& parts, std::string_view separator);
/// "A", "A and B", "A, B and C" of any texts.
[[nodiscard]] std::string listed(const std::vector<std::string>& parts);

/// With a blank that does not break between each number and its unit.
[[nodiscard]] std::string units_kept(std::string_view text);

}  // namespace plait::output
