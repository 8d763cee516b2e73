// What a comparison says, in sentences and tables that text and page share. Set-ups are called A, B, … as they come.
#pragma once

#include <plait/output/compare.hpp>

#include "render/table_words.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// "A" for 0
[[nodiscard]] std::string letter(std::size_t i);

/// Who leads in what. One sentence at least.
[[nodiscard]] std::vector<std::string> leader_sentences(const std::vector<NamedSetup>& named,
                                                        const search::Comparison& comparison);
inline constexpr std::string_view read_check_first =
    "Before you build one, read `plait check` for it: rules, meter readings and cautions in full.";
inline constexpr std::string_view none_within =
    "No wiring of these panels is within the stated limits of these inputs.";
/// "A  Allotment shed (allotment.toml)"
[[nodiscard]] std::string setup_heading(std::size_t i, const NamedSetup& named);
/// Its controller, panels and coldest morning.
[[nodiscard]] std::string what_there_is(const NamedSetup& named, const search::ComparedSetup& compared);
/// What decides, how sure it is, how much was assumed; or what to do where there is no wiring.
[[nodiscard]] std::vector<std::string> setup_sentences(const NamedSetup& named, const search::ComparedSetup& compared);
/// Two tables with a row for each set-up, and what their headings mean.
[[nodiscard]] TableWords harvest_table(const search::Comparison& comparison);
[[nodiscard]] TableWords wiring_table(const search::Comparison& comparison);
[[nodiscard]] std::string comparison_legend(const search::Comparison& comparison);

}  // namespace plait::output
