// What several pages have in common: cells, tables and lists that would otherwise be written twice.
#pragma once

#include <plait/study/judgement.hpp>

#include "render/page_builder.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] PageBuilder::Cell number_cell(std::string words);
/// The set-up's title, or else `otherwise`.
[[nodiscard]] std::string page_title(const Setup& setup, std::string_view otherwise);
/// "▣ CLIPS ?"
[[nodiscard]] std::string mark_of(rules::Outcome outcome, bool proven);
[[nodiscard]] std::vector<std::string> texts_of(const std::vector<study::Caution>& cautions);

/// "PV1: 2s1p"
[[nodiscard]] std::string input_and_wiring(const Setup& setup, std::size_t input, const InputWiring& wiring);

/// The first lines of a page about one wiring: its verdict, who the page is for, what the verdict means.
void add_verdict(PageBuilder& page, const Setup& setup, const study::Judgement& judgement, std::string_view audience);
/// Every rule with its value, limit, room and reason, the gravest first.
void add_rules(PageBuilder& page, const std::vector<study::RuleVerdict>& verdicts);
/// What ● ⊕ ▣ ▽ ✕ and ? stand for.
void add_outcome_marks(PageBuilder& page);
/// What was assumed and what looks doubtful, each under its heading; nothing if there is nothing.
void add_assumptions(PageBuilder& page, const std::vector<Assumption>& assumptions,
                     const std::vector<std::string>& doubts);

}  // namespace plait::output
