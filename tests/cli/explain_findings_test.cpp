// What explain says beside its account, and that it never contradicts itself. The panels are those of memory_world.hpp:
// two in series are 40 V, 5 A and 200 W at test conditions.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <regex>
#include <sstream>

namespace plait::cli {
namespace {

using Json = nlohmann::json;

CommandResult explain(const std::string& log, std::vector<std::string> more = {}) {
    Files files = usual_files();
    files["log.csv"] = log;
    more.insert(more.begin(), {"explain", "two.toml", "log.csv"});
    return run(more, world_of(files));
}

Json as_data(const std::string& log, std::vector<std::string> more = {}) {
    more.emplace_back("--json");
    const CommandResult r = explain(log, std::move(more));
    INFO(r.err);
    REQUIRE(r.exit_code == 0);
    return Json::parse(r.out);
}

bool has(const std::string& text, const std::string& part) { return support::flat(text).find(part) != std::string::npos; }

/// Hours of a summary: "in 35 minutes", "in 4.2 hours".
double hours_in(const std::string& text) {
    static const std::regex span(" in ([0-9.]+) (minutes|hours)");
    std::smatch m;
    if (!std::regex_search(text, m, span)) return -1.0;
    return std::stod(m[1]) / (m[2] == "minutes" ? 60.0 : 1.0);
}

double energy_in(const std::string& text) {
    static const std::regex energy("([0-9.]+) (Wh|kWh)");
    std::smatch m;
    if (!std::regex_search(text, m, energy)) return 0.0;
    return std::stod(m[1]) * (m[2] == "kWh" ? 1000.0 : 1.0);
}

TEST_CASE("law: no energy is charged to a time in which the label could not give it, and no advice without support") {
    std::mt19937 dice(0xE1);
    const auto between = [&](double low, double high) { return low + (high - low) * static_cast<double>(dice()) / 4294967295.0; };
    int charged = 0;
    for (int i = 0; i < 40; ++i) {
        // Days of which something is the matter here and there, with few columns in some.
        const bool light = between(0, 1) < 0.7;
        const bool volts = between(0, 1) < 0.7;
        std::string log = std::string("time") + (volts ? ",volts,amps" : ",watts") + (light ? ",irradiance" : "") + "\n";
        double share = 1.0;
        for (int minute = 360; minute < 1140; minute += 10) {
            const double sun = 950.0 * std::sin(3.14159265 * (minute - 350) / 800.0);
            if (between(0, 1) < 0.08) share = between(0, 1) < 0.5 ? 1.0 : between(0.0, 1.0);
            const double amps = 5.0 * sun / 1000.0 * share * between(0.99, 1.01);
            const double v = share < 0.3 ? 46.0 : 39.5 * between(0.99, 1.01);
            log += fmt::format("2026-06-20T{:02}:{:02}", minute / 60, minute % 60);
            log += volts ? fmt::format(",{:.1f},{:.2f}", v, amps) : fmt::format(",{:.0f}", v * amps);
            log += light ? fmt::format(",{:.0f}\n", sun * between(0.97, 1.03)) : "\n";
        }
        INFO(log);
        const Json j = as_data(log);
        const double label_w = j["label_wh"].get<double>() / j["logged_hours"].get<double>();
        for (std::size_t k = 1; k < j["summary"].size(); ++k) {
            const std::string s = j["summary"][k];
            const double hours = hours_in(s);
            if (hours < 0.0) continue;
            ++charged;
            INFO(s);
            // Half a minute or a twentieth of an hour is what the words round away.
            CHECK(energy_in(s) <= label_w * (hours + 0.051) + 0.5);
            CHECK(hours > 0.0);
        }
        for (const Json& cause : j["change_first"]["causes"]) {
            INFO(cause);
            CHECK(cause != "untold");
            for (const Json& l : j["losses"]) {
                if (l["cause"] == cause && cause != "cable") CHECK(l["lost_wh"].get<double>() <= label_w * l["hours"].get<double>() + 1e-6);
            }
        }
        double untold = 0.0;
        for (const auto& [teller, wh] : j["untold_wh"].items()) untold += wh.get<double>();
        for (const Json& l : j["losses"]) {
            if (l["cause"] == "untold") CHECK(untold == Approx(l["lost_wh"].get<double>()).margin(1e-6));
        }
    }
    CHECK(charged > 10);
}

TEST_CASE("a log whose newest row comes first says the same as the other way round") {
    std::vector<std::string> lines;
    for (int minute = 600; minute < 900; minute += 5) {
        lines.push_back(fmt::format("2026-06-20T{:02}:{:02},40,{:.1f},1000,25\n", minute / 60, minute % 60, minute > 700 ? 2.5 : 5.0));
    }
    const std::string head = "time,volts,amps,irradiance,panel temperature [°C]\n";
    std::string forward = head;
    std::string backward = head;
    for (const std::string& l : lines) forward += l;
    for (auto l = lines.rbegin(); l != lines.rend(); ++l) backward += *l;
    Json a = as_data(forward);
    Json b = as_data(backward);
    CHECK(has(b["notes"].dump(), "The newest row comes first"));
    a["notes"] = b["notes"];
    CHECK(a == b);
}

TEST_CASE("a column named by hand is used, and one that is not there is asked about") {
    const std::string log = "time,volts,amps,irradiance,Ext\n0,40,5,1000,0\n600,40,5,1000,300\n1200,40,5,1000,300\n1800,40,5,1000,0\n";
    CHECK(as_data(log)["columns"]["wall"] == 0);
    const Json j = as_data(log, {"--column", "wall=ext"});
    CHECK(j["columns"]["wall"] == 4);
    CHECK(j["with_wall"]["hours"].get<double>() > 0.0);
    CHECK(j["without_wall"]["hours"].get<double>() > 0.0);
    CHECK(has(explain(log, {"--column", "wall=ext", "--full"}).out, "with the wall"));
    CHECK(has(explain(log, {"--column", "wall=AC"}).err, "no column is titled \"AC\""));
    CHECK(has(explain(log, {"--column", "tide=AC"}).err, "--column:1:1: \"tide\" is none of time"));
}

TEST_CASE("a log of the display alone is a log") {
    const auto log = [](const std::string& title) { return "time," + title + ",irradiance\n0,200,1000\n600,200,1000\n1200,150,1000\n"; };
    const Json plain = as_data(log("watts"));
    const Json shown = as_data(log("display W"));
    CHECK(shown["measured_wh"] == plain["measured_wh"]);
    CHECK(shown["losses"] == plain["losses"]);
}

TEST_CASE("light on flat ground is left aside, with a word, where nobody knows which way the panels look") {
    const Json j = as_data("time,volts,amps,GHI [W/m²],panel temperature [°C]\n0,40,5,1000,25\n600,40,5,1000,25\n1200,40,5,1000,25\n");
    CHECK(has(j["notes"].dump(), "The light on flat ground is not used"));
}

TEST_CASE("what cannot be told is said with the column that would tell") {
    std::string log = "time,watts\n";
    for (int minute = 0; minute < 300; minute += 10) log += fmt::format("{},{}\n", 60 * minute, minute > 150 ? 60 : 180);
    const Json j = as_data(log);
    INFO(j["findings"].dump(1));
    CHECK(has(j["findings"].dump(), "cannot be told: a column of irradiance, in the plane of the panels, would tell"));
}

}  // namespace
}  // namespace plait::cli
