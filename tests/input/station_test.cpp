#include <plait/base/civil_date.hpp>
#include <plait/input/read_station.hpp>

#include <catch2/catch.hpp>

#include <cstdio>
#include <string>
#include <vector>

using namespace plait;
using namespace plait::input;

namespace {

/// A day's value: five columns, and its three flags.
std::string value(int tenths, const char* flags = "  S") {
    char text[16];
    std::snprintf(text, sizeof text, "%5d%s", tenths, flags);
    return text;
}
/// A line of a .dly file: values by day, then −9999 to the end of the month.
std::string dly(const std::string& station, int year, int month, const std::string& element,
                const std::vector<std::string>& values_with_flags) {
    char head[32];
    std::snprintf(head, sizeof head, "%-11s%04d%02d%s", station.c_str(), year, month, element.c_str());
    std::string line = head;
    for (std::size_t i = 0; i < 31; ++i) line += i < values_with_flags.size() ? values_with_flags[i] : "-9999   ";
    return line + "\n";
}

int day(int y, int m, int d) { return day_number(civil_date(y, m, d)); }

bool says(const Result<StationRecord>& result, const std::string& what) {
    REQUIRE_FALSE(result);
    for (const Diagnostic& d : result.error()) {
        if (d.message.find(what) != std::string::npos) return true;
        UNSCOPED_INFO(d.line << ": " << d.message);
    }
    return false;
}

}  // namespace

TEST_CASE("fixed-width station lines: tenths of °C, missing and flagged values") {
    const std::string text =
        dly("XX000000001", 1956, 2, "TMIN", {value(-123), value(-87, " IS"), value(-9999, "   "), value(45)}) +
        dly("XX000000001", 1956, 2, "TMAX", {value(12), value(30)}) + dly("XX000000001", 1956, 2, "PRCP", {value(5)});
    // The middle flag is that of quality.
    const auto record = read_station(text, "s.dly");
    REQUIRE(record);
    CHECK(record->id == "XX000000001");
    CHECK(record->flagged == 1);
    REQUIRE(record->days.size() == 3);
    CHECK(record->days[0].day == day(1956, 2, 1));
    CHECK(record->days[0].lowest_degc == Approx(-12.3));
    CHECK(record->days[0].highest_degc == Approx(1.2));
    CHECK_FALSE(record->days[1].lowest_degc);  // failed a quality check
    CHECK(record->days[1].highest_degc == Approx(3.0));
    CHECK(record->days[2].day == day(1956, 2, 4));
}

TEST_CASE("long rows with and without header, wide rows, and fixed width say the same") {
    const std::string rows =
        "XX000000001,20230101,TMIN,-123,,,S,\nXX000000001,20230101,TMAX,12,,,S,0700\n"
        "XX000000001,20230102,TMIN,-87,,I,S,\nXX000000001,20230102,PRCP,5,,,S,\nXX000000001,20230103,TMIN,-9999,,,S,\n"
        "XX000000001,20230104,TMIN,250,,,S,\n";
    const auto bare = read_station(rows, "s.csv");
    const auto headed = read_station("ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" + rows, "s.csv");
    const auto wide = read_station(
        "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\","
        "\"TMIN_ATTRIBUTES\"\n"
        "\"XX000000001\",\"2023-01-01\",\"-41.5\",\"147.2\",\"166.0\",\"UPPER MEADOW, XX\",\"   12\",\",,S\",\" "
        "-123\",\",,S\"\n"
        "\"XX000000001\",\"2023-01-02\",\"-41.5\",\"147.2\",\"166.0\",\"UPPER MEADOW, XX\",,,\"  -87\",\",I,S\"\n"
        "\"XX000000001\",\"2023-01-04\",\"-41.5\",\"147.2\",\"166.0\",\"UPPER MEADOW, XX\",,,\"  250\",\",,S\"\n",
        "s.csv");
    const auto fixed =
        read_station(dly("XX000000001", 2023, 1, "TMIN", {value(-123), value(-87, " IS"), value(-9999), value(250)}) +
                         dly("XX000000001", 2023, 1, "TMAX", {value(12)}),
                     "s.dly");
    for (const auto* r : {&bare, &headed, &wide, &fixed}) {
        REQUIRE(*r);
        const StationRecord& record = **r;
        CHECK(record.id == "XX000000001");
        CHECK(record.flagged == 1);
        REQUIRE(record.days.size() == 2);
        CHECK(record.days[0].day == day(2023, 1, 1));
        CHECK(record.days[0].lowest_degc == Approx(-12.3));
        CHECK(record.days[0].highest_degc == Approx(1.2));
        CHECK(record.days[1].day == day(2023, 1, 4));
        CHECK(record.days[1].lowest_degc == Approx(25.0));
    }
    CHECK(wide->latitude_deg == -41.5);
    CHECK(wide->height_m == 166.0);
    CHECK(wide->name == "UPPER MEADOW, XX");
    CHECK_FALSE(bare->latitude_deg);
}

TEST_CASE("rows need not be in order, and a day said twice is noted") {
    const auto record =
        read_station("A,20230105,TMIN,10,,,S,\nA,20230101,TMIN,-20,,,S,\nA,20230105,TMIN,5,,,S,\n", "s.csv");
    REQUIRE(record);
    REQUIRE(record->days.size() == 2);
    CHECK(record->days[0].day < record->days[1].day);
    CHECK(record->days[1].lowest_degc == Approx(0.5));
    CHECK(record->notes.front().find("twice") != std::string::npos);
}

TEST_CASE("of several stations one must be named") {
    const std::string two = "A,20230105,TMIN,10,,,S,\nB,20230105,TMIN,-50,,,S,\nA,20230106,TMIN,11,,,S,\n";
    CHECK(says(read_station(two, "s.csv"), "2 stations: A or B"));
    const auto b = read_station(two, "s.csv", "B");
    REQUIRE(b);
    CHECK(b->days.size() == 1);
    CHECK(b->days.front().lowest_degc == Approx(-5.0));
    CHECK(says(read_station(two, "s.csv", "C"), "no station"));
}

TEST_CASE("extracts in degrees are told from tenths, or refused") {
    const auto degrees =
        read_station("STATION,DATE,TMAX,TMIN\nA,2023-07-01,28.4,14.1\nA,2023-07-02,29.0,15.0\n", "s.csv");
    REQUIRE(degrees);
    CHECK(degrees->days.front().highest_degc == Approx(28.4));
    const auto tenths = read_station("STATION,DATE,TMAX,TMIN\nA,2023-07-01,284,141\n", "s.csv");
    REQUIRE(tenths);
    CHECK(tenths->days.front().highest_degc == Approx(28.4));
    CHECK(says(read_station("STATION,DATE,TMAX,TMIN\nA,2023-07-01,83,57\n", "s.csv"), "tenths of °C or °F"));
}

TEST_CASE("impossible values are left out and counted, broken rows complained of") {
    const auto record = read_station("A,20230105,TMIN,-999,,,S,\nA,20230106,TMIN,-100,,,S,\n", "s.csv");
    REQUIRE(record);
    CHECK(record->flagged == 1);  // −99.9 °C
    CHECK(record->days.size() == 1);
    CHECK(says(read_station("", "s.csv"), "empty"));
    CHECK(says(read_station("A,20231305,TMIN,10,,,S,\n", "s.csv"), "station, date"));
    CHECK(says(read_station("A,20230105,TMIN,ten,,,S,\n", "s.csv"), "no value"));
    CHECK(says(read_station("A,20230105,PRCP,10,,,S,\n", "s.csv"), "no TMIN or TMAX"));
    CHECK(says(read_station("hello world\n", "s.csv"), "station, date"));
    // The 30th of February of a fixed-width line can hold no value.
    const auto odd =
        read_station(dly("XX000000001", 2023, 2, "TMIN", std::vector<std::string>(31, value(10))), "s.dly");
    REQUIRE(odd);
    CHECK(odd->days.size() == 28);
    CHECK(odd->flagged == 3);
}
