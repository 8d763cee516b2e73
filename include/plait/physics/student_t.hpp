#pragma once

namespace plait::physics {

/// The t that |T| stays below with a probability of 95 %, for T of Student's distribution. `freedom` ≥ 1 counts
/// independent residuals.
[[nodiscard]] double student_t_95_ratio(int freedom);

}  // namespace plait::physics
