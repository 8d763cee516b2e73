#pragma once

#include <plait/base/result.hpp>
#include <plait/model/setup.hpp>

#include <functional>
#include <string>
#include <string_view>

namespace plait::input {

/// The text of a file, or a sentence why there is none.
using ReadFile = std::function<Result<std::string, std::string>(const std::string& path)>;

/// A set-up from its text (TOML, docs/input.md), with the panel and controller files it names. `file` is the set-up's
/// own path: a name for messages, and the folder that relative paths start from. Fails with every complaint about all
/// the files at once.
[[nodiscard]] Result<Setup> read_setup(std::string_view text, const std::string& file, const ReadFile& read_file);

}  // namespace plait::input
