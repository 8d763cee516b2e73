#include <plait/input/read_weather_file.hpp>

#include "quantity/decimal.hpp"
#include "quantity/words.hpp"
#include "table/measured_cells.hpp"
#include "table/measured_complaints.hpp"
#include "table/measured_head.hpp"
#include "table/measured_times.hpp"
#include "text_lines.hpp"
#include "weather_columns.hpp"

#include <plait/base/civil_date.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace plait::input {
namespace {

constexpr int head_lines = 50;          // the header is looked for in so many lines
constexpr double least_missing = -900;  // −999, −9999 and their like mark missing values

struct Column {
    std::size_t index;
    WeatherHeading heading;
};

struct TableHeader {
    std::vector<Column> columns;
    char separator = ',';
    std::size_t cell_count = 0;
    std::vector<std::string> ignored;
};

/// A row as read: its stamp in seconds as it stands, and whether it names its zone.
struct RawHour {
    WeatherHour hour;
    double stamp_s = 0.0;
    bool zoned = false;
    int line = 0;
};

class TableReader {
public:
    TableReader(const std::string& file, const WeatherTableForm& form) : complaints_(file), form_(form) {}

    Result<WeatherSeries> run(std::string_view text) {
        TextLines lines(text);
        std::string_view line;
        while (!header_ && lines.number() < head_lines && lines.next(line)) take_header(line, lines.number());
        if (!header_) {
            complaints_.add(
                0, 0, Complaint::no_rows,
                "no header was found. Write a first line that names the columns, such as time,ghi,air,wind.");
            return Failure{complaints_.taken()};
        }
        check_header();
        if (complaints_.count() > 0) return Failure{complaints_.taken()};
        settle_decimals_and_dates(lines);
        while (lines.next(line)) {
            if (trimmed(line).empty() || line.front() == '#') continue;
            row(line, lines.number());
            if (!complaints_.hopeless()) continue;
            complaints_.stop_at(lines.number());
            break;
        }
        if (rows_.size() < 2 && complaints_.count() == 0) {
            complaints_.add(header_line_, 1, Complaint::no_rows,
                            fmt::format("below the header there is {}. Write one row for each interval of time.",
                                        rows_.empty() ? "no row" : "one row only"));
        }
        if (complaints_.count() == 0) set_times();
        if (complaints_.count() > 0) return Failure{complaints_.taken()};
        finish();
        return std::move(series_);
    }

private:
    void take_header(std::string_view line, int number) {
        std::optional<TableHeader> best;
        for (const char separator : {'\t', ';', ',', '|'}) {
            std::vector<MeasuredCell> cells;
            std::deque<std::string> unquoted;
            if (!split_cells(line, separator, cells, unquoted)) continue;
            TableHeader h;
            h.separator = separator;
            h.cell_count = cells.size();
            for (std::size_t i = 0; i < cells.size(); ++i) {
                if (auto heading = weather_heading(cells[i].text)) {
                    h.columns.push_back({i, *std::move(heading)});
                } else if (!cells[i].text.empty()) {
                    h.ignored.emplace_back(printable(cells[i].text));
                }
            }
            if (h.columns.size() >= 2 && (!best || h.columns.size() > best->columns.size())) best = std::move(h);
        }
        if (!best) return;
        header_ = std::move(best);
        header_line_ = number;
    }

    [[nodiscard]] const Column* column(WeatherColumn c) const {
        for (const Column& k : header_->columns) {
            if (k.heading.column == c) return &k;
        }
        return nullptr;
    }

    void check_header() {
        for (const Column& c : header_->columns) {
            if (!c.heading.bad_unit.empty()) {
                complaints_.add(header_line_, 1, Complaint::unit,
                                fmt::format("column {} is {}, but not in {}. Write its unit as W/m², Wh/m², °C, °F, K, "
                                            "m/s, km/h, Pa or hPa.",
                                            c.index + 1, describe(c.heading.column), shown(c.heading.bad_unit)));
            }
            if (column(c.heading.column) != &c) {
                complaints_.add(header_line_, 1, Complaint::twice,
                                fmt::format("column {} is {} once more. Keep one of the two, and rename the other.",
                                            c.index + 1, describe(c.heading.column)));
            }
        }
        if (column(WeatherColumn::time) == nullptr && column(WeatherColumn::date) == nullptr) {
            complaints_.add(header_line_, 1, Complaint::missing, "there is no column of times. Name it time.");
        }
        const int light = (column(WeatherColumn::global) != nullptr) +
                          (column(WeatherColumn::direct_normal) != nullptr) +
                          (column(WeatherColumn::diffuse) != nullptr);
        if (column(WeatherColumn::global) == nullptr && light < 2) {
            complaints_.add(header_line_, 1, Complaint::missing,
                            "there is no column of light on flat ground. Name it ghi, or give both dni and dhi.");
        }
    }

    // Looks ahead for rows that say how decimals and dates are written.
    void settle_decimals_and_dates(TextLines lines) {
        std::string_view line;
        std::vector<MeasuredCell> cells;
        std::deque<std::string> unquoted;
        bool point = false;
        bool comma = false;
        for (int i = 0; i < 20000 && lines.next(line); ++i) {
            if (!split_cells(line, header_->separator, cells, unquoted)) continue;
            for (const Column& c : header_->columns) {
                if (c.index >= cells.size()) continue;
                const std::string_view text = cells[c.index].text;
                if (c.heading.column == WeatherColumn::time || c.heading.column == WeatherColumn::date) {
                    const auto time = written_time(text);
                    if (time && time->order != DateOrder::unknown) order_ = time->order;
                } else {
                    const Mark mark = mark_of(text);
                    point = point || mark == Mark::point;
                    comma = comma || mark == Mark::comma;
                }
            }
        }
        decimal_ = comma && !point ? ',' : '.';
    }

    void row(std::string_view line, int number) {
        if (!split_cells(line, header_->separator, cells_, unquoted_)) {
            complaints_.add(number, 1, Complaint::grammar,
                            "a quote is not closed in this row. Close it, or delete it.");
            return;
        }
        if (cells_.size() != header_->cell_count) {
            complaints_.add(
                number, 1, Complaint::grammar,
                fmt::format("this row has {} cells, the header {}. Write every cell, empty where nothing was "
                            "measured.",
                            cells_.size(), header_->cell_count));
            return;
        }
        RawHour raw;
        raw.line = number;
        if (!stamp(line, number, raw)) return;
        for (const Column& c : header_->columns) {
            const MeasuredCell& cell = cells_[c.index];
            if (c.heading.column == WeatherColumn::time || c.heading.column == WeatherColumn::date) continue;
            if (says_not_measured(cell.text)) continue;
            const auto number_in_cell = decimal_number(cell.text, decimal_);
            if (!number_in_cell) {
                complaints_.add_at(
                    line, number, cell.offset, Complaint::no_number,
                    fmt::format("{} is no number; wanted is {}.", shown(cell.text), describe(c.heading.column)));
                continue;
            }
            if (*number_in_cell <= least_missing) continue;
            value(line, number, cell, c.heading, *number_in_cell, raw.hour);
        }
        rows_.push_back(raw);
    }

    void value(std::string_view line, int number, const MeasuredCell& cell, const WeatherHeading& h, double typed,
               WeatherHour& hour) {
        const double kept = typed * h.factor + h.offset;
        const WeatherLimits limits = limits_of(h.column);
        // The length of the interval, which parts an energy, is not known yet; a day of light is 13 kWh/m² at most.
        const double most = h.energy ? 24.0 * limits.most : limits.most;
        if (!(kept >= limits.least && kept <= most)) {
            complaints_.add_at(line, number, cell.offset, Complaint::outside_range,
                               fmt::format("{} cannot be {}: {} to {}. Check the column's unit.", shown(cell.text),
                                           describe(h.column), plain(limits.least), plain(most)));
            return;
        }
        switch (h.column) {
            case WeatherColumn::global:
                hour.global_w_per_m2 = std::max(kept, 0.0);
                break;
            case WeatherColumn::direct_normal:
                hour.direct_normal_w_per_m2 = std::max(kept, 0.0);
                break;
            case WeatherColumn::diffuse:
                hour.diffuse_w_per_m2 = std::max(kept, 0.0);
                break;
            case WeatherColumn::air:
                hour.air = Celsius{kept};
                break;
            case WeatherColumn::wind:
                hour.wind_m_per_s = kept;
                break;
            case WeatherColumn::pressure:
                hour.pressure_pa = kept;
                break;
            case WeatherColumn::albedo:
                hour.albedo_ratio = kept;
                break;
            case WeatherColumn::time:
            case WeatherColumn::date:
                break;
        }
    }

    bool stamp(std::string_view line, int number, RawHour& raw) {
        const Column* date = column(WeatherColumn::date);
        const Column* time = column(WeatherColumn::time);
        std::string text;
        std::size_t offset = 0;
        if (date != nullptr) {
            text = std::string(cells_[date->index].text);
            offset = cells_[date->index].offset;
            // A date in one column and a clock in another, or the whole of it in either.
            if (time != nullptr) text += " " + std::string(cells_[time->index].text);
        } else {
            text = std::string(cells_[time->index].text);
            offset = cells_[time->index].offset;
        }
        if (const auto number_in_cell = decimal_number(text)) {
            if (const auto seconds = epoch_s(*number_in_cell, false)) {
                raw.stamp_s = *seconds;
                raw.zoned = true;
                return true;
            }
        }
        const auto written = written_time(text, order_);
        if (!written || written->form == TimeForm::clock) {
            complaints_.add_at(line, number, offset, Complaint::time,
                               fmt::format("{} is no date with a time. Write times such as 2024-06-01 12:30 or "
                                           "2024-06-01T12:30Z.",
                                           shown(text)));
            return false;
        }
        if (written->ambiguous) {
            complaints_.add_at(line, number, offset, Complaint::ambiguous,
                               fmt::format("{} can be read in two ways, and no other row tells which is the day. Write "
                                           "dates as 2024-06-01.",
                                           shown(text)));
            return false;
        }
        raw.stamp_s = written->time_s;
        raw.zoned = written->form == TimeForm::zoned;
        return true;
    }

    /// Stamps to the beginnings of intervals, in universal time.
    void set_times() {
        std::vector<double> steps_s;
        for (std::size_t i = 1; i < rows_.size(); ++i) {
            const double step_s = rows_[i].stamp_s - rows_[i - 1].stamp_s;
            if (step_s > 0.0) steps_s.push_back(step_s);
        }
        if (steps_s.empty()) {
            complaints_.add(rows_.front().line, 1, Complaint::time,
                            "the times do not go on. Sort the rows by time, the first one first.");
            return;
        }
        const auto middle = steps_s.begin() + static_cast<std::ptrdiff_t>(steps_s.size() / 2);
        std::nth_element(steps_s.begin(), middle, steps_s.end());
        const double step_s = *middle;
        if (step_s > 3.0 * 3600.0 || step_s < 1.0) {
            complaints_.add(rows_.front().line, 1, Complaint::time,
                            fmt::format("the rows are {} hours apart; read are steps of a second up to three hours.",
                                        plain(step_s / 3600.0)));
            return;
        }
        series_.step_h = step_s / 3600.0;
        const bool begin = form_.stamps.value_or(StampMeaning::interval_begin) == StampMeaning::interval_begin;
        double last_ut_h = 0.0;
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            RawHour& r = rows_[i];
            double ut_h = r.stamp_s / 3600.0;
            if (!begin) ut_h -= series_.step_h;
            if (!r.zoned) ut_h -= ahead_h(ut_h);
            r.hour.start_ut_h = ut_h;
            if (i > 0 && ut_h <= last_ut_h + 1e-6) {
                if (form_.clock_has_summer_time && ut_h > last_ut_h - 1.5) {
                    // The clock was set back: this is the second of two equal hours.
                    r.hour.start_ut_h = ut_h = last_ut_h + series_.step_h;
                } else {
                    complaints_.add(r.line, 1, Complaint::time,
                                    "this row is not later than the one before. Sort the rows by time, and delete what "
                                    "is twice.");
                    return;
                }
            }
            if (i > 0) {
                const double missed = (ut_h - last_ut_h) / series_.step_h - 1.0;
                if (missed > 0.5) series_.gaps.rows += static_cast<std::size_t>(std::lround(missed));
            }
            last_ut_h = ut_h;
        }
    }

    [[nodiscard]] double ahead_h(double stamp_h) const {
        if (!form_.clock_has_summer_time) return form_.location.from_utc_h;
        const CivilDate date = date_of(static_cast<int>(std::floor(stamp_h / 24.0)));
        return clock_ahead_h(form_.location, month_of(date), day_of(date));
    }

    void finish() {
        const bool global = column(WeatherColumn::global) != nullptr;
        const bool direct = column(WeatherColumn::direct_normal) != nullptr;
        const bool diffuse = column(WeatherColumn::diffuse) != nullptr;
        const auto part = [&](std::optional<double>& light, WeatherColumn c) {
            const Column* k = column(c);
            if (light && k != nullptr && k->heading.energy) *light /= series_.step_h;
        };
        series_.hours.reserve(rows_.size());
        for (RawHour& r : rows_) {
            part(r.hour.global_w_per_m2, WeatherColumn::global);
            part(r.hour.direct_normal_w_per_m2, WeatherColumn::direct_normal);
            part(r.hour.diffuse_w_per_m2, WeatherColumn::diffuse);
            const auto count = [](std::size_t& gaps, bool gap) { gaps += gap ? 1u : 0u; };
            count(series_.gaps.global, global && !r.hour.global_w_per_m2);
            count(series_.gaps.direct_normal, direct && !r.hour.direct_normal_w_per_m2);
            count(series_.gaps.diffuse, diffuse && !r.hour.diffuse_w_per_m2);
            count(series_.gaps.air, !r.hour.air);
            count(series_.gaps.wind, !r.hour.wind_m_per_s);
            series_.hours.push_back(r.hour);
        }
        series_.location = form_.location;
        if (!form_.stamps) {
            series_.notes.emplace_back("nothing says what the stamps mean: taken as the beginning of each interval");
        }
        for (const Column& c : header_->columns) {
            if (c.heading.unit_given || !has_unit(c.heading.column)) continue;
            series_.notes.push_back(
                fmt::format("column {} names no unit: taken as {}", c.index + 1, describe(c.heading.column)));
        }
        if (!header_->ignored.empty()) {
            std::string list;
            for (const std::string& name : header_->ignored) list += (list.empty() ? "" : ", ") + name;
            series_.notes.push_back("columns that are not read: " + list);
        }
    }

    MeasuredComplaints complaints_;
    const WeatherTableForm& form_;
    std::optional<TableHeader> header_;
    int header_line_ = 0;
    char decimal_ = '.';
    DateOrder order_ = DateOrder::unknown;
    std::vector<MeasuredCell> cells_;
    std::deque<std::string> unquoted_;
    std::vector<RawHour> rows_;
    WeatherSeries series_;
};

}  // namespace

Result<WeatherSeries> read_weather_table(std::string_view text, const std::string& file, const WeatherTableForm& form) {
    return TableReader(file, form).run(text);
}

}  // namespace plait::input
