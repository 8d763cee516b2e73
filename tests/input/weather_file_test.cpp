#include <plait/base/civil_date.hpp>
#include <plait/input/read_weather_file.hpp>

#include <catch2/catch.hpp>

#include <cstdio>
#include <string>

using namespace plait;
using namespace plait::input;

namespace {

const std::string header =
    "LOCATION,Lower Meadow,Invented,ZZZ,made up,000000,51.25,-2.50,-3.5,120.0\n"
    "DESIGN CONDITIONS,1,Invented Handbook,,Heating,1,-3.1,-2.2,Cooling,7,8.9,29.5,Extremes,9.1,8.0,7.2,24.4,-6.4,31.2,"
    "2.2,1.9,-8.3,32.9,-9.8,34.2,-11.3,35.5,-13.2,37.1\n"
    "TYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,made up\n"
    "COMMENTS 2,\nDATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n";

struct RowFigures {
    int year = 2019, month = 6, day = 3, hour = 13, minute = 0;
    std::string air = "21.5", pressure = "100100", global = "640", direct = "710", diffuse = "120", wind = "3.2",
                albedo = "0.18";
};

std::string row(const RowFigures& r) {
    std::string text = std::to_string(r.year) + "," + std::to_string(r.month) + "," + std::to_string(r.day) + "," +
                       std::to_string(r.hour) + "," + std::to_string(r.minute) + ",?9?9";
    const std::string between[] = {r.air,    "10.0",    "50", r.pressure, "0", "0", "300", r.global,
                                   r.direct, r.diffuse, "0",  "0",        "0", "0", "180"};
    for (const std::string& cell : between) text += "," + cell;
    text += "," + r.wind + ",5,5,20,77777,9,999999999,150,0.1,0,88," + r.albedo + ",0,0\n";
    return text;
}

Diagnostics complaints_of(const Result<WeatherSeries>& result) {
    REQUIRE_FALSE(result);
    return result.error();
}

bool says(const Diagnostics& all, const std::string& what) {
    for (const Diagnostic& d : all) {
        if (d.message.find(what) != std::string::npos) return true;
    }
    for (const Diagnostic& d : all) UNSCOPED_INFO(d.line << ": " << d.message);
    return false;
}

double hours_of(int year, int month, int day, double hour) {
    return 24.0 * day_number(civil_date(year, month, day)) + hour;
}

}  // namespace

TEST_CASE("an EPW row is the hour that ends at its stamp, in standard time of a half-hour zone") {
    for (const int minute : {0, 60}) {  // both are in use, and mean the same
        RowFigures figures;
        figures.minute = minute;
        const auto series = read_epw(header + row(figures), "a.epw");
        REQUIRE(series);
        REQUIRE(series->hours.size() == 1);
        const WeatherHour& h = series->hours.front();
        // Hour 13 runs from 12:00 to 13:00, at UTC − 3.5 h.
        CHECK(h.start_ut_h == hours_of(2019, 6, 3, 12.0 + 3.5));
        CHECK(h.global_w_per_m2 == 640.0);
        CHECK(h.direct_normal_w_per_m2 == 710.0);
        CHECK(h.diffuse_w_per_m2 == 120.0);
        CHECK(h.air == Celsius{21.5});
        CHECK(h.wind_m_per_s == 3.2);
        CHECK(h.pressure_pa == 100100.0);
        CHECK(h.albedo_ratio == 0.18);
        CHECK(series->location->latitude_deg == 51.25);
        CHECK(series->location->longitude_deg == -2.5);
        CHECK(series->location->from_utc_h == -3.5);
        CHECK(series->location->height_m == 120.0);
        CHECK(series->name == "Lower Meadow, Invented, ZZZ");
        CHECK(series->source == "made up");
    }
}

TEST_CASE("of an EPW's header the labelled extremes count") {
    const auto series = read_epw(header + row({}), "a.epw");
    REQUIRE(series);
    REQUIRE(series->extremes);
    CHECK(series->extremes->source == "Invented Handbook");
    CHECK(series->extremes->mean_yearly_lowest == Celsius{-6.4});
    CHECK(series->extremes->mean_yearly_highest == Celsius{31.2});
    REQUIRE(series->extremes->periods.size() == 4);
    CHECK(series->extremes->periods[3].period_years == 50.0);
    CHECK(series->extremes->periods[3].lowest == Celsius{-13.2});
    CHECK(series->extremes->periods[3].highest == Celsius{37.1});
    // Figures in another order are left out, and it is said.
    std::string other = header;
    other.replace(other.find("-13.2"), 5, "-2.20");
    const auto without = read_epw(other + row({}), "a.epw");
    REQUIRE(without);
    CHECK_FALSE(without->extremes);
    REQUIRE_FALSE(without->notes.empty());
    CHECK(without->notes.front().find("Extremes") == std::string::npos);
    CHECK(without->notes.front().find("extremes") != std::string::npos);
}

TEST_CASE("what an EPW marks as missing is missing, and counted") {
    RowFigures gone;
    gone.air = "99.9";
    gone.global = "9999";
    gone.direct = "9999.0";
    gone.diffuse = "";
    gone.wind = "999";
    gone.pressure = "999999";
    gone.albedo = "999";
    gone.hour = 14;
    const auto series = read_epw(header + row({}) + row(gone), "a.epw");
    REQUIRE(series);
    const WeatherHour& h = series->hours.at(1);
    CHECK_FALSE(h.air);
    CHECK_FALSE(h.global_w_per_m2);
    CHECK_FALSE(h.direct_normal_w_per_m2);
    CHECK_FALSE(h.diffuse_w_per_m2);
    CHECK_FALSE(h.wind_m_per_s);
    CHECK_FALSE(h.pressure_pa);
    CHECK_FALSE(h.albedo_ratio);
    CHECK(series->gaps.air == 1);
    CHECK(series->gaps.global == 1);
    CHECK(series->gaps.direct_normal == 1);
    CHECK(series->gaps.diffuse == 1);
    CHECK(series->gaps.wind == 1);
}

TEST_CASE("a whole year of an EPW, pieced together or not, with and without a leap day") {
    for (const int year : {2023, 2024}) {
        for (const bool pieced : {false, true}) {
            std::string text = header;
            const int first = day_number(civil_date(year, 1, 1));
            const int days = day_number(civil_date(year + 1, 1, 1)) - first;
            for (int d = 0; d < days; ++d) {
                const CivilDate date = date_of(first + d);
                for (int h = 1; h <= 24; ++h) {
                    RowFigures r;
                    r.year = pieced && month_of(date) % 2 == 0 ? 2016 : year;
                    r.month = month_of(date);
                    r.day = day_of(date);
                    r.hour = h;
                    if (r.month == 2 && r.day == 29) r.year = year;
                    text += row(r);
                }
            }
            const auto series = read_epw(text, "year.epw");
            REQUIRE(series);
            CHECK(series->hours.size() == static_cast<std::size_t>(24 * days));
            CHECK(series->pieced_together == pieced);
            CHECK(series->notes.size() == (pieced ? 1u : 0u));
        }
    }
}

TEST_CASE("four records an hour are quarters of it") {
    std::string text = header;
    text.replace(text.find("PERIODS,1,1,Data"), 16, "PERIODS,1,4,Data");
    for (const int minute : {15, 30, 45, 60}) {
        RowFigures r;
        r.minute = minute;
        r.global = "100";
        r.direct = "180";
        r.diffuse = "30";
        text += row(r);
    }
    const auto series = read_epw(text, "a.epw");
    REQUIRE(series);
    CHECK(series->step_h == 0.25);
    CHECK(series->hours.at(3).start_ut_h == hours_of(2019, 6, 3, 12.75 + 3.5));
    CHECK(series->hours.at(3).global_w_per_m2 == 400.0);  // Wh/m² in a quarter of an hour
    RowFigures fifth;
    fifth.direct = fifth.global = fifth.diffuse = "10";
    CHECK(says(complaints_of(read_epw(text + row(fifth), "a.epw")), "more rows"));
}

TEST_CASE("an EPW that is wrong is told what is wrong, and what to do") {
    CHECK(says(complaints_of(read_epw("time,ghi\n", "a.epw")), "LOCATION"));
    CHECK(says(complaints_of(read_epw("", "a.epw")), "no row"));
    CHECK(says(complaints_of(read_epw(header, "a.epw")), "no row"));
    CHECK(says(complaints_of(read_epw(header + "2019,6,3,13,0,?\n", "a.epw")), "35"));
    RowFigures bad;
    bad.hour = 25;
    CHECK(says(complaints_of(read_epw(header + row(bad), "a.epw")), "hour from 1 to 24"));
    bad = {};
    bad.month = 2;
    bad.day = 30;
    CHECK(says(complaints_of(read_epw(header + row(bad), "a.epw")), "hour from 1 to 24"));
    bad = {};
    bad.air = "warm";
    const Diagnostics d = complaints_of(read_epw(header + row(bad), "a.epw"));
    CHECK(says(d, "field 7"));
    CHECK(d.front().line == 9);
    CHECK(d.front().column > 1);
    bad.air = "71";
    CHECK(says(complaints_of(read_epw(header + row(bad), "a.epw")), "field 7"));
    bad = {};
    bad.global = "-5";
    CHECK(says(complaints_of(read_epw(header + row(bad), "a.epw")), "global"));
    std::string far = header;
    far.replace(far.find("51.25"), 5, "91.25");
    CHECK(says(complaints_of(read_epw(far + row({}), "a.epw")), "latitude"));
    // Two thousand broken rows are not two thousand complaints.
    std::string many = header;
    for (int i = 0; i < 2000; ++i) many += "x\n";
    CHECK(complaints_of(read_epw(many, "a.epw")).size() <= 21);
}

TEST_CASE("line ends of both kinds, and a byte order mark") {
    std::string text = "\xEF\xBB\xBF" + header + row({});
    std::string windows;
    for (const char c : text) {
        if (c == '\n') windows += '\r';
        windows += c;
    }
    CHECK(looks_like_epw(windows));
    CHECK_FALSE(looks_like_epw("time,ghi"));
    const auto series = read_epw(windows, "a.epw");
    REQUIRE(series);
    CHECK(series->hours.size() == 1);
}

// ---------------------------------------------------------------------------------------------- plain tables

namespace {

WeatherTableForm at_zone(double from_utc_h) {
    WeatherTableForm form;
    form.location.latitude_deg = 50.0;
    form.location.from_utc_h = from_utc_h;
    form.stamps = StampMeaning::interval_begin;
    return form;
}

}  // namespace

TEST_CASE("a plain weather table with units, and the same with others") {
    const auto plain_units = read_weather_table(
        "time,GHI [W/m²],DNI (W/m2),DHI,air [°C],wind_speed [m/s]\n2024-06-01 12:00,640,710,120,21.5,3.2\n"
        "2024-06-01 13:00,650,720,121,22,3.3\n",
        "w.csv", at_zone(2.0));
    REQUIRE(plain_units);
    CHECK(plain_units->step_h == 1.0);
    CHECK(plain_units->hours.at(0).start_ut_h == hours_of(2024, 6, 1, 10.0));
    CHECK(plain_units->hours.at(0).direct_normal_w_per_m2 == 710.0);
    const auto others = read_weather_table(
        "datetime;ghi [kW/m²];dni [kW/m²];dhi;air temperature [°F];wind [km/h];comment\n"
        "2024-06-01T12:00+02:00;0,64;0,71;120;70,7;11,52;x\n2024-06-01T13:00+02:00;0,65;0,72;121;71,6;11,88;\n",
        "w.csv", at_zone(-7.0));  // the stamps name their zone
    REQUIRE(others);
    for (std::size_t i = 0; i < 2; ++i) {
        const WeatherHour& a = plain_units->hours.at(i);
        const WeatherHour& b = others->hours.at(i);
        CHECK(a.start_ut_h == b.start_ut_h);
        CHECK(*a.global_w_per_m2 == Approx(*b.global_w_per_m2));
        CHECK(*a.direct_normal_w_per_m2 == Approx(*b.direct_normal_w_per_m2));
        CHECK(*a.diffuse_w_per_m2 == Approx(*b.diffuse_w_per_m2));
        CHECK(a.air->degc == Approx(b.air->degc));
        CHECK(*a.wind_m_per_s == Approx(*b.wind_m_per_s));
    }
    CHECK(others->notes.back().find("comment") != std::string::npos);
}

TEST_CASE("stamps at the end of their interval, and energies in it") {
    WeatherTableForm form = at_zone(0.0);
    const std::string text = "time,ghi [Wh/m2]\n2024-06-01 12:15,100\n2024-06-01 12:30,110\n2024-06-01 12:45,120\n";
    form.stamps = StampMeaning::interval_end;
    const auto series = read_weather_table(text, "w.csv", form);
    REQUIRE(series);
    CHECK(series->step_h == 0.25);
    CHECK(series->hours.front().start_ut_h == hours_of(2024, 6, 1, 12.0));
    CHECK(series->hours.front().global_w_per_m2 == 400.0);
    form.stamps.reset();
    const auto unsaid = read_weather_table(text, "w.csv", form);
    REQUIRE(unsaid);
    CHECK(unsaid->hours.front().start_ut_h == hours_of(2024, 6, 1, 12.25));
    CHECK(unsaid->notes.front().find("beginning") != std::string::npos);
}

TEST_CASE("a clock with summer time: no hour is lost in spring, none twice in autumn") {
    WeatherTableForm form = at_zone(1.0);
    form.clock_has_summer_time = true;
    form.location.summer_time = SummerTime{3, 31, 10, 27, 1.0};
    const auto spring = read_weather_table(
        "time,ghi\n2024-03-30 22:00,0\n2024-03-30 23:00,0\n2024-03-31 01:00,0\n"
        "2024-03-31 02:00,0\n",
        "w.csv", form);
    REQUIRE(spring);
    for (std::size_t i = 1; i < 4; ++i) {
        CHECK(spring->hours[i].start_ut_h - spring->hours[i - 1].start_ut_h == Approx(1.0));
    }
    CHECK(spring->gaps.rows == 0);
    const auto autumn = read_weather_table(
        "time,ghi\n2024-10-26 22:00,0\n2024-10-26 23:00,0\n2024-10-26 23:00,0\n"
        "2024-10-27 00:00,0\n2024-10-27 01:00,0\n",
        "w.csv", form);
    REQUIRE(autumn);
    for (std::size_t i = 1; i < 5; ++i) {
        CHECK(autumn->hours[i].start_ut_h - autumn->hours[i - 1].start_ut_h == Approx(1.0));
    }
}

TEST_CASE("missing cells and rows of a plain table are counted") {
    const auto series = read_weather_table(
        "time,ghi,air\n2024-06-01 00:00,,n/a\n2024-06-01 01:00,-9999,3\n2024-06-01 02:00,-4,4\n2024-06-01 05:00,7,\n",
        "w.csv", at_zone(0.0));
    REQUIRE(series);
    CHECK(series->gaps.global == 2);
    CHECK(series->gaps.air == 2);
    CHECK(series->gaps.rows == 2);
    CHECK(series->hours.at(2).global_w_per_m2 == 0.0);  // a thermal sensor's night
}

TEST_CASE("a table that is wrong is told what is wrong") {
    const auto says_of = [](const std::string& text, const std::string& what) {
        return says(complaints_of(read_weather_table(text, "w.csv", at_zone(0.0))), what);
    };
    CHECK(says_of("", "no header"));
    CHECK(says_of("a,b\n1,2\n", "no header"));
    CHECK(says_of("time,air\n2024-06-01 00:00,5\n", "light on flat ground"));
    CHECK(says_of("time,dni\n2024-06-01 00:00,5\n", "light on flat ground"));
    CHECK(says_of("ghi,air\n5,5\n", "column of times"));
    CHECK(says_of("time,ghi,global\n2024-06-01 00:00,5,5\n", "once more"));
    CHECK(says_of("time,ghi [V]\n2024-06-01 00:00,5\n", "not in"));
    CHECK(says_of("time,ghi\n2024-06-01 00:00,5\n", "one row only"));
    CHECK(says_of("time,ghi\n2024-06-01 00:00,5\n2024-06-01 00:00,5\n2024-06-01 01:00,5\n", "not later"));
    CHECK(says_of("time,ghi\n2024-06-01 01:00,5\n2024-06-01 00:00,5\n", "do not go on"));
    CHECK(says_of("time,ghi\n12:00,5\n13:00,5\n", "date with a time"));
    CHECK(says_of("time,ghi\n05/06/2024 01:00,5\n06/06/2024 01:00,5\n", "two ways"));
    CHECK(says_of("time,ghi\n2024-06-01 00:00,5\n2024-06-01 01:00,3000\n", "cannot be"));
    CHECK(says_of("time,ghi\n2024-06-01 00:00,5\n2024-06-01 01:00,bright\n", "no number"));
    CHECK(says_of("time,ghi\n2024-06-01 00:00,5\n2024-06-01 01:00\n", "cells"));
    CHECK(says_of("time,ghi\n2024-06-01,5\n2024-06-02,5\n", "hours apart"));
    // Another row can tell which of the two numbers is the day.
    CHECK(
        read_weather_table("time,ghi\n05/06/2024 01:00,5\n05/06/2024 02:00,5\n05/06/2024 03:00,5\n25/06/2024 02:00,5\n",
                           "w.csv", at_zone(0.0)));
}
