// A table in words. Made once, printed as text and put on a page.
#pragma once

#include <plait/output/text.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace plait::output {

struct TableWords {
    struct Column {
        std::string heading;
        std::size_t width = 0;  ///< columns of text it takes; 0: as many as it needs, for the last one
        bool number = false;    ///< set to the right
        std::size_t gap = 0;    ///< blanks before it
    };
    struct Row {
        std::vector<std::string> cells;  ///< no more than columns; the first names the row
        bool sum = false;                ///< stands out
    };
    std::string caption;  ///< what a page says above it
    std::vector<Column> columns;
    std::vector<Row> rows;

    [[nodiscard]] bool empty() const { return rows.empty(); }
};

/// Headings and rows, each line indented by two blanks; nothing of the caption.
[[nodiscard]] std::string table_text(const TableWords& table, Colour colour);

}  // namespace plait::output
