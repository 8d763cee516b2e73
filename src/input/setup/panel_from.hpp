// A panel out of a table, wherever the table stands: in a panel file or in a set-up's [[panel]].
#pragma once

#include "document.hpp"

#include <plait/model/panel.hpp>

#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

/// Nothing if there were complaints. The caller has checked which keys the table may have.
[[nodiscard]] std::optional<Panel> panel_from(const FileNotes& notes, const Table& table, Place at,
                                              const std::string& fallback_name);

/// The same from the text of a panel file.
[[nodiscard]] std::optional<Panel> panel_from_file(const FileNotes& notes, std::string_view text);

/// "panels/meadow.toml" → "meadow".
[[nodiscard]] std::string stem_of(std::string_view path);

}  // namespace plait::input
