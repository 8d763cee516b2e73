#include <plait/input/read_weather_file.hpp>

#include "epw_header.hpp"
#include "quantity/decimal.hpp"
#include "quantity/words.hpp"
#include "table/measured_cells.hpp"
#include "table/measured_complaints.hpp"
#include "text_lines.hpp"

#include <plait/base/civil_date.hpp>

#include <fmt/core.h>

#include <array>
#include <cmath>

namespace plait::input {
namespace {

constexpr std::size_t header_lines = 8;
constexpr std::size_t fields = 35;
constexpr std::size_t least_fields = 22;  // up to the wind

/// One kind of figure in a row. Below `least` or not a number it is a slip; from `missing` on it is missing.
struct Figure {
    std::size_t field;  ///< from 0
    double least;
    double most;
    double missing;
    std::string_view what;
};
constexpr Figure air_figure{6, -90.0, 70.0, 99.9, "the air (°C)"};
constexpr Figure pressure_figure{9, 30000.0, 120000.0, 999999.0, "the pressure (Pa)"};
constexpr Figure global_figure{13, 0.0, 1600.0, 9999.0, "the global light (Wh/m²)"};
constexpr Figure direct_figure{14, 0.0, 1600.0, 9999.0, "the direct normal light (Wh/m²)"};
constexpr Figure diffuse_figure{15, 0.0, 1600.0, 9999.0, "the diffuse light (Wh/m²)"};
constexpr Figure wind_figure{21, 0.0, 120.0, 999.0, "the wind (m/s)"};
constexpr Figure albedo_figure{32, 0.0, 1.0, 999.0, "the albedo"};

class EpwReader {
public:
    explicit EpwReader(const std::string& file) : complaints_(file) {}

    Result<WeatherSeries> run(std::string_view text) {
        TextLines lines(text);
        std::string_view line;
        for (std::size_t i = 0; i < header_lines && lines.next(line); ++i) {
            if (i == 0 && line.substr(0, 9) != "LOCATION,") {
                complaints_.add(
                    1, 1, Complaint::wrong_file,
                    "the first line should begin with LOCATION,: this is no EPW file. A plain weather table "
                    "needs a header line that names its columns, such as time,ghi,air.");
                return Failure{complaints_.taken()};
            }
            read_epw_header_line(line, lines.number(), header_, series_, complaints_);
        }
        series_.location = header_.location;
        series_.step_h = 1.0 / header_.records_per_hour;
        series_.hours.reserve(8784u * static_cast<std::size_t>(header_.records_per_hour));
        while (lines.next(line)) {
            if (trimmed(line).empty()) continue;
            row(line, lines.number());
            if (!complaints_.hopeless()) continue;
            complaints_.stop_at(lines.number());
            break;
        }
        if (series_.hours.empty() && complaints_.count() == 0) {
            complaints_.add(
                0, 0, Complaint::no_rows,
                "there is no row below the eight header lines. Take the file from its source again, whole.");
        }
        if (complaints_.count() > 0) return Failure{complaints_.taken()};
        remarks();
        return std::move(series_);
    }

private:
    void row(std::string_view line, int number) {
        std::size_t count = 0;
        std::string_view rest = line;
        bool more = true;
        std::string_view cell;
        while (next_cell(rest, cell, more)) {
            if (count < fields) cells_[count] = cell;
            ++count;
        }
        if (count < least_fields) {
            complaints_.add(number, 1, Complaint::grammar,
                            fmt::format("this row has {} fields; a row of an EPW file has 35. Take the file from its "
                                        "source again, whole.",
                                        count));
            return;
        }
        for (std::size_t i = count; i < fields; ++i) cells_[i] = {};
        std::array<int, 4> stamp{};  // year, month, day, hour
        for (std::size_t i = 0; i < stamp.size(); ++i) {
            const auto value = decimal_number(cells_[i]);
            stamp[i] = value && std::abs(*value) < 1e5 ? static_cast<int>(*value) : -1;
        }
        const CivilDate date = stamp[1] >= 1 && stamp[1] <= 12 && stamp[2] >= 1 && stamp[2] <= 31
                                   ? civil_date(stamp[0], stamp[1], stamp[2])
                                   : CivilDate{};
        if (stamp[0] < 1800 || stamp[0] > 2200 || !date.ok() || stamp[3] < 1 || stamp[3] > 24) {
            complaints_.add(number, 1, Complaint::time,
                            fmt::format("this row's date and hour are {}-{}-{} {}; written are year, month, day and an "
                                        "hour from 1 to 24.",
                                        shown(cells_[0]), shown(cells_[1]), shown(cells_[2]), shown(cells_[3])));
            return;
        }
        // Hour h ends at h:00 of standard time, whatever the minutes say; of several records in an hour each is the
        // next.
        const int hour_number = day_number(date) * 24 + stamp[3];
        record_ = hour_number == last_hour_ ? record_ + 1 : 0;
        last_hour_ = hour_number;
        if (record_ >= header_.records_per_hour) {
            complaints_.add(
                number, 1, Complaint::how_many,
                fmt::format("hour {} of {}-{:02}-{:02} has more rows than the {} its header tells of. Delete "
                            "what is twice.",
                            stamp[3], stamp[0], stamp[1], stamp[2], header_.records_per_hour));
            return;
        }
        WeatherHour hour;
        hour.start_ut_h = hour_number - 1.0 + record_ * series_.step_h - header_.location.from_utc_h;
        const double per_h = header_.records_per_hour;
        number_.line = line;
        number_.number = number;
        hour.global_w_per_m2 = light(global_figure, per_h, series_.gaps.global);
        hour.direct_normal_w_per_m2 = light(direct_figure, per_h, series_.gaps.direct_normal);
        hour.diffuse_w_per_m2 = light(diffuse_figure, per_h, series_.gaps.diffuse);
        if (const auto air = figure(air_figure, series_.gaps.air)) hour.air = Celsius{*air};
        hour.wind_m_per_s = figure(wind_figure, series_.gaps.wind);
        std::size_t not_counted = 0;
        hour.pressure_pa = figure(pressure_figure, not_counted);
        hour.albedo_ratio = figure(albedo_figure, not_counted);
        if (hour.albedo_ratio && !(*hour.albedo_ratio > 0.0)) hour.albedo_ratio.reset();  // a common filler
        if (!series_.hours.empty() && year_of(date) != last_year_) {
            const bool next = year_of(date) == last_year_ + 1 && stamp[1] == 1 && stamp[2] == 1;
            series_.pieced_together = series_.pieced_together || !next;
        }
        last_year_ = year_of(date);
        series_.hours.push_back(hour);
    }

    /// Empty: missing, counted. What is neither a figure nor a missing mark is complained of.
    std::optional<double> figure(const Figure& f, std::size_t& gap) {
        const std::string_view text = cells_[f.field];
        if (text.empty()) {
            ++gap;
            return std::nullopt;
        }
        const auto value = decimal_number(text);
        if (value && (*value >= f.missing || *value <= -f.missing)) {
            ++gap;
            return std::nullopt;
        }
        if (value && *value >= f.least && *value <= f.most) return value;
        complaints_.add_at(number_.line, number_.number, static_cast<std::size_t>(text.data() - number_.line.data()),
                           Complaint::outside_range,
                           fmt::format("field {} is {}, which cannot be {}: {} to {}, or {} for missing.", f.field + 1,
                                       shown(text), f.what, plain(f.least), plain(f.most), plain(f.missing)));
        return std::nullopt;
    }

    std::optional<double> light(Figure f, double per_h, std::size_t& gap) {
        f.most /= per_h;
        auto value = figure(f, gap);
        if (value) *value *= per_h;
        return value;
    }

    void remarks() {
        const std::size_t of_year = 8760u * static_cast<std::size_t>(header_.records_per_hour);
        const std::size_t of_leap_year = 8784u * static_cast<std::size_t>(header_.records_per_hour);
        if (series_.hours.size() != of_year && series_.hours.size() != of_leap_year) {
            series_.notes.push_back(fmt::format("the file has {} rows; a year has {}", series_.hours.size(), of_year));
        }
        if (series_.pieced_together) {
            series_.notes.emplace_back(
                "the months are of different years: a typical year, whose coldest hour is no "
                "record");
        }
    }

    struct RowPlace {
        std::string_view line;
        int number = 0;
    };

    MeasuredComplaints complaints_;
    EpwHeader header_;
    WeatherSeries series_;
    std::array<std::string_view, fields> cells_;
    RowPlace number_;
    int last_hour_ = -1000000;
    int record_ = 0;
    int last_year_ = 0;
};

}  // namespace

bool looks_like_epw(std::string_view text) {
    TextLines lines(text);
    std::string_view line;
    return lines.next(line) && line.substr(0, 9) == "LOCATION,";
}

Result<WeatherSeries> read_epw(std::string_view text, const std::string& file) { return EpwReader(file).run(text); }

}  // namespace plait::input
