#pragma once

#include <plait/study/curve_sheet.hpp>

#include <string>

namespace plait::output {

/// The points of a sheet, one a line under a header, as RFC 4180 has it but for the line ends, which are plain line
/// feeds. Every number in full precision. Columns: input, voltage_v, current_a, power_w, string_1_a … (empty where an
/// input has fewer strings than another), marks (separated by blanks).
[[nodiscard]] std::string curve_csv(const Setup& setup, const study::CurveSheet& sheet);

}  // namespace plait::output
