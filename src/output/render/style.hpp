// How text reports look: numbers with their units, words for outcomes, colour, wrapping.
#pragma once

#include <plait/output/text.hpp>
#include <plait/rules/number_words.hpp>

#include <fmt/format.h>

#include <string>
#include <string_view>

namespace plait::output {

using rules::amps;
using rules::counted;
using rules::degrees;
using rules::size_text;
using rules::volts;
using rules::watts;
using study::deferral;

/// With its sign, a true minus.
[[nodiscard]] std::string signed_number(double value, int digits);
/// A finding's value in its unit.
[[nodiscard]] std::string in_unit(double value, rules::Unit unit);

/// "FITS", "CLIPS", … as a verdict stands in front of a line.
[[nodiscard]] std::string_view word_of(rules::Outcome outcome);
/// The class of an outcome in the style sheets of pages and pictures.
[[nodiscard]] std::string_view css_of(rules::Outcome outcome);
/// The sentence of a verdict.
[[nodiscard]] std::string sentence_of(rules::Outcome outcome, bool proven);
[[nodiscard]] std::string_view name_of(physics::Binding binding);
[[nodiscard]] std::string_view name_of(physics::NoPoint none);

/// The text in the colour of an outcome, or bold; unchanged when colour is off.
[[nodiscard]] std::string coloured(std::string_view text, rules::Outcome outcome, Colour colour);
[[nodiscard]] std::string bold(std::string_view text, Colour colour);

/// With a blank that does not break between each number and its unit.
[[nodiscard]] std::string units_kept(std::string_view text);

/// Breaks a paragraph at so many columns, every line after the first indented by `indent` blanks; the first line is
/// taken to stand at that indent already.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t indent, std::size_t line_width = 96);

/// Columns a UTF-8 text takes, counting one per character.
[[nodiscard]] std::size_t columns(std::string_view text);
/// Padded with blanks to so many columns.
[[nodiscard]] std::string padded(std::string_view text, std::size_t width);
[[nodiscard]] std::string padded_left(std::string_view text, std::size_t width);

[[nodiscard]] std::vector<std::string> kind_ids(const Setup& setup);
inline constexpr std::string_view assumed_heading = "Assumed, because it was not stated";
inline constexpr std::string_view doubtful_heading = "Doubtful, please check against the datasheet";
/// A line for each, in their order; findings name them by their numbers.
[[nodiscard]] std::vector<std::string> assumption_lines(const std::vector<Assumption>& assumptions);
[[nodiscard]] std::string assumptions_text(const std::vector<Assumption>& assumptions, Colour colour);
[[nodiscard]] std::string doubts_text(const std::vector<std::string>& doubts, Colour colour);

}  // namespace plait::output
