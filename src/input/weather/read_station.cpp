#include <plait/input/read_station.hpp>

#include "quantity/words.hpp"
#include "station_forms.hpp"
#include "table/measured_cells.hpp"
#include "text_lines.hpp"

#include <fmt/core.h>

namespace plait::input {
namespace {

/// Eleven signs of a station, a year, a month, four letters: no commas before column 22.
bool looks_like_dly(std::string_view line) {
    if (line.size() < 26 || line.substr(0, 21).find(',') != std::string_view::npos) return false;
    for (std::size_t i = 11; i < 17; ++i) {
        if (!is_digit(line[i])) return false;
    }
    return true;
}

bool is_long_header(std::string_view line) {
    const std::string small = lower(line);
    return small.find("element") != std::string::npos && small.find("date") != std::string::npos;
}

class StationReader {
public:
    StationReader(const std::string& file, const std::string& station)
        : complaints_(file), days_(station), wanted_(station) {}

    Result<StationRecord> run(std::string_view text) {
        TextLines lines(text);
        std::string_view line;
        while (lines.next(line)) {
            if (trimmed(line).empty() || line.front() == '#') continue;
            take(line, lines.number());
            if (!complaints_.hopeless()) continue;
            complaints_.stop_at(lines.number());
            break;
        }
        if (complaints_.count() == 0) check();
        if (complaints_.count() > 0) return Failure{complaints_.taken()};
        StationRecord record = days_.taken();
        if (record.days.empty()) {
            complaints_.add(0, 0, Complaint::no_rows,
                            "there is no TMIN or TMAX value in it. Take a station that reports temperatures.");
            return Failure{complaints_.taken()};
        }
        return record;
    }

private:
    enum class Form { unknown, dly, long_rows, wide };

    void take(std::string_view line, int number) {
        if (form_ == Form::unknown) {
            if (looks_like_dly(line)) {
                form_ = Form::dly;
            } else if (wide_.take_header(line)) {
                form_ = Form::wide;
                return;
            } else {
                form_ = Form::long_rows;
                if (is_long_header(line)) return;
            }
        }
        switch (form_) {
            case Form::dly:
                return read_dly_line(line, number, days_, complaints_);
            case Form::long_rows:
                return read_long_line(line, number, days_, complaints_);
            case Form::wide:
                return wide_.read_line(line, number, days_, complaints_);
            case Form::unknown:
                return;
        }
    }

    void check() {
        const std::vector<std::string>& seen = days_.seen();
        if (form_ == Form::wide && !wide_.finish(days_)) {
            complaints_.add(0, 0, Complaint::unit,
                            "nothing tells whether its whole numbers are tenths of °C or °F. Take the file with its "
                            "TMIN_ATTRIBUTES and TMAX_ATTRIBUTES columns, or with values in °C.");
        }
        if (seen.empty()) {
            complaints_.add(0, 0, Complaint::no_rows, "the file is empty. Take it from its source again.");
            return;
        }
        if (!wanted_.empty() && days_.record().id.empty()) {
            complaints_.add(0, 0, Complaint::unknown_word,
                            fmt::format("there is no station {} in it. {}", named(wanted_),
                                        suggestion(wanted_, Words(seen.begin(), seen.end()), "Stations")));
        } else if (wanted_.empty() && seen.size() > 1) {
            complaints_.add(0, 0, Complaint::ambiguous,
                            fmt::format("it holds {} stations: {}. Say which one is wanted.", seen.size(),
                                        any_of(Words(seen.begin(), seen.end()))));
        }
    }

    MeasuredComplaints complaints_;
    StationDays days_;
    std::string wanted_;
    WideStation wide_;
    Form form_ = Form::unknown;
};

}  // namespace

Result<StationRecord> read_station(std::string_view text, const std::string& file, const std::string& station) {
    return StationReader(file, station).run(text);
}

}  // namespace plait::input
