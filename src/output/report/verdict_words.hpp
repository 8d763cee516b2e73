// A verdict in words and marks: the same in every report, picture, card and file.
#pragma once

#include <plait/output/report.hpp>
#include <plait/study/judgement.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] Tone tone_of(const study::Answers& verdict);
/// Without its conditions: "NEEDS, CLIPS ?", for a line of a list.
[[nodiscard]] std::string word_of(const study::Answers& verdict);
/// With every condition: "NEEDS 3 string fuses of at most 15.00 A; then CLIPS 0.4 %".
[[nodiscard]] std::string headline_of(const Setup& setup, const study::Verdict& verdict);
/// What it means, in a sentence or two.
[[nodiscard]] std::string sentence_of(const study::Verdict& verdict);
/// For programs: exceeds, may-exceed, unknown, needs, falls-short, clips, fits. The first that holds.
[[nodiscard]] std::string_view name_of(const study::Answers& verdict);
/// "0.4 %", "under 0.1 %"
[[nodiscard]] std::string clipped_words(double clipped_ratio);

/// One finding of a rule: "within", "EXCEEDS", "MAY EXCEED"; with a ? where a tolerance or an assumption may turn it.
[[nodiscard]] Table::Mark mark_of(const study::RuleVerdict& verdict);

/// What the words of verdicts and findings mean.
[[nodiscard]] Marks verdict_marks();

/// "PV1 = 3s2p; PV2 = 1s1p"
[[nodiscard]] std::string plan_words(const Setup& setup, const ArrayPlan& plan);
[[nodiscard]] std::string plan_words(const Setup& setup, const study::Judgement& judgement);

/// Of a verdict that an assumed figure could turn, where the report does not name the figure.
inline constexpr std::string_view could_exceed_words =
    "An assumed value could carry it past a limit that must never be passed: `plait check` says which.";

/// What comes before any energy of a plan that may not be connected as it is; empty where it may.
[[nodiscard]] std::string before_energy(const study::Verdict& verdict);

}  // namespace plait::output
