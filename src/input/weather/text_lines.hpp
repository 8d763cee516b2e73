// A whole text line by line.
#pragma once

#include <string_view>

namespace plait::input {

class TextLines {
public:
    explicit TextLines(std::string_view text) : rest_(text) {
        if (rest_.substr(0, 3) == "\xEF\xBB\xBF") rest_.remove_prefix(3);
    }

    /// The next line without its end; false after the last.
    bool next(std::string_view& line) {
        if (rest_.empty()) return false;
        const std::size_t end = rest_.find('\n');
        line = rest_.substr(0, end);
        rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        ++number_;
        return true;
    }
    [[nodiscard]] int number() const { return number_; }  ///< of the line last given, from 1

private:
    std::string_view rest_;
    int number_ = 0;
};

/// The next cell of a line parted by commas, without quotes or blanks around it; false after the last.
inline bool next_cell(std::string_view& rest, std::string_view& cell, bool& more) {
    if (!more) return false;
    const std::size_t comma = rest.find(',');
    cell = rest.substr(0, comma);
    more = comma != std::string_view::npos;
    rest.remove_prefix(more ? comma + 1 : rest.size());
    while (!cell.empty() && (cell.front() == ' ' || cell.front() == '\t')) cell.remove_prefix(1);
    while (!cell.empty() && (cell.back() == ' ' || cell.back() == '\t')) cell.remove_suffix(1);
    return true;
}

}  // namespace plait::input
