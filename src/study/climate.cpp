#include <plait/study/climate.hpp>

#include <plait/base/civil_date.hpp>
#include <plait/physics/student_t.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace plait::study {
namespace {

enum class Side { lows, highs };

/// The three months that decide a season, and the month in which its twelve months begin.
struct Season {
    int quarter[3];
    int first_month;
};
constexpr Season turn_of_year{{12, 1, 2}, 7};   // July to June, by the later year
constexpr Season middle_of_year{{6, 7, 8}, 1};  // the calendar year

constexpr Season season_of(Side side, bool in_the_south) {
    const bool winter_at_new_year = !in_the_south;
    return (side == Side::lows) == winter_at_new_year ? turn_of_year : middle_of_year;
}

bool in_quarter(const Season& s, int month) {
    return month == s.quarter[0] || month == s.quarter[1] || month == s.quarter[2];
}

int year_label(const Season& s, CivilDate date) {
    return year_of(date) + (s.first_month > 1 && month_of(date) >= s.first_month ? 1 : 0);
}

int days_in_month(int year, int month) {
    const int next_year = month == 12 ? year + 1 : year;
    const int next_month = month == 12 ? 1 : month + 1;
    return day_number(civil_date(next_year, next_month, 1)) - day_number(civil_date(year, month, 1));
}

/// Days of the quarter of a season or, `calendar`, of those of its months that lie in the calendar year.
int quarter_days(const Season& s, int year, bool calendar) {
    int days = 0;
    for (const int month : s.quarter) {
        const bool year_before = !calendar && s.first_month > 1 && month >= s.first_month;
        days += days_in_month(year_before ? year - 1 : year, month);
    }
    return days;
}

struct Gathered {
    YearExtreme extreme;
    int quarter_values = 0;
};

bool more_extreme(Side side, double a, double b) { return side == Side::lows ? a < b : a > b; }

/// Season by season, or year by year.
std::map<int, Gathered> gather(const StationRecord& record, Side side, const Season& season, bool calendar) {
    std::map<int, Gathered> all;
    Gathered* last = nullptr;
    int last_year = 0;
    for (const StationDay& d : record.days) {
        const std::optional<double>& value = side == Side::lows ? d.lowest_degc : d.highest_degc;
        if (!value) continue;
        const CivilDate date = date_of(d.day);
        const int year = calendar ? year_of(date) : year_label(season, date);
        if (last == nullptr || year != last_year) {
            const auto [place, fresh] = all.try_emplace(year);
            last = &place->second;
            last_year = year;
            if (fresh) last->extreme = {year, d.day, *value};
        }
        if (more_extreme(side, *value, last->extreme.value_degc)) last->extreme = {year, d.day, *value};
        last->quarter_values += in_quarter(season, month_of(date)) ? 1 : 0;
    }
    return all;
}

bool complete(const Season& season, int year, bool calendar, int values, YearGap& gap) {
    gap.year = year;
    gap.quarter = quarter_days(season, year, calendar);
    gap.missing = gap.quarter - values;
    return gap.missing <= most_missing_ratio * gap.quarter;
}

Trend trend_of(const std::vector<YearExtreme>& seasons) {
    const double n = static_cast<double>(seasons.size());
    double mean_year = 0.0;
    double mean_degc = 0.0;
    for (const YearExtreme& s : seasons) {
        mean_year += s.year / n;
        mean_degc += s.value_degc / n;
    }
    double xx = 0.0;
    double xy = 0.0;
    double yy = 0.0;
    for (const YearExtreme& s : seasons) {
        const double x = s.year - mean_year;
        const double y = s.value_degc - mean_degc;
        xx += x * x;
        xy += x * y;
        yy += y * y;
    }
    const double slope = xy / xx;
    const double left_over = std::max(0.0, yy - slope * xy) / (n - 2.0);
    return {10.0 * slope,
            10.0 * physics::student_t_95_ratio(static_cast<int>(seasons.size()) - 2) * std::sqrt(left_over / xx)};
}

void fit_levels(ExtremeSide& out, Side side) {
    if (out.seasons.size() < least_seasons) return;
    std::vector<double> maxima;
    const double sign = side == Side::lows ? -1.0 : 1.0;
    for (const YearExtreme& s : out.seasons) maxima.push_back(sign * s.value_degc);
    const physics::Shape shape =
        maxima.size() < physics::least_years_for_shape ? physics::Shape::held_at_zero : physics::Shape::fitted;
    out.fit = physics::fit_extremes(maxima, shape);
    if (!out.fit) return;
    for (const double years : {10.0, 50.0}) {
        const physics::LevelRange range = physics::return_level_range(maxima, *out.fit, years);
        const double ends[] = {sign * range.low_value, sign * range.high_value};
        out.levels.push_back({years,
                              {sign * physics::return_level_value(*out.fit, years)},
                              {std::min(ends[0], ends[1])},
                              {std::max(ends[0], ends[1])}});
    }
    out.trend = trend_of(out.seasons);
}

std::optional<ExtremeSide> side_of(const StationRecord& record, Side side, bool in_the_south) {
    const Season season = season_of(side, in_the_south);
    ExtremeSide out;
    const auto by_season = gather(record, side, season, false);
    if (by_season.empty()) return std::nullopt;
    out.record = by_season.begin()->second.extreme;
    for (const auto& [year, g] : by_season) {
        if (more_extreme(side, g.extreme.value_degc, out.record.value_degc)) out.record = g.extreme;
        YearGap gap;
        if (complete(season, year, false, g.quarter_values, gap)) {
            out.seasons.push_back(g.extreme);
        } else {
            out.gaps.push_back(gap);
        }
    }
    // Seasons between the first and the last of which there is no value at all.
    for (int year = by_season.begin()->first; year <= by_season.rbegin()->first; ++year) {
        if (by_season.count(year) > 0) continue;
        const int days = quarter_days(season, year, false);
        out.gaps.push_back({year, days, days});
    }
    std::sort(out.gaps.begin(), out.gaps.end(), [](const YearGap& a, const YearGap& b) { return a.year < b.year; });
    double sum = 0.0;
    for (const auto& [year, g] : gather(record, side, season, true)) {
        YearGap gap;
        if (!complete(season, year, true, g.quarter_values, gap)) continue;
        sum += g.extreme.value_degc;
        ++out.mean_years;
    }
    if (out.mean_years > 0) out.mean_yearly_degc = sum / static_cast<double>(out.mean_years);
    for (const StationDay& d : record.days) {
        out.days += (side == Side::lows ? d.lowest_degc : d.highest_degc).has_value() ? 1u : 0u;
    }
    fit_levels(out, side);
    return out;
}

/// The more extreme of record and 50-year level.
void choose(const std::optional<ExtremeSide>& side, Side which, std::optional<Celsius>& air, TemperatureBasis& basis) {
    if (!side) return;
    air = Celsius{side->record.value_degc};
    basis = TemperatureBasis::record;
    for (const ReturnLevel& level : side->levels) {
        if (level.period_years != 50.0 || !more_extreme(which, level.level.degc, air->degc)) continue;
        air = level.level;
        basis = TemperatureBasis::fifty_year;
    }
}

}  // namespace

ClimateSheet climate_sheet(const StationRecord& record, std::optional<bool> in_the_south) {
    ClimateSheet sheet;
    sheet.id = record.id;
    sheet.name = record.name;
    sheet.flagged = record.flagged;
    sheet.notes = record.notes;
    if (!in_the_south && !record.latitude_deg) {
        sheet.notes.emplace_back("the file does not say on which hemisphere the station is: taken as the northern");
    }
    sheet.in_the_south = in_the_south.value_or(record.latitude_deg.value_or(1.0) < 0.0);
    if (record.days.empty()) return sheet;
    sheet.first_day = record.days.front().day;
    sheet.last_day = record.days.back().day;
    sheet.cold = side_of(record, Side::lows, sheet.in_the_south);
    sheet.hot = side_of(record, Side::highs, sheet.in_the_south);
    choose(sheet.cold, Side::lows, sheet.coldest_air, sheet.coldest_basis);
    choose(sheet.hot, Side::highs, sheet.hottest_air, sheet.hottest_basis);
    return sheet;
}

}  // namespace plait::study
