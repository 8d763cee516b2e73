#include "table_words.hpp"

#include "style.hpp"

namespace plait::output {
namespace {

std::string line(const TableWords& table, const std::vector<std::string>& cells) {
    std::string out = "  ";
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const TableWords::Column& c = table.columns[i];
        out += std::string(c.gap, ' ') + (c.number ? padded_left(cells[i], c.width) : padded(cells[i], c.width));
    }
    return out.substr(0, out.find_last_not_of(' ') + 1);
}

}  // namespace

std::string table_text(const TableWords& table, Colour colour) {
    std::vector<std::string> headings;
    for (const TableWords::Column& c : table.columns) headings.push_back(c.heading);
    std::string out = line(table, headings) + "\n";
    for (const TableWords::Row& row : table.rows) {
        const std::string words = line(table, row.cells);
        out += (row.sum ? bold(words, colour) : words) + "\n";
    }
    return out;
}

}  // namespace plait::output
