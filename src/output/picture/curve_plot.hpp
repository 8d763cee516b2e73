#pragma once

#include <plait/output/reports.hpp>
#include <plait/study/curve_sheet.hpp>

namespace plait::output {

/// The power over the voltage as a chart of bars, with the window and the point in operation marked under it. Empty
/// when there is nothing to draw.
[[nodiscard]] std::string curve_plot(const study::InputCurve& c, const physics::AcceptanceWindow& window, bool tracks,
                                     Plot plot);

}  // namespace plait::output
