// plait climate: what it says, what it refuses, and that the lines it gives are taken by a set-up.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <plait/base/civil_date.hpp>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>

namespace plait::cli {
namespace {

using Catch::Matchers::Contains;
using Json = nlohmann::json;

/// A northern station's winters and summers, a row a day: cold in January, with one very cold morning.
std::string station_csv(int first_year, int years) {
    std::string text = "STATION,DATE,TMIN,TMAX\n";
    for (int day = day_number(civil_date(first_year, 7, 1)); day < day_number(civil_date(first_year + years, 7, 1)); ++day) {
        const CivilDate date = date_of(day);
        const double season = std::cos(2.0 * 3.14159265358979 * (day_of_year(date) - 18) / 365.25);
        const int lowest = static_cast<int>(std::lround(10.0 * (3.0 - 9.0 * season + 3.0 * std::sin(1.7 * day) * std::sin(0.31 * day))));
        const bool the_morning = date == civil_date(first_year + 4, 1, 19);
        text += "XX000000001," + std::to_string(year_of(date)) + (month_of(date) < 10 ? "-0" : "-") +
                std::to_string(month_of(date)) + (day_of(date) < 10 ? "-0" : "-") + std::to_string(day_of(date)) + "," +
                std::to_string(the_morning ? -234 : lowest) + "," + std::to_string(lowest + 90) + "\n";
    }
    return text;
}

CommandResult climate(const std::string& text, std::vector<std::string> more = {}) {
    Files files = usual_files();
    files["station.csv"] = text;
    more.insert(more.begin(), {"climate", "station.csv"});
    return run(more, world_of(files));
}

}  // namespace

TEST_CASE("climate: record, levels, mean, and lines that a set-up takes") {
    const CommandResult r = climate(station_csv(1990, 25), {"--north"});
    INFO(r.err);
    REQUIRE(r.exit_code == 0);
    const std::string text = support::flat(r.out);
    CHECK_THAT(text, Contains("coldest ever measured −23.4 °C 1994-01-19") && Contains("coldest in 50 years") &&
                         Contains("passed about every second year"));
    const Json j = Json::parse(climate(station_csv(1990, 25), {"--north", "--json"}).out);
    const Json& station = j["files"][0]["station"];
    CHECK(station["cold"]["seasons"].size() == 25);
    CHECK(station["coldest_air_degc"].get<double>() <= -23.4);  // the colder of the record and the 50-year level
    CHECK(station["cold"]["levels"][1]["period_years"] == 50.0);
    // Pasted under [site] in place of what is there, the lines are read.
    std::string site = "[site]\n";
    for (const Json& line : station["site_lines"]) site += line.get<std::string>() + "\n";
    Files files = usual_files();
    std::string& setup = files["setup.toml"];
    setup = setup.substr(0, setup.find("[site]")) + site + "mounting = \"open-rack\"\ncode = \"both\"\n";
    const CommandResult check = run({"check", "setup.toml", "--wiring", "2s1p", "--json"}, world_of(files));
    INFO(check.err);
    REQUIRE(check.exit_code <= 1);
    CHECK(Json::parse(check.out)["site"]["coldest_air_degc"].get<double>() ==
          Approx(station["coldest_air_degc"].get<double>()).margin(0.1));
}

TEST_CASE("climate: few winters say so, and what is no record is refused with what to do") {
    const CommandResult few = climate(station_csv(2010, 6), {"--north"});
    CHECK_THAT(support::flat(few.out), Contains("no return level can be said"));
    CHECK(climate("volts,amps\n1,2\n").exit_code == 2);
    CHECK_THAT(climate("").err, Contains("station.csv"));
    CHECK(climate(station_csv(2010, 3), {"--north", "--south"}).exit_code == 2);
    CHECK(run({"climate"}, world_of(usual_files())).exit_code == 2);
}

}  // namespace plait::cli
