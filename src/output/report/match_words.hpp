// A pair of a panel and a controller in words: the same in the report, the lines and the table.
#pragma once

#include <plait/output/match.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// "4 roof-430 on box", of the panels in use; "roof-430 on box" where there is no wiring.
[[nodiscard]] std::string pair_name(const search::MatchStudy& study, const search::PairAnswer& answer);
/// What must be added first; may be empty. `setup`: of the pair with as many panels.
[[nodiscard]] std::string pair_conditions(const Setup& setup, const search::PairAnswer& answer);
/// The rule that decides its verdict; may be empty.
[[nodiscard]] std::string pair_decided_by(const Setup& setup, const search::PairAnswer& answer);

/// "roof-430, up to 4": what was tried, for the report's head.
[[nodiscard]] std::vector<std::string> tried_sentences(const MatchSubject& subject);
/// How many pairs went which way.
[[nodiscard]] std::vector<std::string> tally_sentences(const MatchSubject& subject);
/// The ranking, best first.
[[nodiscard]] Table match_table(const MatchSubject& subject);
[[nodiscard]] std::string match_legend(const MatchSubject& subject);
/// Why a pair is not the first, and what one change would mend.
[[nodiscard]] std::vector<std::string> pair_reasons(const MatchSubject& subject, const search::PairWhy& why);

}  // namespace plait::output
