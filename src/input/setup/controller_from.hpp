// A controller out of a table, in a controller file or in a set-up's [controller].
#pragma once

#include "document.hpp"

#include <plait/model/controller.hpp>

#include <optional>
#include <string_view>

namespace plait::input {

/// Nothing if there were complaints. The caller has checked which keys the table may have.
[[nodiscard]] std::optional<Controller> controller_from(const FileNotes& notes, const Table& table, Place at);

/// The same from the text of a controller file.
[[nodiscard]] std::optional<Controller> controller_from_file(const FileNotes& notes, std::string_view text);

}  // namespace plait::input
