// From how probable each hypothesis is to what a row lost, and to whom.
#pragma once

#include "row_model.hpp"

namespace plait::measured {

/// The row with its losses; `hours_s` is the caller's. `accounts` are those that the evidence points into.
[[nodiscard]] ExplainedRow attributed(const RowEvidence& evidence, const std::vector<StateAccount>& accounts,
                                      const RowModel& model);

}  // namespace plait::measured
