// Sentences and tables about one judged wiring that several reports use.
#pragma once

#include <plait/output/report.hpp>
#include <plait/study/judgement.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// The findings to report, the gravest first: those that decide, and those of a rule that decides nothing here.
[[nodiscard]] std::vector<const study::RuleVerdict*> verdicts_in_order(const std::vector<study::RuleVerdict>& verdicts);

/// What is wrong or missing and what to do instead, the first word's reasons first: a line each, a cure with an arrow in
/// front. Of what only costs output the first; the detail has the others.
[[nodiscard]] std::vector<std::string> first_reasons(const Setup& setup, const study::Judgement& judgement);

/// How many panels on hand the plan leaves out; empty where it uses all, or more.
[[nodiscard]] std::string unused_sentence(const Setup& setup, const ArrayPlan& plan);

/// How cold it may get, and how many panels may stand in series; nothing where the wiring is outside its limits.
[[nodiscard]] std::vector<std::string> help_sentences(const study::InputJudgement& one);

/// Every rule with its value, limit, room and reason, the gravest first.
[[nodiscard]] Table rule_table(const std::vector<study::RuleVerdict>& verdicts);
/// Weathers a meter meets, or the test conditions, which are those of a laboratory.
enum class Weathers { outdoors, test_conditions };
/// What a meter and the input's display should show, a row for each of the weathers.
[[nodiscard]] Table reading_table(const rules::ConditionPoints& points, Weathers weathers);
/// The same weathers with what binds, what is not taken and what the cables take.
[[nodiscard]] Table operation_table(const rules::ConditionPoints& points);
/// What each string takes from the others; empty where all are alike.
[[nodiscard]] Table driven_table(const study::InputJudgement& one, const std::vector<std::string>& ids);
[[nodiscard]] std::vector<std::string> harvest_sentences(const Setup& setup, const study::Judgement& judgement);

}  // namespace plait::output
