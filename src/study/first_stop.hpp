#pragma once

#include <plait/study/curve_sheet.hpp>

namespace plait::study {

/// The walk down from `top_v`, the lower of the window's top and open circuit. `in_window`: the extremes from the
/// window's bottom to there.
[[nodiscard]] std::optional<FirstStop> first_stop(const physics::ArrayCurve& array,
                                                  const physics::AcceptanceWindow& window,
                                                  const physics::PowerExtremes& in_window, double top_v);

}  // namespace plait::study
