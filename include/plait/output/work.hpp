// What comes after the verdict: the parts to get, and the order of work.
#pragma once

#include <plait/output/text.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>

#include <string>
#include <vector>

namespace plait::output {

[[nodiscard]] std::string parts_text(const Setup& setup, const study::Judgement& judgement,
                                     const std::vector<study::PartLine>& parts, Colour colour);
/// With a heading line, fields quoted as RFC 4180 has it; text that a spreadsheet would take for a formula is quoted with an apostrophe.
[[nodiscard]] std::string parts_csv(const std::vector<study::PartLine>& parts);
[[nodiscard]] std::string parts_json(const Setup& setup, const study::Judgement& judgement,
                                     const std::vector<study::PartLine>& parts);

[[nodiscard]] std::string steps_text(const Setup& setup, const study::Judgement& judgement,
                                     const study::StepList& steps, Colour colour);
[[nodiscard]] std::string steps_json(const Setup& setup, const study::Judgement& judgement,
                                     const study::StepList& steps);

}  // namespace plait::output
