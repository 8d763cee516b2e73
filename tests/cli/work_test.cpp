// plait parts and plait steps, from the command line on; and the wires in plait check --json.
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

CommandResult barn(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin() + 1, "docs/demo/barn.toml");
    return run(arguments, source_world());
}

const Json& named(const Json& list, const char* key, const std::string& value) {
    const auto at = std::find_if(list.begin(), list.end(), [&](const Json& j) { return j[key] == value; });
    CAPTURE(value);
    REQUIRE(at != list.end());
    return *at;
}

}  // namespace

// The demo's figures by hand: Isc 10.3 A, three strings; 6 mm² tinned 3.39 Ω/km and 10 mm² 1.95 Ω/km at 20 °C (IEC
// 60228), × 1.21615 at 75 °C; Imp 9.68 A, Vmp 3 × 34.1 V.
TEST_CASE("check --json: resistance, drop, ampacity and fuse window of the barn") {
    const Json wires = Json::parse(barn({"check", "--json"}).out)["inputs"][0]["wires"];
    const Json& string = named(wires["cables"], "run", "string");
    const double string_ohm = 2 * 6.0 * 0.00339 * (1.0 + 0.00393 * 55.0);
    CHECK(string["loop_ohm"].get<double>() == Approx(string_ohm).epsilon(1e-12));
    CHECK(string["drop_v"].get<double>() == Approx(9.68 * string_ohm).epsilon(1e-12));
    CHECK(string["most_a"].get<double>() == Approx(12.875).epsilon(1e-12));
    CHECK(string["continuous_a"].get<double>() == Approx(16.09375).epsilon(1e-12));
    CHECK(string["nec"]["taken_as"]["awg"] == 10);
    CHECK(string["nec"]["corrected_ampacity_a"].get<double>() == Approx(40.0 * 0.58 * 0.80).epsilon(1e-12));
    CHECK(string["iec"]["corrected_ampacity_a"].get<double>() == Approx(57.0 * 0.92 * 0.70).epsilon(1e-12));
    const Json& trunk = named(wires["cables"], "run", "trunk");
    const double trunk_ohm = 2 * 22.0 * 0.00195 * (1.0 + 0.00393 * 55.0);
    CHECK(trunk["loop_ohm"].get<double>() == Approx(trunk_ohm).epsilon(1e-12));
    CHECK(trunk["working_a"].get<double>() == Approx(29.04).epsilon(1e-12));
    CHECK(trunk["continuous_a"].get<double>() == Approx(1.5625 * 30.9).epsilon(1e-12));
    CHECK(wires["drop_ratio"].get<double>() == Approx((9.68 * string_ohm + 29.04 * trunk_ohm) / 102.3).epsilon(1e-12));
    const Json& fuse = wires["string_fuses"][0];
    CHECK(fuse["strings_alike"] == 3);
    CHECK(fuse["others_bright_sky_a"].get<double>() == Approx(25.75).epsilon(1e-12));
    CHECK(fuse["needed_by_nec"] == true);
    CHECK(fuse["nec"]["least_a"].get<double>() == Approx(16.09375).epsilon(1e-12));
    CHECK(fuse["nec"]["sizes_a"] == Json::array({20.0}));
    CHECK(fuse["iec"]["sizes_a"] == Json::array({16.0, 20.0}));
    CHECK(wires["disconnect"]["least_current_a"].get<double>() == Approx(38.625).epsilon(1e-12));
}

TEST_CASE("check --json: drop times current is what is lost, and the harvest without cables is more") {
    const Json report = Json::parse(barn({"check", "--json"}).out);
    for (const Json& c : report["inputs"][0]["conditions"]) {
        CAPTURE(c["id"]);
        REQUIRE_FALSE(c["cable"].is_null());
        CHECK(c["cable"]["loss_w"].get<double>() ==
              Approx(c["cable"]["drop_v"].get<double>() * c["current_a"].get<double>()).epsilon(1e-9));
        // Where the charge current is the limit both are the same, but for the last bits.
        CHECK(c["cable"]["without"]["power_w"].get<double>() >= c["power_w"].get<double>() * (1.0 - 1e-12));
    }
    CHECK(report["harvest_without_cables"]["european_w"].get<double>() > report["harvest"]["european_w"].get<double>());
}

TEST_CASE("parts: as text, as a table and as data, the same list") {
    const CommandResult text = barn({"parts"});
    const CommandResult csv = barn({"parts", "--csv"});
    const Json json = Json::parse(barn({"parts", "--json"}).out);
    CHECK(text.exit_code == 0);
    CHECK_THAT(csv.out, StartsWith("# plait parts. Verdict: ") && Contains("\nitem,what,where,count,unit,note,price\n"));
    CHECK(static_cast<std::size_t>(std::count(csv.out.begin(), csv.out.end(), '\n')) == json["parts"].size() + 2);
    for (const Json& p : json["parts"]) {
        const std::string what = p["what"];
        // Breaks in a line of text aside.
        CHECK_THAT(text.out, Contains(what.substr(0, 20)));
        CHECK_THAT(csv.out, Contains(what.substr(0, 20)));
    }
    CHECK(named(json["parts"], "item", "panel")["count"] == 9.0);
    CHECK(named(json["parts"], "item", "panel")["price"] == 990.0);
    CHECK(named(json["parts"], "what", "6 mm² tinned copper")["count"] == 36.0);   // 2 × 6 m × 3
    CHECK(named(json["parts"], "what", "10 mm² tinned copper")["count"] == 44.0);  // 2 × 22 m
    CHECK_THAT(std::string(named(json["parts"], "item", "string-fuse")["what"]), Contains("20 A"));
}

TEST_CASE("parts: what a spreadsheet would run as a formula is only text in the table") {
    Files files = usual_files();
    std::string& panel = files["meadow.toml"];
    const std::size_t at = panel.find("name = \"");
    const std::size_t end = panel.find('\n', at);
    REQUIRE(at != std::string::npos);
    panel.replace(at, end - at, "name = '=1+1, \"x\"'");
    const CommandResult csv = run({"parts", "two.toml", "--csv"}, world_of(files));
    CHECK(csv.exit_code == 0);
    CHECK_THAT(csv.out, Contains("\npanel,\"'=1+1, \"\"x\"\"\","));
}

TEST_CASE("steps: the switch is closed last, and a wiring outside the limits gets no steps") {
    const CommandResult text = barn({"steps"});
    CHECK(text.exit_code == 0);
    CHECK(text.out.find("Measure polarity") < text.out.find("close the disconnect"));
    CHECK_THAT(text.out, Contains("Taking it apart") && Contains("local code"));
    const CommandResult over = result({"steps", "three.toml"});
    CHECK(over.exit_code == 1);
    CHECK_THAT(over.out, Contains("Do not build") && !Contains("Plug"));
    CHECK(Json::parse(result({"steps", "three.toml", "--json"}).out)["connect"].size() == 1);
}

TEST_CASE("parts and steps: bad usage") {
    for (const auto& arguments : std::vector<std::vector<std::string>>{{"parts", "two.toml", "--csv", "--json"},
                                                                       {"steps", "two.toml", "--csv"},
                                                                       {"steps", "setup.toml"},
                                                                       {"parts", "two.toml", "--wiring", "9x"}}) {
        const CommandResult r = result(arguments);
        CHECK(r.exit_code == 2);
        CHECK((r.out.empty() || r.json));
    }
}
