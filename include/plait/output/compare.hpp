// Several set-ups side by side, as text, as JSON and as a table for a spreadsheet.
#pragma once

#include <plait/output/text.hpp>
#include <plait/search/comparison.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// A set-up as it was named on the command line; one for each of the comparison, in its order.
struct NamedSetup {
    std::string file;
    const Setup* setup = nullptr;
};

/// Who leads in what, then each set-up's wiring, then two tables with one row a set-up. Set-ups are called A, B, … as
/// they come: at most 26. Money only where a file has prices.
[[nodiscard]] std::string compare_text(const std::vector<NamedSetup>& named, const search::Comparison& comparison,
                                       Colour colour);
[[nodiscard]] std::string compare_json(const std::vector<NamedSetup>& named, const search::Comparison& comparison);
/// One line a set-up under a header, numbers in full precision; fields are empty where no wiring can be used.
[[nodiscard]] std::string compare_csv(const std::vector<NamedSetup>& named, const search::Comparison& comparison);

}  // namespace plait::output
