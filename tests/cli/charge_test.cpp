// plait charge: what it answers, what it refuses and what it then says to write.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <sstream>

namespace plait::cli {
namespace {

using Catch::Matchers::Contains;
using Json = nlohmann::json;

const std::string place = R"(latitude = 48
longitude = 11
from_utc = 1
summer_time = ["03-30", "10-26"]
)";
const std::string rest = R"(
[[plane]]
name = "roof"
tilt = 35
azimuth = "S"

[storage]
capacity = "1000 Wh"
usable = "90 %"
charge_power = "120 W"
taper_from = "90 %"
charge_efficiency = "95 %"

[[storage.load]]
power = "30 W"
from = "18:00"
to = "22:00"
)";

std::string placed(std::string setup) {
    const std::string mark = "code = \"both\"\n";
    setup.insert(setup.find(mark) + mark.size(), place);
    return setup + rest;
}

CommandResult charge(const std::string& setup, std::vector<std::string> more = {}, Files files = usual_files()) {
    files["place.toml"] = setup;
    more.insert(more.begin(), {"charge", "place.toml"});
    return run(more, world_of(files));
}

CommandResult charge_two(std::vector<std::string> more = {}) { return charge(placed(with_wiring("2s2p")), std::move(more)); }

}  // namespace

TEST_CASE("charge: when it is full, by what, and the verdict before it") {
    const CommandResult r = charge_two({"--from", "20 %"});
    INFO(r.err << r.out);
    REQUIRE(r.exit_code == 0);
    const std::string text = support::flat(r.out);
    CHECK(text.find("FITS") < text.find("on a clear 21 June: full at"));
    CHECK_THAT(text, Contains("clocks on summer time then show 1 h more") && Contains("its charge power, 120.0 W") &&
                         Contains("because it is full") && Contains("carries loads of 120 Wh a day") &&
                         Contains("Arithmetic, not an approval"));
    std::istringstream lines(r.out);
    std::size_t count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
    }
    CHECK(count <= 40);
    const Json j = Json::parse(charge_two({"--from", "20 %", "--json"}).out);
    CHECK(j["command"] == "charge");
    CHECK(j["run"]["reached"] == true);
    const double after_h = j["run"]["reached_after_h"];
    // 800 Wh at no more than 120 W × 0.95, the last 100 Wh at less.
    CHECK(after_h > 800.0 / (120.0 * 0.95));
    CHECK(after_h < 14.0);
    double stored = 200.0;
    for (const Json& i : j["intervals"]) stored += i["hours"].get<double>() * i["solar_used_w"].get<double>();
    CHECK(stored > 1000.0);
}

TEST_CASE("charge: another wiring, day, hour and a wall") {
    const Json june = Json::parse(charge_two({"--from", "20 %", "--to", "80 %", "--json"}).out);
    const Json december = Json::parse(charge_two({"--from", "20 %", "--to", "80 %", "--day", "12-21", "--json"}).out);
    CHECK(december["begins"].get<std::string>().substr(4, 6) == "-12-21");
    CHECK(december["day_offered_wh"].get<double>() < june["day_offered_wh"].get<double>());
    CHECK(december["begins"].get<std::string>() > "2025-12-21T07");
    const Json at = Json::parse(charge_two({"--from", "20 %", "--at", "10:30", "--day", "2026-06-21", "--json"}).out);
    CHECK(at["begins"] == "2026-06-21T10:30");
    CHECK(at["intervals"][0]["hours"].get<double>() == Approx(0.5));
    const CommandResult wall = charge_two({"--from", "20 %", "--day", "12-21", "--at", "00:00", "--wall", "100 W"});
    CHECK_THAT(support::flat(wall.out), Contains("By the sun alone"));
    CHECK_THAT(support::flat(charge_two({"--from", "20 %", "--wall", "none"}).out), !Contains("By the sun alone"));
    const CommandResult table = charge_two({"--from", "20 %", "--csv"});
    CHECK_THAT(table.out, Contains("begins,hours,offered_w"));
    CHECK_THAT(table.out, Contains("# plait charge. Verdict: FITS"));
    const CommandResult forbidden = charge_two({"--wiring", "3s1p"});
    CHECK(forbidden.exit_code == 1);
    CHECK(forbidden.out.rfind("EXCEEDS", 0) == 0);
    CHECK_THAT(support::flat(forbidden.out), Contains("Do not connect it. What it would deliver is no reason to") && !Contains("full at"));
}

TEST_CASE("charge: a weather file, and days it does not have") {
    std::string table = "time,ghi (W/m²),air (°C)\n";
    for (int day = 1; day <= 3; ++day) {
        for (int h = 0; h < 24; ++h) {
            table += "2026-03-0" + std::to_string(day) + (h < 10 ? " 0" : " ") + std::to_string(h) + ":00," +
                     std::to_string(h > 7 && h < 17 ? 300 : 0) + "," + std::to_string(day == 2 ? -6 : 8) + "\n";
        }
    }
    Files files = usual_files();
    files["march.csv"] = table;
    const std::string setup = placed(with_wiring("2s2p"));
    const std::vector<std::string> usual{"--from", "20 %", "--weather", "march.csv", "--stamps", "begin"};
    const auto with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), usual.begin(), usual.end());
        return charge(setup, more, files);
    };
    const CommandResult cold = with({"--day", "2026-03-02"});
    INFO(cold.err);
    REQUIRE(cold.exit_code == 0);
    CHECK_THAT(support::flat(cold.out), Contains("is below 0 °C and is not charged") && Contains("2 March 2026"));
    const Json mild = Json::parse(with({"--day", "03-01", "--json"}).out);
    CHECK(mild["day"]["end_ratio"].get<double>() > 0.3);
    CHECK(mild["light"] == "measured");
    const CommandResult missing = with({"--day", "06-21"});
    CHECK(missing.exit_code == 2);
    CHECK_THAT(missing.err, Contains("from 2026-03-01 to 2026-03-03"));
}

TEST_CASE("charge: what is missing or wrong is said with what to write") {
    CHECK_THAT(charge(with_wiring("2s2p")).err, Contains("capacity = \"… Wh\""));
    CHECK_THAT(charge(with_wiring("2s2p") + rest.substr(rest.find("[storage]"))).err, Contains("latitude = 48.1"));
    CHECK_THAT(charge_two({"--from", "0.2"}).err, Contains("--from"));
    CHECK_THAT(charge_two({"--from", "80 %", "--to", "20 %"}).err, Contains("above --from"));
    CHECK_THAT(charge_two({"--day", "21.6."}).err, Contains("2026-06-21"));
    CHECK_THAT(charge_two({"--day", "02-30"}).err, Contains("no day"));
    CHECK_THAT(charge_two({"--at", "25:00"}).err, Contains("08:30"));
    CHECK_THAT(charge_two({"--wall", "600 V"}).err, Contains("--wall"));
    for (const char* option : {"--from", "--to", "--day", "--at", "--wall"}) {
        CHECK(charge_two({option, ""}).exit_code == 2);
    }
    CHECK(charge_two({"--stamps", "begin"}).exit_code == 2);
}

}  // namespace plait::cli
