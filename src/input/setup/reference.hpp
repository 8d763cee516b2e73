// The tables of keys, all together: for docs/input.md, and to say where a misplaced key belongs.
#pragma once

#include <string>
#include <string_view>

namespace plait::input {

/// The tables that have this key: "[[panel]]" or "[site] or [controller]"; empty if none has.
[[nodiscard]] std::string homes_of(std::string_view key);

}  // namespace plait::input
