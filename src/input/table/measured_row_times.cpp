// The part of MeasuredRows that reads times and dates.
#include "measured_rows.hpp"

#include "quantity/decimal.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <cmath>

namespace plait::input {
namespace {

constexpr double day_s = 86400.0;
constexpr double half_a_day_s = 43200.0;
constexpr double longest_elapsed_s = 1e9;  // thirty years

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

// 2024-06-01 written 20240601, or 45444.52 days since 1900.
bool like_a_calendar(std::string_view text, double number) {
    const double month = std::fmod(std::floor(number / 100.0), 100.0);
    const double day = std::fmod(number, 100.0);
    if (number >= 19700101.0 && number <= 21001231.0 && month >= 1.0 && month <= 12.0 && day >= 1.0 && day <= 31.0) {
        return true;
    }
    const std::size_t mark = text.find_first_of(".,");
    return number >= 36526.0 && number < 73051.0 && mark != std::string_view::npos && text.size() - mark > 3;
}

}  // namespace

bool MeasuredRows::time_cell(const Line& line, const MeasuredCell& cell, const Target& t, MeasuredRow& r) {
    if (says_not_measured(cell.text)) return true;
    std::string complaint;
    auto written = time_in(line, cell, t, complaint);
    if (!written && is_header(line)) return false;
    if (!complaint.empty()) {
        complain(line, cell, Complaint::time, std::move(complaint));
        return true;
    }
    if (t.column == MeasuredColumn::date) {
        if (!header_has(MeasuredColumn::time)) {
            set_time(line, cell, *written, r);
        } else {
            // Spreadsheets write dates with the time 00:00; another time beside the column of times counts once.
            days_s_ = std::floor(written->time_s / day_s) * day_s;
        }
        return true;
    }
    if (written->form == TimeForm::clock && days_s_) {
        written->form = TimeForm::local;
        written->time_s += *days_s_;
    }
    set_time(line, cell, *written, r);
    return true;
}

// The time of a cell, or a complaint.
std::optional<WrittenTime> MeasuredRows::time_in(const Line& line, const MeasuredCell& cell, const Target& t,
                                                 std::string& complaint) const {
    static_cast<void>(line);
    auto written = t.from_start ? std::nullopt : written_time(cell.text, order_);
    if (t.column == MeasuredColumn::date && written && written->form != TimeForm::local) written.reset();
    if (t.column == MeasuredColumn::date && !written) {
        complaint = fmt::format("{} is no date. Write year-month-day, such as 2024-06-01.", shown(cell.text));
        return std::nullopt;
    }
    if (written && written->ambiguous) {
        complaint = fmt::format(
            "{} does not tell the day from the month, and no other date at the head of the file "
            "does. Write dates such as 2024-06-01, or name the column {} or {}.",
            shown(cell.text), quoted("time [dd/mm/yyyy]"), quoted("time [mm/dd/yyyy]"));
        return written;
    }
    if (written) return written;
    if (t.from_start) {
        if (const auto duration_s = written_duration_s(cell.text)) return WrittenTime{TimeForm::elapsed, *duration_s};
        written = written_time(cell.text, order_);
        if (written && written->form == TimeForm::clock) {
            complaint = fmt::format(
                "{} could be hours and minutes or minutes and seconds. Write all three, such as "
                "0:05:00, or plain seconds.",
                shown(cell.text));
        }
        if (written) return written;
    }
    // Words only where there is something to say: most times of a log are plain seconds.
    const auto number = decimal_number(cell.text, decimal());
    if (number) {
        if (const auto since_1970_s = epoch_s(*number * t.factor, t.unit_given)) {
            return WrittenTime{TimeForm::zoned, *since_1970_s};
        }
    }
    if (!number || !(std::abs(*number * t.factor) <= longest_elapsed_s)) {
        complaint = fmt::format("{} is no time. Write such as 2024-06-01T12:30:00, 12:30:00 or plain seconds.",
                                shown(cell.text));
        return std::nullopt;
    }
    if (!t.unit_given && found_->time_form == TimeForm::none && like_a_calendar(cell.text, *number)) {
        complaint = fmt::format(
            "{} could be a date without its marks, or days as spreadsheets count them. Write such "
            "as 2024-06-01T12:30:00; if it is seconds, name the column {}.",
            shown(cell.text), quoted("time [s]"));
        return WrittenTime{};
    }
    return WrittenTime{TimeForm::elapsed, *number * t.factor};
}

void MeasuredRows::set_time(const Line& line, const MeasuredCell& cell, WrittenTime written, MeasuredRow& r) {
    if (found_->time_form == TimeForm::none) found_->time_form = written.form;
    if (found_->time_form != written.form) {
        complain(
            line, cell, Complaint::time,
            fmt::format("{} is of another kind than the times above it ({}). Write all times of a file alike, best "
                        "such as 2024-06-01T12:30:00Z.",
                        shown(cell.text), words_of(found_->time_form)));
        return;
    }
    if (written.form == TimeForm::clock) {
        written.time_s += midnights_s_;
        if (written.time_s < last_clock_s_ - half_a_day_s) {
            midnights_s_ += day_s;
            written.time_s += day_s;
        }
        last_clock_s_ = written.time_s;
    }
    r.time_s = written.time_s;
    r.time_form = written.form;
}

}  // namespace plait::input
