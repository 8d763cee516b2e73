#pragma once

#include <plait/base/result.hpp>
#include <plait/model/assumption.hpp>
#include <plait/model/controller.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

struct ControllerFile {
    Controller controller;
    std::vector<Assumption> assumptions;  ///< `input` says which input, if it is about one
    std::vector<std::string> doubts;      ///< "file:line:column: …"
};

/// A controller from the text of a controller file (TOML, docs/input.md): the keys of [controller] at top level.
/// Fails with every complaint at once.
[[nodiscard]] Result<ControllerFile> read_controller(std::string_view text, const std::string& file);

}  // namespace plait::input
