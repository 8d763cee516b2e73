// What several reports have in common.
#pragma once

#include <plait/output/report.hpp>
#include <plait/study/judgement.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// The last word of every report.
inline constexpr std::string_view deferral = study::deferral;
/// Before anything is built.
inline constexpr std::string_view read_check_first =
    "Before you build one, read `plait check` for it: conditions, meter readings and cautions in full.";
inline constexpr std::string_view none_within =
    "No wiring of these panels is within the stated limits of these inputs.";

/// A report about a set-up: its title, where it comes from, the last word.
[[nodiscard]] Report report_on(const Setup& setup, std::string kind, Provenance provenance);

/// "PV1: 2s1p"
[[nodiscard]] std::string input_and_wiring(const Setup& setup, std::size_t input, const InputWiring& wiring);

/// What the reader does next, in order.
void add_next_steps(Report& report, std::vector<std::string> steps);

/// What was assumed, each line with its number, and what looks doubtful.
void add_assumptions(Report& report, const std::vector<Assumption>& assumptions);
void add_doubts(Report& report, const std::vector<std::string>& doubts);
/// The cautions but for the deferral, with which every report ends.
[[nodiscard]] std::vector<std::string> texts_of(const std::vector<study::Caution>& cautions);
/// Without the gravest, the first, where it is said at the top.
void add_cautions(Report& report, const std::vector<study::Caution>& cautions, bool first_is_said = false);
/// What the words of verdicts mean.
void add_legend(Report& report);

/// A table with its columns: headings; those with a # in front hold numbers.
[[nodiscard]] Table table_of(std::string caption, std::initializer_list<std::string_view> headings);

}  // namespace plait::output
