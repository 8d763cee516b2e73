// What a comparison says, in sentences and tables that text and page share. Set-ups are called A, B, … as they come.
#pragma once

#include <plait/output/subjects.hpp>

#include <plait/output/report.hpp>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// "A" for 0
[[nodiscard]] std::string letter(std::size_t i);

/// Who leads in what. One sentence at least.
[[nodiscard]] std::vector<std::string> leader_sentences(const std::vector<NamedSetup>& named,
                                                        const search::Comparison& comparison);
/// "Allotment shed (allotment.toml)"
[[nodiscard]] std::string setup_name(const NamedSetup& named);
[[nodiscard]] inline bool any_prices(const search::Comparison& c) {
    return std::any_of(c.setups.begin(), c.setups.end(), [](const search::ComparedSetup& s) { return s.priced; });
}
/// Its controller, panels and coldest morning.
[[nodiscard]] std::string what_there_is(const NamedSetup& named, const search::ComparedSetup& compared);
/// What decides, how sure it is, how much was assumed; or what to do where there is no wiring.
[[nodiscard]] std::vector<std::string> setup_sentences(const NamedSetup& named, const search::ComparedSetup& compared);
/// Two tables with a row for each set-up, and what their headings mean.
[[nodiscard]] Table harvest_table(const search::Comparison& comparison);
[[nodiscard]] Table wiring_table(const search::Comparison& comparison);
[[nodiscard]] std::string comparison_legend(const search::Comparison& comparison);

}  // namespace plait::output
