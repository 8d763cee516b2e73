// What one datasheet says, in lines and tables that text and page share.
#pragma once

#include <plait/study/panel_sheet.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// What kind of panel it is, what is stated of it, what follows from that: a line each.
[[nodiscard]] std::vector<std::string> datasheet_lines(const Panel& panel);
/// How its curve was found, its parameters, and what it misses of the datasheet: a line each.
[[nodiscard]] std::vector<std::string> curve_lines(const study::PanelSheet& sheet);
/// The doubts of the file, and those about the curve.
[[nodiscard]] std::vector<std::string> panel_doubts(const study::PanelSheet& sheet,
                                                    const std::vector<std::string>& doubts);
/// A row for each cell temperature, and for each irradiance.
[[nodiscard]] Table temperature_table(const study::PanelSheet& sheet);
[[nodiscard]] Table light_table(const study::PanelSheet& sheet);

inline constexpr std::string_view figures_agree = "The figures agree with each other and with the technology.";
inline constexpr std::string_view lines_and_curves =
    "Limits are checked with the lines, watts are worked out with the curve.";

}  // namespace plait::output
