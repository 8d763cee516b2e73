#pragma once

#include <string>

namespace plait::input {

/// Every key of the set-up file with its meaning, unit, range and fall-back, as Markdown: the second half of
/// docs/input.md, made from the tables the reader itself uses.
[[nodiscard]] std::string reference_markdown();

}  // namespace plait::input
