#include "station_forms.hpp"

#include "quantity/decimal.hpp"
#include "quantity/words.hpp"
#include "table/measured_cells.hpp"
#include "table/measured_head.hpp"
#include "text_lines.hpp"

#include <plait/base/civil_date.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::input {
namespace {

constexpr double missing = -9999.0;
constexpr double least_degc = -95.0;  // the Earth's records are −89.2 and 56.7 °C
constexpr double most_degc = 60.0;

std::optional<int> whole_number(std::string_view text) {
    text = trimmed(text);
    const auto value = decimal_number(text);
    if (!value || *value != std::floor(*value) || std::abs(*value) > 1e8) return std::nullopt;
    return static_cast<int>(*value);
}

bool letters_or_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
        return is_digit(c) || (lower(c) >= 'a' && lower(c) <= 'z') || c == '-' || c == '_' || c == ':';
    });
}

std::optional<StationElement> element_named(std::string_view name) {
    if (name == "TMIN") return StationElement::lowest;
    if (name == "TMAX") return StationElement::highest;
    return std::nullopt;
}

bool possible(double degc) { return degc >= least_degc && degc <= most_degc; }

}  // namespace

bool StationDays::takes(std::string_view id) {
    if (!seen_.empty() && seen_.back() == id) return id == record_.id;
    if (std::find(seen_.begin(), seen_.end(), id) == seen_.end() && seen_.size() < 1000) seen_.emplace_back(id);
    if (record_.id.empty() && (wanted_.empty() || wanted_ == id)) record_.id = std::string(id);
    return id == record_.id;
}

void StationDays::add(int day, StationElement element, double degc) {
    if (last_ == nullptr || last_->day != day) {
        last_ = &days_[day];
        last_->day = day;
    }
    std::optional<double>& value = element == StationElement::lowest ? last_->lowest_degc : last_->highest_degc;
    if (value && *value != degc) {
        ++contradictions_;
        value = element == StationElement::lowest ? std::min(*value, degc) : std::max(*value, degc);
        return;
    }
    value = degc;
}

StationRecord StationDays::taken() {
    record_.days.reserve(days_.size());
    int swapped = 0;
    for (const auto& [day, both] : days_) {
        record_.days.push_back(both);
        swapped += both.lowest_degc && both.highest_degc && *both.lowest_degc > *both.highest_degc ? 1 : 0;
    }
    if (contradictions_ > 0) {
        record_.notes.push_back(fmt::format(
            "{} values are there twice and differ; the colder low and the hotter high were taken", contradictions_));
    }
    if (swapped > 0) {
        record_.notes.push_back(fmt::format("on {} days the low is above the high", swapped));
    }
    return std::move(record_);
}

std::optional<int> written_day(std::string_view digits) {
    if (digits.size() != 8 || !std::all_of(digits.begin(), digits.end(), is_digit)) return std::nullopt;
    const auto value = [&](std::size_t from, std::size_t count) {
        int v = 0;
        for (std::size_t i = from; i < from + count; ++i) v = 10 * v + (digits[i] - '0');
        return v;
    };
    const CivilDate date = civil_date(value(0, 4), value(4, 2), value(6, 2));
    if (!date.ok()) return std::nullopt;
    return day_number(date);
}

void read_dly_line(std::string_view line, int number, StationDays& days, MeasuredComplaints& complaints) {
    // Station 1–11, year 12–15, month 16–17, element 18–21, then 31 × (value 5, three flags).
    constexpr std::size_t first_value = 21;
    const auto year = line.size() > first_value ? whole_number(line.substr(11, 4)) : std::nullopt;
    const auto month = line.size() > first_value ? whole_number(line.substr(15, 2)) : std::nullopt;
    if (!year || !month || *month < 1 || *month > 12 || *year < 1600 || *year > 2200) {
        complaints.add(
            number, 1, Complaint::grammar,
            "this is no line of a .dly file: 11 columns of station, 4 of year, 2 of month, 4 of element, then "
            "values. Take the file from its source again.");
        return;
    }
    const auto element = element_named(line.substr(17, 4));
    if (!days.takes(trimmed(line.substr(0, 11))) || !element) return;
    for (int day = 1; day <= 31; ++day) {
        const std::size_t at = first_value + 8u * static_cast<std::size_t>(day - 1);
        if (at + 5 > line.size()) break;
        const auto value = whole_number(line.substr(at, 5));
        if (!value) {
            complaints.add(number, at + 1, Complaint::no_number,
                           fmt::format("{} is no value of a day.", shown(line.substr(at, 5))));
            return;
        }
        if (*value == static_cast<int>(missing)) continue;
        const CivilDate date = civil_date(*year, *month, day);
        const bool flagged = at + 6 < line.size() && line[at + 6] != ' ';
        const double degc = 0.1 * *value;
        if (!date.ok() || flagged || !possible(degc)) {
            days.flag();
            continue;
        }
        days.add(day_number(date), *element, degc);
    }
}

void read_long_line(std::string_view line, int number, StationDays& days, MeasuredComplaints& complaints) {
    std::array<std::string_view, 7> cells{};
    std::string_view rest = line;
    bool more = true;
    for (std::string_view& cell : cells) {
        if (!next_cell(rest, cell, more)) break;
        if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"') cell = cell.substr(1, cell.size() - 2);
    }
    const auto element = element_named(cells[2]);
    const auto day = written_day(cells[1]);
    if (!day || !letters_or_digits(cells[0]) || cells[2].empty()) {
        complaints.add(number, 1, Complaint::grammar,
                       fmt::format("this row should be station, date as 20240131, element, value, flags, but begins "
                                   "{}. Take the file from its source again.",
                                   shown(line.substr(0, 40))));
        return;
    }
    if (!days.takes(cells[0]) || !element) return;
    const auto value = whole_number(cells[3]);
    if (!value) {
        complaints.add(number, 1, Complaint::no_number,
                       fmt::format("{} is no value in tenths of °C.", shown(cells[3])));
        return;
    }
    if (*value == static_cast<int>(missing)) return;
    const double degc = 0.1 * *value;
    if (!cells[5].empty() || !possible(degc)) {
        days.flag();
        return;
    }
    days.add(*day, *element, degc);
}

bool WideStation::take_header(std::string_view line) {
    std::vector<MeasuredCell> cells;
    std::deque<std::string> unquoted;
    if (!split_cells(line, ',', cells, unquoted)) return false;
    const auto at = [&](std::string_view name) -> std::optional<std::size_t> {
        for (std::size_t i = 0; i < cells.size(); ++i) {
            if (lower(cells[i].text) == name) return i;
        }
        return std::nullopt;
    };
    date_ = at("date");
    lowest_ = at("tmin");
    highest_ = at("tmax");
    if (!date_ || (!lowest_ && !highest_)) return false;
    station_ = at("station");
    if (!station_) station_ = at("id");
    lowest_flags_ = at("tmin_attributes");
    highest_flags_ = at("tmax_attributes");
    latitude_ = at("latitude");
    longitude_ = at("longitude");
    height_ = at("elevation");
    name_ = at("name");
    count_ = cells.size();
    return true;
}

void WideStation::read_line(std::string_view line, int number, StationDays& days, MeasuredComplaints& complaints) {
    std::vector<MeasuredCell> cells;
    std::deque<std::string> unquoted;
    if (!split_cells(line, ',', cells, unquoted) || cells.size() < count_) {
        complaints.add(number, 1, Complaint::grammar,
                       fmt::format("this row has {} cells, the header {}. Take the file from its source again.",
                                   cells.size(), count_));
        return;
    }
    const auto cell = [&](const std::optional<std::size_t>& i) { return i ? cells[*i].text : std::string_view{}; };
    if (!days.takes(station_ ? cell(station_) : std::string_view("station"))) return;
    std::string digits;
    for (const char c : cell(date_)) {
        if (c != '-') digits += c;
    }
    const auto day = written_day(digits);
    if (!day) {
        complaints.add(number, 1, Complaint::time,
                       fmt::format("{} is no date. Written are dates such as 2024-01-31.", shown(cell(date_))));
        return;
    }
    StationRecord& record = days.record();
    const auto figure = [&](std::optional<double>& into, const std::optional<std::size_t>& i) {
        if (!into && i) into = decimal_number(cell(i));
    };
    figure(record.latitude_deg, latitude_);
    figure(record.longitude_deg, longitude_);
    figure(record.height_m, height_);
    if (record.name.empty()) record.name = printable(cell(name_));
    const auto value = [&](const std::optional<std::size_t>& column, const std::optional<std::size_t>& flags,
                           StationElement element) {
        const std::string_view text = cell(column);
        if (says_not_measured(text)) return;
        const auto typed = decimal_number(text);
        if (!typed) {
            complaints.add(number, 1, Complaint::no_number, fmt::format("{} is no temperature.", shown(text)));
            return;
        }
        if (*typed <= missing) return;
        // "measurement,quality,source"
        const std::string_view attributes = cell(flags);
        const std::size_t first = attributes.find(',');
        const bool flagged = first != std::string_view::npos && first + 1 < attributes.size() &&
                             attributes[first + 1] != ',' && attributes[first + 1] != ' ';
        if (flagged) {
            days.flag();
            return;
        }
        decimals_ = decimals_ || text.find('.') != std::string_view::npos;
        greatest_ = std::max(greatest_, std::abs(*typed));
        values_.push_back({*day, element, *typed});
    };
    value(lowest_, lowest_flags_, StationElement::lowest);
    value(highest_, highest_flags_, StationElement::highest);
}

bool WideStation::finish(StationDays& days) {
    // The data set's own files hold whole tenths; extracts of it hold °C with decimals, or whole °F. No air is 13.1 °C
    // at most in tenths and anything but a mistake in °F, so whole numbers beyond 130 are tenths, and others undecided.
    constexpr double most_degf = 130.0;
    const bool flags = lowest_flags_.has_value() || highest_flags_.has_value();
    if (!decimals_ && greatest_ <= most_degf && !flags && !values_.empty()) return false;
    const double factor = decimals_ ? 1.0 : 0.1;
    for (const Value& v : values_) {
        const double degc = factor * v.number;
        if (possible(degc)) {
            days.add(v.day, v.element, degc);
        } else {
            days.flag();
        }
    }
    if (decimals_) days.record().notes.emplace_back("the values have decimals and were taken as °C");
    return true;
}

}  // namespace plait::input
