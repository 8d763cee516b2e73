// The style sheet of pages: light, dark, forced colours, phone, paper.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] std::string_view page_style();

/// The rule that prints these words at the foot of every sheet, with its number.
[[nodiscard]] std::string paper_foot(const std::vector<std::string>& words);

}  // namespace plait::output
