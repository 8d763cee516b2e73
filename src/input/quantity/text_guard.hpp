// What must be true of a text before it is parsed: its size, its encoding, how deep it nests, and that its keys are
// spelt with letters. toml++ 3.3.0 stops the program on some of these, and says little of use about the others.
#pragma once

#include "notes.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

struct Trouble {
    Place at;
    Complaint kind = Complaint::grammar;
    std::string message;
};

inline constexpr std::size_t most_bytes = 1U << 20U;  // a set-up is a few kB; a mebibyte is a mistake
inline constexpr int most_nested = 32;                // lists and tables inside each other, and parts of a dotted key

/// The first trouble of a TOML text, or nothing.
[[nodiscard]] std::optional<Trouble> guard(std::string_view text);

/// A complaint about the first byte that is no text at all, for texts that are not TOML. `where` is their "file".
[[nodiscard]] std::optional<Diagnostic> encoding_complaint(std::string_view text, const std::string& where);

}  // namespace plait::input
