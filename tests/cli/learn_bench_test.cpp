// What a bench session holds besides the window: display against meter, battery, wall, protections, and the plan of the
// next session. All figures are invented.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>

namespace plait::cli {
namespace {

using Json = nlohmann::json;

CommandResult learned(const std::string& sweep, std::vector<std::string> more = {}) {
    Files files = usual_files();
    files["sweep.csv"] = sweep;
    std::vector<std::string> all{"learn", "sweep.csv"};
    all.insert(all.end(), more.begin(), more.end());
    return run(all, world_of(files));
}

Json as_data(const std::string& sweep, std::vector<std::string> more = {}) {
    more.emplace_back("--json");
    const CommandResult r = learned(sweep, std::move(more));
    INFO(sweep << r.err);
    REQUIRE(r.exit_code == 0);
    return Json::parse(r.out);
}

bool has(const std::string& text, const std::string& part) { return support::flat(text).find(part) != std::string::npos; }

/// 8 A from 12 V, 240 W from 30 V, off above 58 V, as `row` writes each reading.
template <class Row>
std::string swept(const std::string& header, Row row) {
    std::string out = header + "\n";
    for (const double v : {10.0, 11.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 33.0, 36.0, 40.0, 45.0, 50.0, 55.0, 58.0, 60.0}) {
        out += row(v, v < 12.0 || v > 58.0 ? 0.0 : std::min(8.0, 240.0 / v)) + "\n";
    }
    return out;
}

TEST_CASE("a display that reads 4 % low is found against the meter, and the window is the meter's") {
    for (const char* title : {"display W", "Anzeige [W]", "W"}) {
        const std::string sweep = swept("V,A," + std::string(title), [](double v, double a) {
            return fmt::format("{:.1f},{:.2f},{:.0f}", v, a, 0.96 * v * a);
        });
        const Json j = as_data(sweep);
        INFO(title << j["display"].dump(1) << j["beside"].dump());
        const Json& whole = j["display"]["whole"];
        CHECK(whole["ratio"].get<double>() == Approx(0.96).epsilon(0.003));
        CHECK(whole["likely_ratio"][0].get<double>() < 0.96);
        CHECK(whole["likely_ratio"][1].get<double>() > 0.96);
        CHECK(whole["likely_ratio"][1].get<double>() - whole["likely_ratio"][0].get<double>() < 0.01);
        CHECK_FALSE(j["display"]["differs"].get<bool>());
        CHECK(has(j["beside"][0], "low (95 %: "));
        CHECK(j["pieces"][0]["current_a"].get<double>() == Approx(8.0).epsilon(0.005));
    }
}

TEST_CASE("a display that is wrong by another share in each range is reported range by range") {
    const std::string sweep = swept("V,A,display W", [](double v, double a) {
        return fmt::format("{:.1f},{:.2f},{:.1f}", v, a, (v < 30.0 ? 0.95 : 1.03) * v * a);
    });
    const Json j = as_data(sweep);
    CHECK(j["display"]["differs"].get<bool>());
    CHECK(has(j["beside"][0], "low (95 %: "));
    CHECK(has(j["beside"][0], "high (95 %: "));
    CHECK(has(learned(sweep).out, "stretch by stretch"));
}

TEST_CASE("watts worked out from volts and amps are no second instrument") {
    const std::string sweep = swept("V,A,W", [](double v, double a) {
        const double written = std::round(a * 100.0) / 100.0;
        return fmt::format("{:.1f},{:.2f},{:.0f}", v, written, v * written);
    });
    const Json j = as_data(sweep);
    CHECK(j["display"]["worked_out"].get<bool>());
    CHECK(has(j["beside"][0], "tell nothing that the amps do not"));
}

TEST_CASE("watts at the battery give the efficiency") {
    const std::string sweep = swept("V,A,battery W", [](double v, double a) { return fmt::format("{:.1f},{:.2f},{:.0f}", v, a, 0.93 * v * a); });
    const Json j = as_data(sweep);
    CHECK(j["efficiency"]["whole"]["ratio"].get<double>() == Approx(0.93).epsilon(0.003));
    CHECK(has(j["beside"][0], "arrive at the battery"));
}

TEST_CASE("readings beside a charger on the wall are held against the window and not put into it") {
    std::string sweep = swept("V,A,wall W", [](double v, double a) { return fmt::format("{:.1f},{:.2f},0", v, a); });
    sweep += "58,2.0,600\n50,2.4,600\n40,3.0,600\n36,3.3,600\n";
    const Json j = as_data(sweep);
    REQUIRE(j["pieces"].size() == 2);
    CHECK(j["pieces"][1]["power_w"].get<double>() == Approx(240.0).epsilon(0.005));
    CHECK(has(j["beside"][0], "While the wall gave 600.0 W, it took 49 % of what it takes without"));
    CHECK(j["rows"].back()["use"] == "beside-the-wall");
}

TEST_CASE("the protocol of protections: what each did, and pass or not against the print") {
    // The print of two.toml: 60 V at most, 20 A.
    const auto sweep = [](const std::string& after) {
        return swept("V,A,state", [](double v, double a) { return fmt::format("{:.1f},{:.2f},{}", v, a, v > 58.0 ? "error" : ""); }) + after;
    };
    const auto of = [](const Json& j, const std::string& what) {
        for (const Json& p : j["protections"]) {
            if (p["what"] == what) return p;
        }
        return Json();
    };
    const Json without = as_data(sweep(""), {"--against", "two.toml"});
    CHECK(of(without, "trip")["result"] == "pass");
    CHECK(of(without, "said-error")["measured"] == 60.0);
    CHECK(of(without, "recovery")["result"] == "not-seen");
    for (const char* yes : {"recovered: yes\n", "# recovered: yes\n", "Recovered, yes\n"}) {
        const Json j = as_data(sweep(yes), {"--against", "two.toml"});
        INFO(yes);
        CHECK(of(j, "recovery")["result"] == "seen");
        CHECK(of(j, "recovery")["said"] == true);
        CHECK(has(learned(sweep(yes)).out, "yes, as noted, without a voltage"));
        CHECK_FALSE(has(learned(sweep(yes)).out, "was not seen to recover"));
    }
    CHECK(of(as_data(sweep("recovered: no\n")), "recovery")["result"] == "not-pass");
    const std::string column = swept("V,A,recovered", [](double v, double a) { return fmt::format("{:.1f},{:.2f},{}", v, a, v > 58.0 ? "yes" : ""); });
    CHECK(of(as_data(column), "recovery")["result"] == "seen");
    // It trips below the print, or takes more than the print: no pass.
    const std::string early = swept("V,A", [](double v, double a) { return fmt::format("{:.1f},{:.2f}", v, v > 50.0 ? 0.0 : a); });
    CHECK(of(as_data(early, {"--against", "two.toml"}), "trip")["result"] == "not-pass");
    const std::string strong = swept("V,A", [](double v, double a) { return fmt::format("{:.1f},{:.2f}", v, 3.0 * a); });
    CHECK(of(as_data(strong, {"--against", "two.toml"}), "current-limit")["result"] == "not-pass");
}

TEST_CASE("a plan for a session: nothing above the print, and once filled in it finds the printed window") {
    const std::string printed =
        "name = \"Box\"\ntype = \"wide-range\"\n[[input]]\nname = \"PV1\"\nmax_voltage = \"60 V\"\ntracking_min = \"11 V\"\n"
        "tracking_max = \"58 V\"\nstart_voltage = \"12 V\"\nbands = [ { from = \"11 V\", to = \"25 V\", current = \"8 A\" }, { from = "
        "\"25 V\", to = \"60 V\", current = \"13 A\" } ]\nmax_power = \"400 W\"\n";
    Files files = usual_files();
    files["box.toml"] = printed;
    const CommandResult text = run({"learn", "--plan", "box.toml"}, world_of(files));
    INFO(text.out << text.err);
    CHECK(text.exit_code == 0);
    CHECK(has(text.out, "none above 60.00 V"));
    CHECK(has(text.out, "When to stop"));
    const Json plan = Json::parse(run({"learn", "--plan", "box.toml", "--json"}, world_of(files)).out);
    CHECK(plan["supply_a"].get<double>() == Approx(14.3));
    CHECK(plan["supply_w"].get<double>() == Approx(440.0));
    bool came_down = false;
    for (const Json& r : plan["readings"]) {
        CHECK(r["voltage_v"].get<double>() <= 60.0);
        CHECK((r["falling"].get<bool>() || !came_down));
        came_down = came_down || r["falling"].get<bool>();
    }
    CHECK(came_down);
    // The blank sheet, filled in by an input that keeps to its print.
    std::istringstream sheet(run({"learn", "--plan", "box.toml", "--csv"}, world_of(files)).out);
    std::string filled;
    bool falling = false;
    double before_v = 0.0;
    for (std::string line; std::getline(sheet, line);) {
        if (line.empty() || line[0] < '0' || line[0] > '9') {
            filled += line + "\n";
            continue;
        }
        const double v = std::stod(line);
        falling = falling || v < before_v;
        before_v = v;
        const bool works = v <= 58.0 && v >= (falling ? 11.0 : 12.0);
        const double amps = works ? std::min(v < 25.0 ? 8.0 : 13.0, 400.0 / v) : 0.0;
        filled += fmt::format("{:.1f},{:.2f},,\n", v, amps);
    }
    std::string setup = setup_toml;
    const std::size_t begin = setup.find("[controller]");
    files["s.toml"] = setup.substr(0, begin) + "[controller]\nfile = \"box.toml\"\n\n" + setup.substr(setup.find("[site]"));
    files["filled.csv"] = filled;
    const CommandResult found = run({"learn", "filled.csv", "--against", "s.toml", "--json"}, world_of(files));
    INFO(filled << found.err);
    REQUIRE(found.exit_code == 0);
    const Json j = Json::parse(found.out);
    INFO(j["compared"].dump(1));
    int agreeing = 0;
    for (const Json& c : j["compared"]) {
        CHECK(c["agreement"] != "more");
        if (c["figure"] != "maximum-voltage") CHECK(c["agreement"] != "less");
        agreeing += c["agreement"] == "agrees" ? 1 : 0;
    }
    CHECK(agreeing >= 4);
    CHECK(run({"learn", "--plan", "box.toml", "--against", "s.toml"}, world_of(files)).exit_code == 2);
    CHECK(run({"learn"}, world_of(files)).exit_code == 2);
    files["open.toml"] = "name = \"Box\"\ntype = \"wide-range\"\n[[input]]\nname = \"PV1\"\nmax_current = \"8 A\"\n";
    CHECK(has(run({"learn", "--plan", "open.toml"}, world_of(files)).err, "Add max_voltage from the manual"));
}

TEST_CASE("steps of readings: found, stated, cut off") {
    const auto sweep = [](double step, bool cut_off) {
        return swept("V,A", [&](double v, double a) { return fmt::format("{:.1f},{:.1f}", v, (cut_off ? std::floor(a / step) : std::round(a / step)) * step); });
    };
    const Json half = as_data(sweep(0.5, false));
    CHECK(half["amps_step_a"] == 0.5);
    CHECK(has(learned(sweep(0.5, false)).out, "Readings come in steps of 0.5 A"));
    const Json stated = as_data(sweep(0.1, false), {"--resolution", "1 A"});
    CHECK(stated["amps_step_a"] == 1.0);
    CHECK(stated["pieces"][0]["likely_a"][1].get<double>() - stated["pieces"][0]["likely_a"][0].get<double>() > 0.5);
    CHECK(learned(sweep(0.1, false), {"--resolution", "3"}).exit_code == 2);
    CHECK(learned(sweep(0.1, false), {"--resolution", "1 A", "--resolution", "2 A"}).exit_code == 2);
    // 7.7 A on a display of half amps that cuts off is 7.5 at all voltages: nothing tells, unless somebody says so.
    const std::string low = "V,A\n10,0\n12,7.5\n14,7.5\n16,7.5\n18,7.5\n20,7.5\n22,7.5\n";
    CHECK(has(learned(low).out, "say --cut-off"));
    const Json cut = as_data(low, {"--cut-off"});
    CHECK(cut["display_cuts_off"] == true);
    CHECK(cut["pieces"][0]["likely_a"][0].get<double>() < 7.6);
    CHECK(cut["pieces"][0]["likely_a"][1].get<double>() > 7.9);
    // A power limit in amps that are cut off is a row of steps that only cutting off explains.
    std::string power = "V,A\n10,0\n";
    for (int v = 20; v <= 60; ++v) power += fmt::format("{},{:.0f}\n", v, std::floor(907.0 / v));
    const Json steps = as_data(power);
    INFO(steps["pieces"].dump(1));
    CHECK(steps["display_cuts_off"] == true);
    CHECK(steps["pieces"][0]["likely_w"][0].get<double>() <= 907.0);
    CHECK(steps["pieces"][0]["likely_w"][1].get<double>() >= 907.0);
}

}  // namespace
}  // namespace plait::cli
