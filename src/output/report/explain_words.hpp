// What the reports on a log call the causes, and the sentences that text and JSON share.
#pragma once

#include <plait/output/subjects.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// "power-limit", for programs.
[[nodiscard]] std::string_view name_of(measured::Cause cause);
/// "the input's power limit", for people.
[[nodiscard]] std::string_view words_of(measured::Cause cause);

/// What a reviewer would write: how much, and where the most of it went.
[[nodiscard]] std::vector<std::string> summary(const study::SystemModel& system, const ExplainedLog& log);
/// What to change first; one sentence or two.
[[nodiscard]] std::string first_change(const study::SystemModel& system, const ExplainedLog& log);
/// How the account comes about, and what it is not.
inline constexpr std::string_view by_probabilities =
    "Causes are charged by their probabilities (docs/explain.md). This explains a log; it judges no limit.";
/// What the columns of this log do not tell apart.
[[nodiscard]] std::vector<std::string> what_stays_open(const study::SystemModel& system, const ExplainedLog& log);
/// "288 rows, 23.9 hours"
[[nodiscard]] std::string what_was_logged(const ExplainedLog& log);
/// The energy account, one row a cause.
[[nodiscard]] Table account_table(const study::SystemModel& system, const ExplainedLog& log);

}  // namespace plait::output
