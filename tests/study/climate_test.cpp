#include "../support/source_dir.hpp"

#include <plait/base/civil_date.hpp>
#include <plait/study/climate.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>
#include <sstream>
#include <vector>

using namespace plait;
using namespace plait::study;

namespace {

int day(int y, int m, int d) { return day_number(civil_date(y, m, d)); }

/// Every day of some years; the function gives lows (highs stand 10 K above them), or nothing.
StationRecord record_of(int first_year, int last_year, const std::function<std::optional<double>(CivilDate)>& low) {
    StationRecord r;
    r.id = "XX000000001";
    for (int d = day(first_year, 1, 1); d <= day(last_year, 12, 31); ++d) {
        if (const auto value = low(date_of(d))) r.days.push_back({d, value, *value + 10.0});
    }
    return r;
}

/// The annual maxima at Port Pirie of tests/reference/extreme_values.csv.
std::vector<double> port_pirie() {
    std::ifstream file(std::string(support::source_dir()) + "/tests/reference/extreme_values.csv");
    std::vector<double> values;
    for (std::string line; std::getline(file, line);) {
        if (line.substr(0, 13) == "port-pirie,x,") values.push_back(std::stod(line.substr(13)));
    }
    return values;
}

double mild(CivilDate) { return 5.0; }

/// The lines of a file: the temperature chosen counts and says on what it rests; record and levels each are there once.
void check_lines(const ClimateSheet& sheet) {
    const std::vector<std::string> lines = site_lines(sheet);
    const auto with = [&](const std::string& words, bool counts) {
        return std::count_if(lines.begin(), lines.end(), [&](const std::string& line) {
            return line.starts_with(counts ? "coldest_air" : "# coldest_air") && line.find(words) != std::string::npos;
        });
    };
    const bool by_level = sheet.coldest_basis == TemperatureBasis::fifty_year;
    CHECK(with("", true) == 1);
    CHECK(with("the record", true) == (by_level ? 0 : 1));
    CHECK(with("the record", false) == (by_level ? 1 : 0));
    for (const ReturnLevel& level : sheet.cold->levels) {
        const std::string words = "once in " + std::to_string(std::lround(level.period_years)) + " years";
        const bool chosen = by_level && level.period_years == 50.0;
        CHECK(with(words, true) == (chosen ? 1 : 0));
        CHECK(with(words, false) == (chosen ? 0 : 1));
    }
    CHECK(std::count(lines.begin(), lines.end(), std::string("coldest_basis = \"") + (by_level ? "fifty-year" : "record") + "\"") == 1);
}

}  // namespace

TEST_CASE("a cold night in December belongs to the winter that ends in the next year") {
    const StationRecord r = record_of(2000, 2004, [](CivilDate d) -> std::optional<double> {
        if (d == civil_date(2001, 12, 30)) return -20.0;
        if (d == civil_date(2002, 12, 31)) return -15.0;
        if (d == civil_date(2003, 1, 1)) return -14.0;
        return mild(d);
    });
    const ClimateSheet sheet = climate_sheet(r, false);
    REQUIRE(sheet.cold);
    CHECK(sheet.cold->record.value_degc == -20.0);
    CHECK(sheet.cold->record.day == day(2001, 12, 30));
    CHECK(sheet.cold->record.year == 2002);
    // Winters to 2001, 2002, 2003 and 2004 are whole; that to 2000 lacks its December, that to 2005 all but its own.
    REQUIRE(sheet.cold->seasons.size() == 4);
    CHECK(sheet.cold->seasons[0].year == 2001);
    CHECK(sheet.cold->seasons[2].value_degc == -15.0);
    REQUIRE(sheet.cold->gaps.size() == 2);
    CHECK(sheet.cold->gaps[0].missing == 31);
    CHECK(sheet.cold->gaps[1].year == 2005);
    // By hand: 2001 −20, 2002 −15, 2003 −14, the other two 5 °C.
    CHECK(sheet.cold->mean_years == 5);
    CHECK(*sheet.cold->mean_yearly_degc == Approx((-20.0 - 15.0 - 14.0 + 5.0 + 5.0) / 5.0));
    CHECK_FALSE(sheet.cold->fit);  // four winters say nothing of fifty years
    CHECK(sheet.coldest_basis == TemperatureBasis::record);
    CHECK(sheet.coldest_air == Celsius{-20.0});
}

TEST_CASE("in the south winter is in the middle of the year and summer over new year") {
    const StationRecord r = record_of(2000, 2004, [](CivilDate d) -> std::optional<double> {
        if (d == civil_date(2002, 7, 15)) return -8.0;
        if (d == civil_date(2001, 12, 30)) return 33.0;
        return mild(d);
    });
    const ClimateSheet sheet = climate_sheet(r, true);
    CHECK(sheet.cold->seasons.size() == 5);
    CHECK(sheet.cold->record.year == 2002);
    CHECK(sheet.hot->seasons.size() == 4);
    CHECK(sheet.hot->record.value_degc == 43.0);
    CHECK(sheet.hot->record.year == 2002);
    // The latitude of the file tells as much.
    StationRecord with_latitude = r;
    with_latitude.latitude_deg = -40.0;
    CHECK(climate_sheet(with_latitude).in_the_south);
    CHECK(climate_sheet(with_latitude).notes.empty());
    CHECK_FALSE(climate_sheet(r).in_the_south);
    CHECK(climate_sheet(r).notes.size() == 1);
}

TEST_CASE("a winter with more than a tenth of its days missing does not count, but its record does") {
    const auto with_gap = [](int missing) {
        return record_of(2000, 2003, [missing](CivilDate d) -> std::optional<double> {
            if (year_of(d) == 2002 && month_of(d) == 1 && day_of(d) <= missing) return std::nullopt;
            if (d == civil_date(2002, 2, 10)) return -25.0;
            return mild(d);
        });
    };
    // The winter to 2002 has 90 days: nine of them are a tenth.
    const ClimateSheet nine = climate_sheet(with_gap(9), false);
    CHECK(nine.cold->seasons.size() == 3);
    const ClimateSheet ten = climate_sheet(with_gap(10), false);
    CHECK(ten.cold->seasons.size() == 2);
    CHECK(ten.cold->record.value_degc == -25.0);
    CHECK(std::any_of(ten.cold->gaps.begin(), ten.cold->gaps.end(),
                      [](const YearGap& g) { return g.year == 2002 && g.missing == 10 && g.quarter == 90; }));
}

TEST_CASE("years without a single value are gaps") {
    const StationRecord r = record_of(2000, 2010, [](CivilDate d) -> std::optional<double> {
        if (year_of(d) >= 2003 && year_of(d) <= 2006) return std::nullopt;
        return mild(d);
    });
    const ClimateSheet sheet = climate_sheet(r, false);
    const auto whole_gap = std::count_if(sheet.cold->gaps.begin(), sheet.cold->gaps.end(),
                                         [](const YearGap& g) { return g.missing == g.quarter; });
    CHECK(whole_gap == 3);  // winters to 2004, 2005 and 2006
    CHECK(sheet.cold->mean_years == 7);
}

TEST_CASE("lows drawn from a printed example give its printed levels, turned round") {
    // The maxima at Port Pirie, hung from the other side: −10 times as winters' lows. Coles (2001) prints 10-year level
    // 4.30 and shape −0.050 [from memory].
    const std::vector<double> maxima = port_pirie();
    REQUIRE(maxima.size() == 65);
    const StationRecord r = record_of(1922, 1987, [&](CivilDate d) -> std::optional<double> {
        if (month_of(d) == 1 && day_of(d) == 20 && year_of(d) >= 1923) {
            return -10.0 * maxima[static_cast<std::size_t>(year_of(d) - 1923)];
        }
        return mild(d);
    });
    const ClimateSheet sheet = climate_sheet(r, false);
    REQUIRE(sheet.cold->seasons.size() == 65);
    REQUIRE(sheet.cold->fit);
    CHECK(sheet.cold->fit->shape_value == Approx(-0.050).margin(0.0005));
    REQUIRE(sheet.cold->levels.size() == 2);
    CHECK(sheet.cold->levels[0].level.degc == Approx(-43.0).margin(0.05));
    // scipy (tests/reference/extreme_values.py): 50 years 4.5767, profile range 4.4191 to 4.9813.
    CHECK(sheet.cold->levels[1].level.degc == Approx(-45.77).margin(0.01));
    CHECK(sheet.cold->levels[1].low.degc == Approx(-49.81).margin(0.01));
    CHECK(sheet.cold->levels[1].high.degc == Approx(-44.19).margin(0.01));
    // The record, 4.69, is beyond the 50-year level: the colder of the two is chosen.
    CHECK(sheet.coldest_basis == TemperatureBasis::record);
    CHECK(sheet.coldest_air->degc == Approx(-46.9));
    check_lines(sheet);
}

TEST_CASE("with few winters the shape is held, and the 50-year level may be colder than the record") {
    const double lows[] = {-9, -12, -7, -14, -11, -8, -10, -13, -9.5, -11.5, -10.5, -12.5};
    const StationRecord r = record_of(2000, 2012, [&](CivilDate d) -> std::optional<double> {
        if (month_of(d) == 2 && day_of(d) == 2 && year_of(d) >= 2001) return lows[year_of(d) - 2001];
        return mild(d);
    });
    const ClimateSheet sheet = climate_sheet(r, false);
    REQUIRE(sheet.cold->fit);
    CHECK(sheet.cold->fit->shape_held);
    CHECK(sheet.cold->fit->shape_value == 0.0);
    CHECK(sheet.cold->levels[1].level < sheet.cold->levels[0].level);
    CHECK(sheet.cold->levels[0].low < sheet.cold->levels[0].level);
    CHECK(sheet.coldest_basis == TemperatureBasis::fifty_year);
    CHECK(sheet.coldest_air == sheet.cold->levels[1].level);
    check_lines(sheet);
}

TEST_CASE("a warming of the winters is a trend") {
    const StationRecord r = record_of(1970, 2010, [&](CivilDate d) -> std::optional<double> {
        if (month_of(d) == 1 && day_of(d) == 9)
            return -20.0 + 0.05 * (year_of(d) - 1970) + 0.4 * std::sin(7.0 * year_of(d));
        return mild(d);
    });
    const ClimateSheet sheet = climate_sheet(r, false);
    REQUIRE(sheet.cold->trend);
    CHECK(sheet.cold->trend->per_decade_k == Approx(0.5).margin(sheet.cold->trend->uncertain_k));
    CHECK(sheet.cold->trend->uncertain_k < 0.2);
}

TEST_CASE("a station of highs only, or of nothing, gives what it has") {
    StationRecord r;
    CHECK_FALSE(climate_sheet(r, false).cold);
    CHECK(site_lines(climate_sheet(r, false)).empty());
    r.days = {{day(2001, 7, 1), std::nullopt, 31.25}};
    const ClimateSheet sheet = climate_sheet(r, false);
    CHECK_FALSE(sheet.cold);
    CHECK(sheet.hot->record.value_degc == 31.25);
    const auto lines = site_lines(sheet);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "hottest_air = \"31.3 °C\"  # the record, 2001-07-01");
    CHECK(lines[1] == "hottest_basis = \"record\"");
}

TEST_CASE("winters that are all alike have no spread to fit") {
    const ClimateSheet sheet =
        climate_sheet(record_of(1980, 2010, [](CivilDate d) { return std::optional(mild(d)); }), false);
    CHECK_FALSE(sheet.cold->fit);
    CHECK(sheet.cold->levels.empty());
    CHECK(sheet.coldest_air == Celsius{5.0});
}
