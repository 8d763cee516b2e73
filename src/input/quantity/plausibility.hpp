// Whether a datasheet can be true. Most slips leave a trace: two numbers that must agree do not.
#pragma once

#include "setup/panel_fields.hpp"

#include <plait/model/panel.hpp>

#include <optional>

namespace plait::input {

/// Complains of what cannot be, doubts what is unusual. Only stated values are looked at; `completed`, when there is
/// one, gives the Voc, Isc and Pmax that an absolute coefficient is relative to.
void check_plausible(const RawPanel& raw, const std::optional<Panel>& completed, const FileNotes& notes);

/// The coefficient relative to the value at test conditions, 1/K. `base` is that value, `cells` the cells in series.
[[nodiscard]] double relative_per_k(const Measure& coefficient, double base, int cells);

}  // namespace plait::input
