#include "epw_header.hpp"

#include "quantity/decimal.hpp"
#include "quantity/words.hpp"
#include "table/measured_cells.hpp"
#include "text_lines.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace plait::input {
namespace {

std::vector<std::string_view> cells_of(std::string_view line) {
    std::vector<std::string_view> cells;
    std::string_view cell;
    bool more = true;
    while (next_cell(line, cell, more)) cells.push_back(cell);
    return cells;
}

std::string_view cell_at(const std::vector<std::string_view>& cells, std::size_t i) {
    return i < cells.size() ? cells[i] : std::string_view{};
}

void location_from(std::string_view line, int number, EpwHeader& header, WeatherSeries& series,
                   MeasuredComplaints& complaints) {
    const auto cells = cells_of(line);
    series.name = printable(cell_at(cells, 1));
    for (const std::size_t i : {std::size_t{2}, std::size_t{3}}) {
        const std::string_view more = cell_at(cells, i);
        if (more.empty() || more == "-") continue;
        series.name += (series.name.empty() ? "" : ", ") + printable(more);
    }
    series.source = printable(cell_at(cells, 4));
    struct Wanted {
        std::size_t field;
        std::string_view what;
        double least, most;
        double* into;
    };
    Location& l = header.location;
    for (const Wanted& w : {Wanted{6, "latitude (degrees north)", -90, 90, &l.latitude_deg},
                            Wanted{7, "longitude (degrees east)", -180, 180, &l.longitude_deg},
                            Wanted{8, "hours from UTC", -12, 14, &l.from_utc_h},
                            Wanted{9, "height in metres", -450, 9000, &l.height_m}}) {
        const std::string_view text = cell_at(cells, w.field);
        const auto value = decimal_number(text);
        if (value && *value >= w.least && *value <= w.most) {
            *w.into = *value;
            continue;
        }
        complaints.add(number, 1, Complaint::outside_range,
                       fmt::format("field {} of LOCATION should be the {}, {} to {}, but is {}. Write LOCATION, place, "
                                   "state, country, source, station, latitude, longitude, hours from UTC, height.",
                                   w.field + 1, w.what, plain(w.least), plain(w.most), shown(text)));
    }
}

void periods_from(std::string_view line, int number, EpwHeader& header, MeasuredComplaints& complaints) {
    const auto cells = cells_of(line);
    const auto records = decimal_number(cell_at(cells, 2));
    const bool whole = records && *records >= 1.0 && *records <= 60.0 && std::floor(*records) == *records;
    if (whole && 60 % static_cast<int>(*records) == 0) {
        header.records_per_hour = static_cast<int>(*records);
        return;
    }
    complaints.add(
        number, 1, Complaint::outside_range,
        fmt::format("field 3 of DATA PERIODS should be the records in an hour, a whole number that divides 60, "
                    "but is {}. Usual is 1.",
                    shown(cell_at(cells, 2))));
}

}  // namespace

std::optional<StatedExtremes> extremes_in(std::string_view line) {
    const auto cells = cells_of(line);
    const auto label = std::find(cells.begin(), cells.end(), "Extremes");
    if (label == cells.end() || cells.end() - label < 17) return std::nullopt;
    std::array<double, 16> v{};
    for (std::size_t i = 0; i < v.size(); ++i) {
        const auto number = decimal_number(*(label + 1 + static_cast<std::ptrdiff_t>(i)));
        if (!number) return std::nullopt;
        v[i] = *number;
    }
    const auto pair = [&](std::size_t i) {
        return std::pair{Celsius{std::min(v[i], v[i + 1])}, Celsius{std::max(v[i], v[i + 1])}};
    };
    StatedExtremes out;
    out.source = printable(cell_at(cells, 2));
    std::tie(out.mean_yearly_lowest, out.mean_yearly_highest) = pair(4);
    Celsius low = out.mean_yearly_lowest;
    Celsius high = out.mean_yearly_highest;
    std::size_t at = 8;
    for (const double years : {5.0, 10.0, 20.0, 50.0}) {
        const auto [lowest, highest] = pair(at);
        // Rarer is more extreme, or these are other figures.
        if (lowest > low || highest < high || lowest.degc < -95.0 || highest.degc > 65.0) return std::nullopt;
        out.periods.push_back({years, lowest, highest});
        low = lowest;
        high = highest;
        at += 2;
    }
    return out;
}

void read_epw_header_line(std::string_view line, int number, EpwHeader& header, WeatherSeries& series,
                          MeasuredComplaints& complaints) {
    const std::string_view name = trimmed(line.substr(0, line.find(',')));
    if (name == "LOCATION") location_from(line, number, header, series, complaints);
    if (name == "DATA PERIODS") periods_from(line, number, header, complaints);
    if (name == "DESIGN CONDITIONS") {
        series.extremes = extremes_in(line);
        if (!series.extremes && line.find("Extremes") != std::string_view::npos) {
            series.notes.emplace_back(
                "the extremes of its DESIGN CONDITIONS are not in the order known here, and were "
                "left out");
        }
    }
}

}  // namespace plait::input
