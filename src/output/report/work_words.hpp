// Sentences about parts and the order of work that text and pages share.
#pragma once

#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// The verdict as the headline, what it means, what must be added.
void add_verdict_head(Report& report, const Setup& setup, const study::Judgement& judgement);
/// The drawing of each input's wiring.
void add_wiring_pictures(Report& report, const Setup& setup, const study::Judgement& judgement);
/// "12.0 m", "4 ×"
[[nodiscard]] std::string count_words(const study::PartLine& part);
/// What the panels come to, or nothing where no price is known.
[[nodiscard]] std::string price_sentence(const Setup& setup, const std::vector<study::PartLine>& parts);
/// That cables are missing from the list because the set-up has none; else nothing.
[[nodiscard]] std::string no_cables_sentence(const Setup& setup);
/// "up to 118 V"; "dead" where hands go and nothing is live, "–" where they go nowhere
[[nodiscard]] std::string live_words(const study::Step& step);
/// What the voltages beside the steps are.
inline constexpr std::string_view step_voltages =
    "Voltages are the most there can be at the hands, on the coldest morning.";

}  // namespace plait::output
