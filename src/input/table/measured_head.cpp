#include "measured_head.hpp"

#include "measured_cells.hpp"

#include "quantity/words.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t most_cells = 1000;

bool blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

std::optional<Header> header_with(std::string_view line, char separator, const std::vector<ColumnByHand>& by_hand) {
    std::vector<MeasuredCell> cells;
    std::deque<std::string> unquoted;
    if (!split_cells(line, separator, cells, unquoted)) return std::nullopt;
    Header h;
    h.separator = separator;
    while (!cells.empty() && cells.back().text.empty()) cells.pop_back();
    h.cell_count = cells.size();
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (auto named = named_column(cells[i].text, by_hand)) {
            h.columns.push_back({i, *std::move(named), std::string(cells[i].text), cells[i].offset});
        } else if (!cells[i].text.empty()) {
            if (titles_recovery(cells[i].text)) h.recovery_index = i;
            h.ignored.emplace_back(cells[i].text);
        }
    }
    return h.columns.empty() ? std::nullopt : std::optional<Header>(std::move(h));
}

// A mark of thousands has one to three digits before it, the first of them no 0, and exactly three after it.
bool like_thousands(std::string_view number, char mark) {
    const std::size_t at = number.find(mark);
    std::size_t first = 0;
    while (first < at && (number[first] == '-' || number[first] == '+')) ++first;
    std::size_t after = at + 1;
    while (after < number.size() && is_digit(number[after])) ++after;
    const std::size_t before = at - first;
    return after - at - 1 == 3 && before >= 1 && before <= 3 && number[first] != '0';
}

}  // namespace

bool split_cells(std::string_view line, char separator, std::vector<MeasuredCell>& cells,
                 std::deque<std::string>& unquoted) {
    cells.clear();
    const char* const begin = line.data();
    const char* const end = begin + line.size();
    for (const char* p = begin;;) {
        while (p != end && blank(*p) && *p != separator) ++p;
        const char* const first = p;
        if (p != end && *p == '"') {
            bool doubled = false;
            for (++p; p != end && (*p != '"' || (std::next(p) != end && *std::next(p) == '"')); ++p) {
                if (*p == '"') {
                    doubled = true;
                    ++p;
                }
            }
            if (p == end) return false;
            std::string_view text(first + 1, static_cast<std::size_t>(p - first - 1));
            if (doubled) {
                std::string plain_text;
                for (std::size_t i = 0; i < text.size(); ++i) {
                    plain_text += text[i];
                    if (text[i] == '"') ++i;  // they come in pairs here
                }
                unquoted.push_back(std::move(plain_text));
                text = unquoted.back();
            }
            cells.push_back({trimmed(text), static_cast<std::size_t>(first - begin)});
            for (++p; p != end && *p != separator; ++p) {
                if (!blank(*p)) return false;
            }
        } else {
            while (p != end && *p != separator) ++p;
            const char* last = p;
            while (last != first && blank(*(last - 1))) --last;
            cells.push_back({{first, static_cast<std::size_t>(last - first)}, static_cast<std::size_t>(first - begin)});
        }
        if (p == end || cells.size() > most_cells) return true;
        ++p;
    }
}

std::optional<Header> read_header(std::string_view line, const std::vector<ColumnByHand>& by_hand) {
    std::optional<Header> best;
    bool whole = false;  // looked at as one cell: it is the same whichever sign does not part it
    for (const char separator : {'\t', ';', ',', '|'}) {
        const bool parts = line.find(separator) != std::string_view::npos;
        if (!parts && std::exchange(whole, true)) continue;
        auto h = header_with(line, separator, by_hand);
        if (!h) continue;
        if (best && best->columns.size() == h->columns.size() && best->cell_count > 1 && h->cell_count > 1) {
            best->two_ways = true;
        } else if (!best || h->columns.size() > best->columns.size()) {
            best = std::move(h);
        }
    }
    return best;
}

bool take_units(std::string_view line, Header& header) {
    line = trimmed(line);
    if (!line.empty() && line.front() == '#') line.remove_prefix(1);
    std::vector<MeasuredCell> cells;
    std::deque<std::string> unquoted;
    if (!split_cells(line, header.separator, cells, unquoted)) return false;
    Header with = header;
    bool any = false;
    for (HeaderColumn& c : with.columns) {
        if (c.index >= cells.size() || cells[c.index].text.empty()) continue;
        std::string_view unit = cells[c.index].text;
        const bool bracketed =
            (unit.front() == '[' && unit.back() == ']') || (unit.front() == '(' && unit.back() == ')');
        if (bracketed) unit = trimmed(unit.substr(1, unit.size() - 2));
        auto named = c.named.by_hand ? with_unit(c.named, unit) : named_column(c.title + " [" + std::string(unit) + "]");
        // Times and states take any words; only a real unit makes this a line of units.
        if (measured_unit(unit) || seconds_in(lower(unit))) {
            any = any || (named && named->bad_unit.empty() && named->column == c.named.column);
        }
        if (named && named->column == c.named.column) {
            c.named = *std::move(named);
        } else {
            c.named.bad_unit = std::string(unit);
        }
    }
    if (any) header = std::move(with);
    return any;
}

Mark mark_of(std::string_view number) {
    const auto commas = std::count(number.begin(), number.end(), ',');
    const auto points = std::count(number.begin(), number.end(), '.');
    if (commas == 0 && points == 0) return Mark::none;
    if (commas > 0 && points > 0) return Mark::neither;
    if (commas > 1 || points > 1) return Mark::neither;
    if (points == 1) return Mark::point;
    return like_thousands(number, ',') ? Mark::either : Mark::comma;
}

bool point_like_thousands(std::string_view number) {
    return mark_of(number) == Mark::point && like_thousands(number, '.');
}

}  // namespace plait::input
