// What a bench sweep taught, for people, programs, spreadsheets and the other commands.
#pragma once

#include <plait/measured/window_comparison.hpp>
#include <plait/output/text.hpp>

#include <string>

namespace plait::output {

[[nodiscard]] std::string learn_text(const measured::LearnSheet& sheet, Colour colour);
[[nodiscard]] std::string learn_json(const measured::LearnSheet& sheet);
/// Every row with its fit.
[[nodiscard]] std::string learn_csv(const measured::LearnSheet& sheet);
/// The controller as a TOML file that input/read_controller takes, with a comment on each figure that was measured.
[[nodiscard]] std::string learn_toml(const measured::LearnSheet& sheet);

}  // namespace plait::output
