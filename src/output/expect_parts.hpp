// What the commissioning card and the answer to readings have in common. Private to the output layer.
#pragma once

#include <plait/output/expect.hpp>

#include "expect_words.hpp"
#include "style.hpp"

namespace plait::output::on_card {

/// 80 columns: to be printed.
inline constexpr std::size_t width = 80;

/// A paragraph, indented as wide as what stands in front of it.
[[nodiscard]] std::string para(std::string_view first, std::string_view text);
[[nodiscard]] std::string plus_minus(double half, std::string_view unit);
[[nodiscard]] std::string plan_line(const study::FieldModel& model, const study::Card& card);
[[nodiscard]] std::string weather_text(const study::Card& card);
[[nodiscard]] std::string bands_text(const study::FieldModel& model, const study::Card& card, Colour colour);
[[nodiscard]] std::string cautions_text(const study::Card& card, Colour colour);

}  // namespace plait::output::on_card
