#pragma once

#include <string>

namespace plait::input {

/// What passes the gate because the program itself writes it.
struct OwnMarks {
    bool colours = false;   ///< sequences that set colours: ESC [ digits ; m
    bool isolates = false;  ///< U+2068 and U+2069, which pages and pictures put around names, so that these reorder nothing
};

/// The one gate for all that the program prints or writes: the text as valid UTF-8 with nothing in it that moves a
/// cursor, hides or reorders. What must not pass is written out, U+202E as \u202E, a byte that is no UTF-8 as U+FFFD. Line
/// ends and tabs pass. A text that is clean comes back as it is.
[[nodiscard]] std::string clean_text(std::string text, OwnMarks own = {});

}  // namespace plait::input
