// What a bench sweep taught, for people, programs, spreadsheets and the other commands.
#pragma once

#include <plait/output/text.hpp>
#include <plait/study/window_comparison.hpp>

#include <string>

namespace plait::output {

[[nodiscard]] std::string learn_text(const study::LearnSheet& sheet, Colour colour);
[[nodiscard]] std::string learn_json(const study::LearnSheet& sheet);
/// Every row with its fit.
[[nodiscard]] std::string learn_csv(const study::LearnSheet& sheet);
/// The controller as a TOML file that input/read_controller takes, with a comment on each figure that was measured.
[[nodiscard]] std::string learn_toml(const study::LearnSheet& sheet);

}  // namespace plait::output
