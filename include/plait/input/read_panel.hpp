#pragma once

#include <plait/base/result.hpp>
#include <plait/model/assumption.hpp>
#include <plait/model/panel.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

struct PanelFile {
    Panel panel;
    std::vector<Assumption> assumptions;  ///< what stands in for what the file leaves out; `kind` is empty
    std::vector<std::string> doubts;      ///< "file:line:column: …": unusual, but not impossible
};

/// A panel from the text of a panel file (TOML, docs/input.md), its gaps filled by the documented fall-backs. `file` is
/// a name for messages and, where the panel has none, for the panel. Fails with every complaint at once.
[[nodiscard]] Result<PanelFile> read_panel(std::string_view text, const std::string& file);

}  // namespace plait::input
