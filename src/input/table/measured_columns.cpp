// The part of MeasuredRows that makes columns of headers and lines of units.
#include "measured_rows.hpp"
#include "quantity/decimal.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace plait::input {
namespace {

// No input of a house or a vehicle takes more; milliamps without their unit do. Common practice, no source.
constexpr double most_amps_without_unit = 250.0;

// " (not known: …)", the first few columns nothing is made of.
std::string not_known(const Header& h) {
    std::string text;
    for (std::size_t i = 0; i < std::min<std::size_t>(h.ignored.size(), 4); ++i) {
        text += (i == 0 ? " (not known: " : ", ") + shown(h.ignored[i]);
    }
    return text.empty() ? text : text + (h.ignored.size() > 4 ? " …)" : ")");
}

}  // namespace

std::string upper_first(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

void MeasuredRows::take_header(const Header& h, std::string_view line, int number) {
    header_ = h;
    header_text_ = std::string(line);
    commented_header_ = !line.empty() && trimmed(line).substr(0, 1) == "#";
    if (found_->header_line == 0) found_->header_line = number;
    found_->separator = h.separator;
    remarks_ = std::any_of(h.ignored.begin(), h.ignored.end(), [](const auto& title) { return titles_remarks(title); });
    remarks_ = remarks_ || h.recovery_index.has_value();
    for (const std::string& title : h.ignored) {
        if (titles_remarks(title) || titles_recovery(title)) continue;
        const std::string plain_title = shown(title);
        if (std::find(found_->ignored_columns.begin(), found_->ignored_columns.end(), plain_title) ==
                found_->ignored_columns.end() &&
            found_->ignored_columns.size() < 100) {
            found_->ignored_columns.push_back(plain_title);
        }
    }
    if (h.two_ways) {
        complaints_->add(number, 1,
                         Complaint::ambiguous, "the header can be parted in two ways. Part the columns by commas, semicolons or tabs alone.");
    }
    take_columns(h, line, number);
    units_may_follow_ = true;
    // A log of watts alone can still be explained; a sweep has no time.
    const bool log_of_watts = (header_has(MeasuredColumn::power) || header_has(MeasuredColumn::display_power)) &&
                              (header_has(MeasuredColumn::time) || header_has(MeasuredColumn::date));
    if (!header_has(MeasuredColumn::voltage) && !log_of_watts) {
        complaints_->add(number, 1, Complaint::missing, "no column of volts" + not_known(h) + ". Name one volts, or V, or voltage [V].");
    }
    const bool display = header_has(MeasuredColumn::display_current) || header_has(MeasuredColumn::display_power);
    if (!header_has(MeasuredColumn::current) && !header_has(MeasuredColumn::power) && !display) {
        complaints_->add(number, 1,
                         Complaint::missing, "no column of amps or watts" + not_known(h) + ". Name one amps or watts, or A, or power [W].");
    }
    aim();
}

// One column of each kind: that which says it is of the panels, before one that only says volts.
void MeasuredRows::take_columns(const Header& h, std::string_view line, int number) {
    std::vector<HeaderColumn> once;
    for (const HeaderColumn& c : h.columns) {
        const auto before = std::find_if(once.begin(), once.end(),
                                         [&](const HeaderColumn& o) { return o.named.column == c.named.column; });
        if (before == once.end()) {
            once.push_back(c);
            continue;
        }
        const bool fits = c.named.bad_unit.empty();
        const bool before_fits = before->named.bad_unit.empty();
        const bool better = fits != before_fits ? fits : c.named.of_panels && !before->named.of_panels;
        const bool worse = fits != before_fits ? before_fits : before->named.of_panels && !c.named.of_panels;
        const bool time = c.named.column == MeasuredColumn::time || c.named.column == MeasuredColumn::date;
        if (better || worse || time) {
            found_->notes.push_back(
                fmt::format("{} is read from column {}, not from {}.", upper_first(facts_of(c.named.column).what),
                            shown(better ? c.title : before->title), shown(better ? before->title : c.title)));
            if (better) *before = c;
            continue;
        }
        std::string other(c.title.substr(0, 20));
        complaints_->add_at(
            line, number, c.offset,
            Complaint::twice, fmt::format("{} and {} are both {}. Keep the column of this input and rename the other, "
                        "such as {}.",
                        shown(before->title), shown(c.title), facts_of(c.named.column).what, shown("other " + other)));
    }
    for (const HeaderColumn& c : once) {
        found_->columns[static_cast<std::size_t>(c.named.column)] = true;
        if (c.named.bad_unit.empty()) continue;
        const ColumnFacts& f = facts_of(c.named.column);
        complaints_->add_at(line, number, c.offset,
                            Complaint::unit, fmt::format("{} is {}, but {} is no unit of it. Write {}.", shown(c.title), f.what,
                                        shown(c.named.bad_unit), f.units()));
    }
    for (const ColumnByHand& c : by_hand_) {
        const bool there = std::any_of(once.begin(), once.end(), [&](const HeaderColumn& o) { return o.named.by_hand && o.named.column == c.column; });
        if (!there) complaints_->add(number, 1, Complaint::unknown_word, fmt::format("no column is titled {}, as --column says.", shown(c.title)));
    }
    header_->columns = std::move(once);
}

bool MeasuredRows::header_has(MeasuredColumn column) const {
    return std::any_of(header_->columns.begin(), header_->columns.end(),
                       [&](const HeaderColumn& c) { return c.named.column == column; });
}

// Where the cells of a row go.
void MeasuredRows::aim() {
    targets_.clear();
    for (const HeaderColumn& c : header_->columns) {
        const NamedColumn& n = c.named;
        const ColumnFacts& f = facts_of(n.column);
        const bool amps = n.column == MeasuredColumn::current && !n.unit_given;
        const bool watched = !n.unit_given && (f.spec.kind == Kind::irradiance || f.spec.kind == Kind::percentage ||
                                               f.spec.kind == Kind::temperature);
        targets_.push_back({c.index, n.column, n.factor, n.offset, amps ? -most_amps_without_unit : f.spec.limits.low,
                            amps ? most_amps_without_unit : f.spec.limits.high, n.order, n.unit_given, n.from_start, holds_numbers(n.column), watched});
        if (n.order != DateOrder::unknown) order_ = n.order;
    }
    // A date has to be known before the time of day beside it.
    std::stable_partition(targets_.begin(), targets_.end(),
                          [](const Target& t) { return t.column == MeasuredColumn::date; });
}

bool MeasuredRows::take_units_line(std::string_view line, int number) {
    units_may_follow_ = false;
    if (!take_units(line, *header_)) return false;
    take_columns(Header(*header_), line, number);
    aim();
    return true;
}

void MeasuredRows::weigh(std::string_view line) {
    if (line.empty() || line.front() == '#') return;
    if (!split_cells(line, header_->separator, cells_, unquoted_)) return;
    for (Target& t : targets_) {
        if (t.index >= cells_.size()) continue;
        const std::string_view text = cells_[t.index].text;
        if (t.column == MeasuredColumn::time || t.column == MeasuredColumn::date) {
            if (order_ != DateOrder::unknown) continue;
            if (const auto written = written_time(text)) order_ = written->order;
        } else if (decimal_ == '\0' && t.number) {
            const Mark mark = mark_of(text);
            const bool thousands = header_->separator != ',' && point_like_thousands(text);
            if (mark == Mark::point && !thousands && decimal_number(text, '.')) decimal_ = '.';
            if (mark == Mark::comma && decimal_number(text, ',')) decimal_ = ',';
            if (mark == Mark::none && text != "0" && decimal_number(text, '.')) t.whole = true;
        }
    }
}

// Where the header stood in a comment, so may another one and its units.
void MeasuredRows::comment(std::string_view line, int number) {
    if (units_may_follow_ && take_units_line(line, number)) return;
    if (const auto recovered = recovered_in(line)) found_->recovered = recovered;
    if (!commented_header_) return;
    if (line == header_text_) {
        ++repeated_headers_;
        units_may_follow_ = true;
        return;
    }
    const auto h = read_header(line.substr(1), by_hand_);
    if (!h || h->columns.size() < 2 || 2 * h->columns.size() <= h->cell_count) return;
    take_header(*h, line, number);
    found_->notes.push_back(fmt::format("From line {} on another header counts.", number));
}

// The same header again, or one that changes the columns. Asked only where a cell is not what it should be.
bool MeasuredRows::is_header(const Line& line) {
    if (asked_header_) return false;
    asked_header_ = true;
    if (line.text == header_text_) {
        ++repeated_headers_;
        units_may_follow_ = true;
        return true;
    }
    const auto h = read_header(line.text, by_hand_);
    if (!h || h->columns.size() < 2) return false;
    take_header(*h, line.text, line.number);
    found_->notes.push_back(fmt::format("From line {} on another header counts.", line.number));
    return true;
}

}  // namespace plait::input
