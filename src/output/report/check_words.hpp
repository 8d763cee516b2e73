// What the report on one wiring says, in sentences and tables that text and page share.
#pragma once

#include <plait/study/judgement.hpp>

#include "render/table_words.hpp"

#include <string>
#include <vector>

namespace plait::output {

/// The findings to report, the gravest first: those that decide, and those of a rule that decides nothing here.
[[nodiscard]] std::vector<const study::RuleVerdict*> verdicts_in_order(const std::vector<study::RuleVerdict>& verdicts);
/// "12.3 V against at most 12 V (margin …)" in three parts: what stands before the limit is "at most" or "at least".
[[nodiscard]] std::string_view side_of(rules::Sense sense);
/// What follows the reason of a finding: what to do instead, the harm, what is unproven, the source, and what other
/// methods of the same rule in `all` would have decided. `numbers`: assumptions are told by their numbers.
[[nodiscard]] std::vector<std::string> finding_notes(const study::RuleVerdict& verdict,
                                                     const std::vector<study::RuleVerdict>& all);
/// What is wrong and what to do instead, for the first lines; empty where all is within.
[[nodiscard]] std::vector<std::string> first_reasons(const Setup& setup, const study::Judgement& judgement);

/// The first thing to do whatever the verdict.
inline constexpr std::string_view measure_first =
    "Measure polarity and open-circuit voltage before you plug anything in.";

/// How cold it may get, and how many panels may stand in series.
[[nodiscard]] std::vector<std::string> help_sentences(const study::InputJudgement& one);
/// Remarks on what a meter should read in one weather: the limit that binds, what the cables take.
[[nodiscard]] std::vector<std::string> reading_notes(const rules::ConditionPoint& point);
/// What each string takes from the others; empty where all are alike.
[[nodiscard]] TableWords driven_table(const study::InputJudgement& one, const std::vector<std::string>& ids);
[[nodiscard]] std::vector<std::string> harvest_sentences(const Setup& setup, const study::Judgement& judgement);

}  // namespace plait::output
