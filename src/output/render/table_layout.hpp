// How wide the columns of a table are in a terminal.
#pragma once

#include <plait/output/report.hpp>

#include <cstddef>
#include <vector>

namespace plait::output {

/// Blanks between two columns.
inline constexpr std::size_t table_gap = 2;

struct TableLayout {
    bool fits = true;                 ///< false: not even with its words broken
    std::vector<std::size_t> widths;  ///< columns of text, one a column of the table
};

/// Every column as wide as its widest cell, if that fits; else the widest columns of words are narrowed, and their cells
/// broken, until it does.
[[nodiscard]] TableLayout laid_out(const Table& table, std::size_t width);

}  // namespace plait::output
