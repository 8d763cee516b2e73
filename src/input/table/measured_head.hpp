// What the head of a measured table decides for all of it: which line is the header, what parts the columns and what
// marks the decimals.
#pragma once

#include "measured_names.hpp"

#include <plait/input/measured_table.hpp>

#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

struct MeasuredCell {
    std::string_view text;   ///< trimmed, without quotes
    std::size_t offset = 0;  ///< of its first byte in the line
};

/// Parts a line into cells. Cells in double quotes may hold separators; "" in them is a quote. False: a quote is not
/// closed. `unquoted` owns the texts of cells that had "" in them.
bool split_cells(std::string_view line, char separator, std::vector<MeasuredCell>& cells,
                 std::deque<std::string>& unquoted);

struct HeaderColumn {
    std::size_t index = 0;  ///< which cell of a row
    NamedColumn named;
    std::string title;  ///< as the header spells it
    std::size_t offset = 0;
};

struct Header {
    std::vector<HeaderColumn> columns;  ///< the known ones
    std::vector<std::string> ignored;
    std::optional<std::size_t> recovery_index;  ///< of the column that says by yes and no whether it came back
    std::size_t cell_count = 0;
    char separator = ',';
    bool two_ways = false;  ///< as many known columns with another separator
};

/// The line as a header, with the separator that makes most sense of it; empty when it names no known column.
[[nodiscard]] std::optional<Header> read_header(std::string_view line, const std::vector<ColumnByHand>& by_hand);

/// The units of a line of units under a header ("V;A;W", "# [V], [mA]"), put into the header, those that do not fit as
/// `bad_unit`. False: it is no such line.
bool take_units(std::string_view line, Header& header);

/// What a number says about the decimal mark of its file.
enum class Mark : unsigned char { none, point, comma, either, neither };

/// "12.5" point, "12,5" comma, "1,234" either (a thousand or a little more than one), "1.234,5" neither: marks of
/// thousands are not read.
[[nodiscard]] Mark mark_of(std::string_view number);

/// "1.234": a thousand to some, where commas are decimal marks. One to three digits, the first no 0, and three more.
[[nodiscard]] bool point_like_thousands(std::string_view number);

}  // namespace plait::input
