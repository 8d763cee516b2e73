#include "measured_rows.hpp"

#include "words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t most_complaints = 20;
constexpr double half_a_day_s = 43200.0;

double* number_in(MeasuredRow& row, MeasuredColumn column) {
    switch (column) {
        case MeasuredColumn::voltage:
            return &row.voltage_v;
        case MeasuredColumn::current:
            return &row.current_a;
        case MeasuredColumn::power:
            return &row.power_w;
        case MeasuredColumn::supply_limit:
            return &row.supply_limit_a;
        case MeasuredColumn::irradiance:
            return &row.irradiance_w_per_m2;
        case MeasuredColumn::air_temperature:
            return &row.air_degc;
        case MeasuredColumn::panel_temperature:
            return &row.panel_degc;
        case MeasuredColumn::state_of_charge:
            return &row.state_of_charge_ratio;
        case MeasuredColumn::wall_charging:
            return &row.wall_charging_w;
        case MeasuredColumn::time:
        case MeasuredColumn::date:
        case MeasuredColumn::state:
            break;
    }
    return nullptr;
}

std::string_view word_of(char separator) {
    return separator == '\t' ? "tabs" : separator == ';' ? "semicolons" : "commas";
}

std::string_view words_of(TimeForm form) {
    switch (form) {
        case TimeForm::none:
            break;
        case TimeForm::elapsed:
            return "seconds";
        case TimeForm::clock:
            return "times of day";
        case TimeForm::local:
            return "dates without a zone";
        case TimeForm::zoned:
            return "dates with a zone";
    }
    return "no times";
}

std::string_view name_of(char mark) { return mark == ',' ? "comma" : "point"; }

std::string with_point(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.');
    return text;
}

std::string without_comma(std::string text) {
    text.erase(std::remove(text.begin(), text.end(), ','), text.end());
    return text;
}

}  // namespace

void MeasuredComplaints::add(int line, std::size_t column, std::string message) {
    ++count_;
    if (first_.size() < most_complaints) {
        first_.push_back({file_, line, static_cast<int>(column), std::move(message)});
    }
}

void MeasuredComplaints::add_at(std::string_view line, int number, std::size_t offset, std::string message) {
    add(number, first_.size() < most_complaints ? character_count(line.substr(0, offset)) + 1 : 1, std::move(message));
}

Diagnostics MeasuredComplaints::taken() {
    if (count_ > first_.size()) {
        first_.push_back(
            {file_, 0, 0,
             fmt::format("and {} more like these. Correct the first ones and run again.", count_ - first_.size())});
    }
    return std::move(first_);
}

std::string shown(std::string_view bytes) {
    std::string ascii_or_utf8(bytes.substr(0, 200));
    for (std::size_t i = 0; i < ascii_or_utf8.size(); ++i) {
        const auto c = static_cast<unsigned char>(ascii_or_utf8[i]);
        const std::size_t more = c < 0x80U ? 0U : c >= 0xF0U && c < 0xF5U ? 3U : c >= 0xE0U ? 2U : c >= 0xC2U ? 1U : 9U;
        bool whole = c < 0xF5U && i + more < ascii_or_utf8.size();
        for (std::size_t k = 1; whole && k <= more; ++k) {
            whole = (static_cast<unsigned char>(ascii_or_utf8[i + k]) & 0xC0U) == 0x80U;
        }
        if (whole) {
            i += more;
        } else {
            ascii_or_utf8[i] = '?';
        }
    }
    return quoted(ascii_or_utf8);
}

void MeasuredRows::take_header(const Header& h, std::string_view line, int number) {
    header_ = h;
    header_text_ = std::string(line);
    if (found_->header_line == 0) found_->header_line = number;
    found_->separator = h.separator;
    for (const std::string& title : h.ignored) {
        const std::string plain_title = shown(title);
        if (std::find(found_->ignored_columns.begin(), found_->ignored_columns.end(), plain_title) ==
                found_->ignored_columns.end() &&
            found_->ignored_columns.size() < 100) {
            found_->ignored_columns.push_back(plain_title);
        }
    }
    if (h.two_ways) {
        complaints_->add(number, 1,
                         "the header can be parted in two ways. Part the columns by commas, semicolons or tabs alone.");
    }
    std::vector<HeaderColumn> once;
    for (const HeaderColumn& c : h.columns) {
        const ColumnFacts& f = facts_of(c.named.column);
        if (!c.named.bad_unit.empty()) {
            complaints_->add_at(line, number, c.offset,
                                fmt::format("{} is {}, but {} is no unit of it. Write {}.", shown(c.title), f.what,
                                            shown(c.named.bad_unit), f.units));
        }
        const auto before = std::find_if(once.begin(), once.end(),
                                         [&](const HeaderColumn& o) { return o.named.column == c.named.column; });
        if (before == once.end()) {
            once.push_back(c);
            found_->columns[static_cast<std::size_t>(c.named.column)] = true;
        } else if (c.named.column == MeasuredColumn::time) {
            found_->notes.push_back(
                fmt::format("Times are read from column {}, not from {}.", shown(before->title), shown(c.title)));
        } else {
            complaints_->add_at(
                line, number, c.offset,
                fmt::format("{} and {} are both {}. Keep the column of this input and rename the other, such "
                            "as 'other {}'.",
                            shown(before->title), shown(c.title), f.what, printable(shown(c.title).substr(1, 12))));
        }
    }
    header_->columns = std::move(once);
    const bool volts = found_->has(MeasuredColumn::voltage);
    const bool flow = found_->has(MeasuredColumn::current) || found_->has(MeasuredColumn::power);
    if (!volts) complaints_->add(number, 1, "no column of volts. Name one volts, or V, or voltage [V].");
    if (!flow) complaints_->add(number, 1, "no column of amps or watts. Name one amps or watts, or A, or power [W].");
    aim();
}

// Where the cells of a row go.
void MeasuredRows::aim() {
    targets_.clear();
    for (const HeaderColumn& c : header_->columns) {
        targets_.push_back({c.index, c.named.column, c.named.factor, c.named.offset});
    }
    // A date has to be known before the time of day beside it.
    std::stable_partition(targets_.begin(), targets_.end(),
                          [](const Target& t) { return t.column == MeasuredColumn::date; });
}

bool MeasuredRows::take_units_line(std::string_view line) {
    if (!take_units(line, *header_)) return false;
    aim();
    return true;
}

void MeasuredRows::weigh_decimal(std::string_view line) {
    if (decimal_ != '\0' || line.empty() || line.front() == '#') return;
    if (!split_cells(line, header_->separator, cells_, unquoted_)) return;
    MeasuredRow nowhere;
    for (const Target& t : targets_) {
        if (t.index >= cells_.size() || number_in(nowhere, t.column) == nullptr) continue;
        const std::string_view text = cells_[t.index].text;
        const Mark mark = mark_of(text);
        if (mark == Mark::point && fast_number(text, '.')) decimal_ = '.';
        if (mark == Mark::comma && fast_number(text, ',')) decimal_ = ',';
        if (decimal_ != '\0') return;
    }
}

void MeasuredRows::finish() {
    if (repeated_headers_ > 0) {
        found_->notes.push_back(fmt::format("The header stands {} more {} in the file; each was skipped.",
                                            repeated_headers_, repeated_headers_ == 1 ? "time" : "times"));
    }
    found_->decimal = decimal();
}

void MeasuredRows::row(std::string_view text, int number, bool cut) {
    if (!header_ || text.empty() || text.front() == '#') return;
    const Line line{text, number, cut};
    unquoted_.clear();
    if (!split_cells(text, header_->separator, cells_, unquoted_)) {
        return complaints_->add(number, 1,
                                "a quoted cell is not closed, or text stands beside it. Put a \" at both ends of the "
                                "cell or none.");
    }
    const auto empty = [](const MeasuredCell& c) { return c.text.empty(); };
    if (cells_.front().text.empty() && std::all_of(cells_.begin(), cells_.end(), empty)) return;
    asked_header_ = false;
    if (cells_.size() != header_->cell_count && !right_length(line)) return;
    MeasuredRow r;
    r.line = number;
    days_s_ = not_measured_ratio;
    const std::size_t complained_before = complaints_->count();
    for (const Target& t : targets_) {
        const MeasuredCell& cell = cells_[t.index];
        double* const to = number_in(r, t.column);
        const bool read = to != nullptr                       ? number_cell(line, cell, t, *to)
                          : t.column == MeasuredColumn::state ? state_cell(line, cell, r)
                                                              : time_cell(line, cell, t, r);
        if (!read) return;
    }
    if (complaints_->count() != complained_before) return;
    ++found_->row_count;
    take_(r);
}

// Rows may have more empty cells at their end; nothing else.
bool MeasuredRows::right_length(const Line& line) {
    const std::size_t wanted = header_->cell_count;
    while (cells_.size() > wanted && cells_.back().text.empty()) cells_.pop_back();
    if (cells_.size() == wanted) return true;
    if (is_header(line)) return false;
    if (cells_.size() < wanted && line.cut) {
        found_->notes.push_back(fmt::format("Line {}, the last, breaks off and was skipped.", line.number));
        return false;
    }
    std::string more = " Give every row one cell for each column; leave cells empty that were not measured.";
    if (cells_.size() > wanted && header_->separator == ',') {
        more = " If these are decimal commas, part the columns by semicolons or write decimal points.";
    } else if (cells_.size() == 1 && wanted > 1) {
        more = fmt::format(" Part them by {}, like the header.", word_of(header_->separator));
    }
    complaints_->add_at(line.text, line.number, cells_.size() > wanted ? cells_[wanted].offset : 0,
                        fmt::format("this row has {} {}, the header {}.{}", cells_.size(),
                                    cells_.size() == 1 ? "cell" : "cells", wanted, more));
    return false;
}

// The same header again, or one that changes the columns. Asked only where a cell is not what it should be.
bool MeasuredRows::is_header(const Line& line) {
    if (asked_header_) return false;
    asked_header_ = true;
    if (line.text == header_text_) {
        ++repeated_headers_;
        return true;
    }
    const auto h = read_header(line.text);
    if (!h || h->columns.size() < 2) return false;
    found_->columns = {};
    take_header(*h, line.text, line.number);
    found_->notes.push_back(fmt::format("From line {} on another header counts.", line.number));
    return true;
}

bool MeasuredRows::number_cell(const Line& line, const MeasuredCell& cell, const Target& t, double& to) {
    auto value = fast_number(cell.text, decimal());
    if (value && decimal_ == '\0' && cell.text.find('.') != std::string_view::npos) decimal_ = '.';
    double factor = t.factor;
    double offset = t.offset;
    if (!value) {
        if (says_not_measured(cell.text)) return true;
        if (is_header(line)) return false;
        value = odd_number(line, cell, t, factor, offset);
        if (!value) return true;
    }
    const ColumnFacts& f = facts_of(t.column);
    const double kept = *value * factor + offset;
    if (kept >= f.least && kept <= f.most) {
        to = kept;
    } else {
        complain(line, cell,
                 fmt::format("{} is outside {}, what {} can be. Correct it, or the unit in the header ({}).",
                             shown(cell.text), f.range, f.what, f.units));
    }
    return true;
}

// Numbers that are not written in the plain way: a first decimal comma, a unit behind, a typographic minus.
std::optional<double> MeasuredRows::odd_number(const Line& line, const MeasuredCell& cell, const Target& t,
                                               double& factor, double& offset) {
    const ColumnFacts& f = facts_of(t.column);
    std::string text(cell.text.substr(0, 100));
    if (text.compare(0, 3, "−") == 0) text.replace(0, 3, "-");
    const std::size_t last = text.find_last_of("0123456789.,");
    if (last != std::string::npos && last + 1 < text.size()) {
        const auto unit = measured_unit(trimmed(std::string_view(text).substr(last + 1)));
        if (unit && unit->dimension == f.dimension) {
            factor = unit->factor;
            offset = unit->offset;
            text.erase(last + 1);
        }
    }
    const Mark mark = mark_of(text);
    const bool with_comma = mark != Mark::point && fast_number(text, ',').has_value();
    if (decimal_ == '\0' && with_comma && mark == Mark::comma) decimal_ = ',';
    if (decimal_ == '\0' && with_comma && mark == Mark::either) {
        complain(line, cell,
                 fmt::format("{} can be read as {} or as {}. Write it with a decimal point and no mark for thousands.",
                             shown(cell.text), with_point(text), without_comma(text)));
        return std::nullopt;
    }
    if (auto value = fast_number(text, decimal())) {
        if (decimal_ == '\0' && mark == Mark::point) decimal_ = '.';
        return value;
    }
    const char other = decimal() == ',' ? '.' : ',';
    if (mark != Mark::neither && fast_number(text, other)) {
        complain(
            line, cell,
            fmt::format("{} has a decimal {}, other cells of this file a decimal {}. Write all of them with a {}, and "
                        "no mark for thousands.",
                        shown(cell.text), name_of(other), name_of(decimal()), name_of(decimal())));
    } else if (mark == Mark::neither && text.find_first_not_of("+-0123456789.,") == std::string::npos) {
        complain(
            line, cell,
            fmt::format("{} has more than one decimal mark; marks for thousands are not read. Write it such as {}.",
                        shown(cell.text), f.example));
    } else {
        complain(line, cell,
                 fmt::format("{} is not {}. Write a number such as {}, in {}, or leave the cell empty.",
                             shown(cell.text), f.what, f.example, f.units));
    }
    return std::nullopt;
}

bool MeasuredRows::state_cell(const Line& line, const MeasuredCell& cell, MeasuredRow& r) {
    if (says_not_measured(cell.text)) return true;
    if (const auto state = written_state(cell.text)) {
        r.state = *state;
        return true;
    }
    if (is_header(line)) return false;
    complain(line, cell,
             fmt::format("{} is no state that is known. Write charging, idle or error, or leave the cell empty.",
                         shown(cell.text)));
    return true;
}

bool MeasuredRows::time_cell(const Line& line, const MeasuredCell& cell, const Target& t, MeasuredRow& r) {
    if (says_not_measured(cell.text)) return true;
    auto written = written_time(cell.text);
    if (t.column == MeasuredColumn::date) {
        if (written && written->form == TimeForm::local) {
            days_s_ = written->time_s;
            if (!found_->has(MeasuredColumn::time)) set_time(line, cell, *written, r);
            return true;
        }
        if (is_header(line)) return false;
        complain(line, cell, fmt::format("{} is no date. Write year-month-day, such as 2024-06-01.", shown(cell.text)));
        return true;
    }
    if (!written) {
        const auto elapsed = fast_number(cell.text, decimal());
        if (elapsed && std::abs(*elapsed) <= 1e13) written = WrittenTime{TimeForm::elapsed, *elapsed * t.factor};
    }
    if (!written) {
        if (is_header(line)) return false;
        complain(line, cell,
                 fmt::format("{} is no time. Write such as 2024-06-01T12:30:00, 12:30:00 or plain seconds.",
                             shown(cell.text)));
        return true;
    }
    if (written->form == TimeForm::clock && !std::isnan(days_s_)) {
        written->form = TimeForm::local;
        written->time_s += days_s_;
    }
    set_time(line, cell, *written, r);
    return true;
}

void MeasuredRows::set_time(const Line& line, const MeasuredCell& cell, WrittenTime written, MeasuredRow& r) {
    if (found_->time_form == TimeForm::none) found_->time_form = written.form;
    if (found_->time_form != written.form) {
        complain(
            line, cell,
            fmt::format("{} is of another kind than the times above it ({}). Write all times of a file alike, best "
                        "such as 2024-06-01T12:30:00Z.",
                        shown(cell.text), words_of(found_->time_form)));
        return;
    }
    if (written.form == TimeForm::clock) {
        written.time_s += midnights_s_;
        if (written.time_s < last_clock_s_ - half_a_day_s) {
            midnights_s_ += 86400.0;
            written.time_s += 86400.0;
        }
        last_clock_s_ = written.time_s;
    }
    r.time_s = written.time_s;
}

}  // namespace plait::input
