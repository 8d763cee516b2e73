// Whether what is said of one input hangs together, and what stands in for what is not said.
#pragma once

#include "setup/controller_fields.hpp"

#include <plait/model/controller.hpp>

#include <cstddef>

namespace plait::input {

/// Complains of limits that contradict each other.
void check_input(const RawInput& raw, const FileNotes& notes);

/// The input with its gaps filled and its assumptions noted. `raw` is clean; `controller` has its type, headroom and,
/// if there is one, battery.
[[nodiscard]] Input completed_input(const RawInput& raw, std::size_t index, const std::string& name,
                                    const Controller& controller, const FileNotes& notes);

}  // namespace plait::input
