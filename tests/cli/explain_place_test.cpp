// plait explain with place, plane and clock in place of a light sensor.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>

namespace plait::cli {
namespace {

using Catch::Matchers::Contains;
using Json = nlohmann::json;

std::string placed_setup(bool flat = true) {
    std::string setup = with_wiring("2s1p");
    const std::string mark = "code = \"both\"\n";
    setup.insert(setup.find(mark) + mark.size(),
                 "latitude = 48\nlongitude = 15\nfrom_utc = 1\nsummer_time = [\"03-30\", \"10-26\"]\n");
    return setup + "\n[[plane]]\nname = \"roof\"\ntilt = " + (flat ? "0" : "40") + "\nazimuth = \"S\"\n";
}

/// A midsummer day on the meridian of the zone: light by a half wave from 4:30 to 19:30, the panels at their maximum.
std::string day_log(const std::string& light_column, const char* date = "2026-06-21T") {
    std::string log = "time,volts,amps,panel temperature [°C]" + (light_column.empty() ? "" : "," + light_column) + "\n";
    for (int minute = 0; minute < 1440; minute += 10) {
        const double light = std::max(0.0, 900.0 * std::sin(3.14159265 * (minute - 270.0) / 900.0)) * (minute > 270 && minute < 1170);
        char row[120];
        std::snprintf(row, sizeof row, "%s%02d:%02d,%.1f,%.2f,25", date, minute / 60, minute % 60, light > 0.0 ? 40.0 : 0.0,
                      5.0 * light / 1000.0);
        log += row;
        if (!light_column.empty()) log += "," + std::to_string(static_cast<int>(light));
        log += "\n";
    }
    return log;
}

CommandResult explain(const std::string& setup, const std::string& log, std::vector<std::string> more = {}) {
    Files files = usual_files();
    files["place.toml"] = setup;
    files["log.csv"] = log;
    more.insert(more.begin(), {"explain", "place.toml", "log.csv"});
    return run(more, world_of(files));
}

Json json_of(const CommandResult& r) {
    INFO(r.err);
    REQUIRE(r.exit_code == 0);
    return Json::parse(r.out);
}

}  // namespace

TEST_CASE("explain: global light on a flat plane counts as measured on it") {
    const Json global = json_of(explain(placed_setup(), day_log("GHI (W/m²)"), {"--json"}));
    const Json sensor = json_of(explain(placed_setup(), day_log("irradiance (W/m²)"), {"--json"}));
    CHECK(global["columns"]["turned"].get<int>() > 80);
    CHECK(sensor["columns"]["turned"] == 0);
    CHECK(sensor["columns"]["sun"] == 144);
    CHECK(global["possible_wh"].get<double>() == Approx(sensor["possible_wh"].get<double>()).epsilon(0.02));
    CHECK(global["night_wh"].get<double>() < 1.0);
    // What sensors of the wrong plane may be off by is in their accuracy.
    CHECK(global["accuracy"]["irradiance_ratio"].get<double>() > sensor["accuracy"]["irradiance_ratio"].get<double>() + 0.03);
}

TEST_CASE("explain: without place or plane global light is not used, and what to write is said") {
    const CommandResult r = explain(with_wiring("2s1p"), day_log("global horizontal irradiance (W/m2)"));
    INFO(r.err);
    REQUIRE(r.exit_code == 0);
    CHECK_THAT(support::flat(r.out), Contains("light on flat ground is not used") && Contains("latitude, longitude and from_utc"));
    const CommandResult bare = explain(with_wiring("2s1p"), day_log(""));
    CHECK_THAT(support::flat(bare.out), Contains("would bound the light of every row"));
    const CommandResult timeless = explain(placed_setup(), "time,volts,amps\n0,40,5\n600,40,5\n1200,40,5\n");
    CHECK_THAT(support::flat(timeless.out), Contains("The rows have no date"));
}

TEST_CASE("explain: the best hour against a clear sky's light says whether much was missing") {
    // 900 W/m² at noon of a June day on 48° N: near a clear sky's on flat ground.
    CHECK_THAT(support::flat(explain(placed_setup(), day_log("")).out), Contains("In its best hour") && Contains("not much was missing"));
    CHECK_THAT(support::flat(explain(placed_setup(), day_log("irradiance (W/m²)")).out), !Contains("best hour"));
}

TEST_CASE("explain: a clock that is off shows in watts at night") {
    const Json right = json_of(explain(placed_setup(), day_log(""), {"--json"}));
    CHECK(right["columns"]["sun"] == 144);
    CHECK(right["night_wh"].get<double>() < 0.01 * right["measured_wh"].get<double>());
    const CommandResult off = explain(placed_setup(), day_log(""), {"--clock-ahead", "-5 h"});
    INFO(off.err);
    REQUIRE(off.exit_code == 0);
    CHECK_THAT(support::flat(off.out), Contains("with the sun down: check the log"));
    // Summer time is one hour: stamps of the clock on the wall are taken as an hour earlier.
    const Json wall = json_of(explain(placed_setup(), day_log(""), {"--json", "--wall-clock"}));
    const Json ahead = json_of(explain(placed_setup(), day_log(""), {"--json", "--clock-ahead", "1 h"}));
    CHECK(wall["possible_wh"] == ahead["possible_wh"]);
    CHECK(wall["night_wh"] == ahead["night_wh"]);
    CHECK_THAT(explain(placed_setup(), day_log(""), {"--clock-ahead", "soon"}).err, Contains("3 min"));
    CHECK(explain(placed_setup(), day_log(""), {"--clock-ahead", "2 days"}).exit_code == 2);
}

}  // namespace plait::cli
