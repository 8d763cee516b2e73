// What stands in for what a datasheet leaves out. Each fall-back errs on the side of the input's limits, and each is
// listed as an assumption.
#pragma once

#include "panel_fields.hpp"

#include <plait/model/panel.hpp>

#include <optional>
#include <string>

namespace plait::input {

/// The panel with its gaps filled; nothing, and a complaint, if the file says too little to know its power and voltage.
[[nodiscard]] std::optional<Panel> completed(const RawPanel& raw, const std::string& fallback_name,
                                             const FileNotes& notes);

}  // namespace plait::input
