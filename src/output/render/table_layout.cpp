#include "table_layout.hpp"

#include "display_width.hpp"

#include <algorithm>
#include <numeric>

namespace plait::output {
namespace {

// A column of words narrower than this is harder to read than a card.
constexpr std::size_t narrowest = 14;

}  // namespace

TableLayout laid_out(const Table& table, std::size_t width) {
    TableLayout layout;
    for (const Table::Column& c : table.columns) layout.widths.push_back(display_width(c.heading));
    for (const Table::Row& row : table.rows) {
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            layout.widths[i] = std::max(layout.widths[i], display_width(row.cells[i]));
        }
    }
    const std::size_t gaps = table.columns.empty() ? 0 : table_gap * (table.columns.size() - 1);
    const auto total = [&] { return std::accumulate(layout.widths.begin(), layout.widths.end(), gaps); };
    while (total() > width) {
        std::size_t widest = table.columns.size();
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            if (table.columns[i].number || layout.widths[i] <= narrowest) continue;
            if (widest == table.columns.size() || layout.widths[i] > layout.widths[widest]) widest = i;
        }
        if (widest == table.columns.size()) {
            layout.fits = false;
            return layout;
        }
        layout.widths[widest] = std::max(narrowest, layout.widths[widest] - std::min(layout.widths[widest], total() - width));
        // Narrow the next widest to the same before this one gets unreadable.
        std::size_t second = 0;
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            if (i != widest && !table.columns[i].number) second = std::max(second, layout.widths[i]);
        }
        if (layout.widths[widest] < second && total() < width) {
            layout.widths[widest] += std::min(second - layout.widths[widest], width - total());
        }
    }
    return layout;
}

}  // namespace plait::output
