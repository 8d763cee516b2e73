// plait curve, from the arguments to the three kinds of output.
#include "../support/report_text.hpp"
#include "memory_world.hpp"
#include "../support/source_dir.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <sstream>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

void check_refused(const CommandResult& r, const std::string& complaint) {
    CHECK(r.exit_code == 2);
    CHECK((r.out.empty() || r.json));
    CHECK_THAT(r.err, Contains(complaint));
}

CommandResult curve(std::vector<std::string> more, const Files& files = usual_files()) {
    more.insert(more.begin(), {"curve"});
    return run(more, world_of(files));
}

Json json_of(std::vector<std::string> more, const Files& files = usual_files()) {
    more.emplace_back("--json");
    const CommandResult r = curve(std::move(more), files);
    INFO(r.err);
    REQUIRE(r.exit_code == 0);
    return Json::parse(r.out);
}

std::vector<std::vector<std::string>> table_of(const std::string& csv) {
    std::vector<std::vector<std::string>> rows;
    std::istringstream lines(csv);
    for (std::string line; std::getline(lines, line);) {
        std::vector<std::string>& row = rows.emplace_back();
        std::istringstream fields(line + ",");
        for (std::string field; std::getline(fields, field, ',');) row.push_back(field);
    }
    return rows;
}

/// Two kinds, shade by group, a group and a panel in the dark, warmth, unequal strings, a blocking diode.
Files patchwork() {
    Files files = usual_files();
    files["dune.toml"] = files["meadow.toml"];
    const auto swap = [&](const std::string& from, const std::string& to) {
        files["dune.toml"].replace(files["dune.toml"].find(from), from.size(), to);
    };
    swap("isc = \"5.5 A\"", "isc = \"4.4 A\"");
    swap("imp = \"5 A\"", "imp = \"4 A\"");
    swap("pmax = \"100 W\"", "pmax = \"80 W\"");
    swap("\"45 °C\"", "\"49 °C\"");
    std::string& setup = files["setup.toml"];
    setup.insert(setup.find("[controller]"), "[[panel]]\nid = \"dune\"\nfile = \"dune.toml\"\ncount = 4\n\n");
    setup += R"(
[[wiring.PV1.string]]
blocking_diode = true
panels = ["meadow", { panel = "dune", light = [1.0, 0.2], warmer = [0, "5 K"] }]
[[wiring.PV1.string]]
panels = [{ panel = "dune", light = 0 }, "meadow", { panel = "meadow", light = [0, "60 %"] }]
[[wiring.PV1.string]]
panels = ["meadow"]
)";
    return files;
}

}  // namespace

TEST_CASE("curve: one panel is its datasheet at test conditions") {
    const Json j = json_of({"setup.toml", "--wiring", "1s1p"});
    CHECK(j["schema"] == "plait-report");
    CHECK(j["command"] == "curve");
    CHECK(j["condition"]["id"] == "stc");
    const Json& c = j["inputs"][0];
    CHECK(c["name"] == "PV1");
    CHECK(c["wiring"] == "1s1p");
    CHECK(c["open_circuit_v"].get<double>() == Approx(24.0).epsilon(1e-9));
    // At no voltage the bypass diodes do not leak: 4e-9 of Isc at 25 °C, group_curve.hpp.
    CHECK(c["short_circuit_a"].get<double>() == Approx(5.5).epsilon(5e-9));
    CHECK(c["best"]["voltage_v"].get<double>() == Approx(20.0).epsilon(1e-6));
    CHECK(c["best"]["power_w"].get<double>() == Approx(100.0).epsilon(1e-9));
    CHECK(c["extremes"].size() == 1);
    CHECK(c["operation"]["binding"] == "nothing");
    CHECK(c["at_best"]["lost_w"].get<double>() == Approx(0.0).margin(1e-6));
    CHECK(c["above_max_voltage"] == false);
    CHECK(json_of({"three.toml"})["inputs"][0]["above_max_voltage"] == true);
}

TEST_CASE("curve: the weather by name, by cells or by air, with units as in the files") {
    // 24 V × (1 + 0.3 % × 45); −20 °C is −4 °F.
    const auto open_v = [](std::vector<std::string> more) {
        more.insert(more.begin(), {"setup.toml", "--wiring", "1s1p"});
        return json_of(more)["inputs"][0]["open_circuit_v"].get<double>();
    };
    const double cold_v = open_v({"--when", "cold-bright"});
    CHECK(cold_v == Approx(27.24).epsilon(1e-9));
    for (const char* cell : {"-20 °C", "−20 °C", "-4 °F", "253.15 K"}) {
        CAPTURE(cell);
        CHECK(open_v({"--sun", "1000", "--cell", cell}) == Approx(27.24).epsilon(1e-9));
    }
    CHECK(open_v({"--sun", "1 kW/m²", "--cell=-20 °C"}) == Approx(27.24).epsilon(1e-9));
    // NOCT 45 °C on an open rack: (45 − 20) K × 1000/800 over the air.
    const Json air = json_of({"setup.toml", "--wiring", "1s1p", "--sun", "1000", "--air", "10 °C"});
    CHECK(air["condition"]["id"].is_null());
    CHECK(air["condition"]["air_degc"] == 10.0);
    CHECK(air["inputs"][0]["cells"][0]["cell_degc"].get<double>() == Approx(41.25));
    CHECK(open_v({"--sun", "1000", "--air", "10 °C"}) == Approx(24.0 * (1.0 - 0.003 * 16.25)).epsilon(1e-9));
    for (const char* when : {"cold-bright", "stc", "warm-bright", "hot-bright", "weak-light"}) {
        CHECK(json_of({"two.toml", "--when", when})["condition"]["id"] == when);
    }
}

TEST_CASE("curve: what cannot be answered is refused, with what to write") {
    check_refused(curve({"setup.toml"}), "there is no [wiring]");
    check_refused(curve({"two.toml", "--sun", "800"}), "--cell");
    check_refused(curve({"two.toml", "--cell", "45 °C"}), "--sun");
    check_refused(curve({"two.toml", "--sun", "800", "--cell", "45 °C", "--air", "20 °C"}), "--air");
    check_refused(curve({"two.toml", "--sun", "800", "--cell", "45 °C", "--when", "stc"}), "--when");
    check_refused(curve({"two.toml", "--when", "noon"}), "noon");
    for (const char* bad : {"nan", "inf", "-1", "2001", "800 V", "lots", ""}) {
        CAPTURE(bad);
        check_refused(curve({"two.toml", "--sun", bad, "--cell", "45 °C"}), "--sun");
    }
    for (const char* bad : {"NaN", "-inf", "-61", "101 °C", "45 V", "14,5"}) {
        CAPTURE(bad);
        check_refused(curve({"two.toml", "--sun", "800", "--cell", bad}), "--cell");
        check_refused(curve({"two.toml", "--sun", "800", "--air", bad}), "--air");
    }
    for (const char* bad : {"1", "10002", "-5", "2.5", "many"}) {
        CAPTURE(bad);
        check_refused(curve({"two.toml", "--points", bad}), "--points");
    }
    for (const char* bad : {"", "1,,2", "nan", "-1", "1;2", "1 A", "53"}) {
        CAPTURE(bad);
        check_refused(curve({"two.toml", "--at", bad}), "--at");
    }
    check_refused(curve({"two.toml", "--at", "1", "--points", "5"}), "--points");
    check_refused(curve({"two.toml", "--csv", "--json"}), "--csv");
    check_refused(curve({"two.toml", "--netlist", "--json"}), "--netlist");
    check_refused(curve({"two.toml", "--netlist", "--csv"}), "--netlist");
    check_refused(curve({"two.toml", "--input", "PV7"}), "PV1");
    check_refused(curve({"two.toml", "--wiring", "unused"}), "uses no input");
    check_refused(curve({"two.toml", "--netlist", "--sun", "0", "--cell", "20 °C"}), "--netlist");
    Files hot = patchwork();
    hot["setup.toml"].replace(hot["setup.toml"].find("\"5 K\""), 5, "\"90 K\"");
    check_refused(curve({"setup.toml", "--sun", "1000", "--cell", "70 °C"}, hot), "160.0 °C");
}

TEST_CASE("curve --csv: a header with units, and rows that agree with themselves") {
    const CommandResult r = curve({"two.toml", "--csv", "--wiring", "2s2p"});
    CHECK(r.exit_code == 0);
    CHECK(r.err.empty());
    // The line before the header carries the verdict and the deferral.
    const std::size_t first_line = r.out.find('\n');
    CHECK_THAT(r.out.substr(0, first_line), StartsWith("# plait curve. Verdict: ") && Contains("not an approval"));
    const auto rows = table_of(r.out.substr(first_line + 1));
    CHECK(rows[0] ==
          std::vector<std::string>{"input", "voltage_v", "current_a", "power_w", "string_1_a", "string_2_a", "marks"});
    REQUIRE(rows.size() >= 102);
    double last_v = -1.0;
    double last_a = 1e9;
    std::string marks;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        REQUIRE(rows[i].size() == 7);
        const double v = std::strtod(rows[i][1].c_str(), nullptr);
        const double a = std::strtod(rows[i][2].c_str(), nullptr);
        CHECK(rows[i][0] == "PV1");
        CHECK(v > last_v);
        CHECK(a < last_a);
        CHECK(std::strtod(rows[i][3].c_str(), nullptr) == Approx(v * a).margin(1e-12));
        CHECK(2.0 * std::strtod(rows[i][4].c_str(), nullptr) == Approx(a).margin(1e-9));
        CHECK(rows[i][4] == rows[i][5]);
        last_v = v;
        last_a = a;
        marks += " " + rows[i][6];
    }
    CHECK_THAT(marks, Contains("short-circuit") && Contains("best") && Contains("in-operation") &&
                          Contains("window-edge") && Contains("open-circuit") && !Contains("bypass-knee"));
    // The two ends of the window of the set-up, 12 V (58 V is beyond open circuit), and nothing but marks besides.
    CHECK_THAT(r.out, Contains("PV1,12,"));
    CHECK(table_of(curve({"two.toml", "--csv", "--points", "2"}).out).size() < 10);
}

TEST_CASE("curve --at: exactly these voltages, in this order, and the same numbers as ever") {
    const Json j = json_of({"two.toml", "--at", "30, 10.25 V,0,30000 mV"});
    const Json& points = j["inputs"][0]["points"];
    REQUIRE(points.size() == 4);
    CHECK(points[0]["voltage_v"] == 30.0);
    CHECK(points[1]["voltage_v"] == 10.25);
    CHECK(points[2]["voltage_v"] == 0.0);
    CHECK(points[3] == points[0]);
    CHECK(points[2]["current_a"] == j["inputs"][0]["short_circuit_a"]);
    // A point does not depend on which others were asked for, to the last digit.
    CHECK(json_of({"two.toml", "--at", "10.25"})["inputs"][0]["points"][0] == points[1]);
    // Somewhat beyond open circuit the array draws current.
    CHECK(json_of({"two.toml", "--at", "49"})["inputs"][0]["points"][0]["current_a"] < 0.0);
}

TEST_CASE("curve: light and warmth of each group, unlike panels and unequal strings come through") {
    const Files files = patchwork();
    const Json j = json_of({"setup.toml", "--sun", "900", "--cell", "35 °C", "--at", "5,20,24.5"}, files);
    const Json& c = j["inputs"][0];
    CHECK(c["strings"] == 3);
    CHECK(c["panels"] == 6);
    const Json& strings = c["at_best"]["strings"];
    REQUIRE(strings.size() == 3);
    const Json& dune = strings[0]["panels"][1];
    CHECK(dune["panel"] == "dune");
    CHECK(dune["groups"][0]["light_ratio"] == 1.0);
    CHECK(dune["groups"][0]["cell_degc"] == 35.0);
    CHECK(dune["groups"][1]["light_ratio"] == 0.2);
    CHECK(dune["groups"][1]["cell_degc"] == 40.0);
    CHECK(strings[1]["panels"][0]["groups"][0]["light_ratio"] == 0.0);
    CHECK(strings[1]["panels"][0]["own_maximum_w"] == 0.0);
    CHECK(strings[1]["panels"][2]["groups"][1]["light_ratio"] == 0.6);
    // Kirchhoff: groups make a panel, panels less the blocking diode the array; strings make the array's current.
    double total_a = 0.0;
    double own_w = 0.0;
    double delivered_w = 0.0;
    for (const Json& s : strings) {
        double string_v = -s["blocking_v"].get<double>();
        for (const Json& p : s["panels"]) {
            double panel_v = 0.0;
            for (const Json& g : p["groups"]) panel_v += g["voltage_v"].get<double>();
            CHECK(panel_v == Approx(p["voltage_v"].get<double>()).margin(1e-9));
            string_v += panel_v;
            own_w += p["own_maximum_w"].get<double>();
            delivered_w += p["delivered_w"].get<double>();
        }
        CHECK(string_v == Approx(c["at_best"]["point"]["voltage_v"].get<double>()).margin(1e-8));
        total_a += s["current_a"].get<double>();
    }
    CHECK(total_a == Approx(c["at_best"]["point"]["current_a"].get<double>()).margin(1e-9));
    CHECK(own_w == Approx(c["at_best"]["own_w"].get<double>()));
    CHECK(own_w - c["best"]["power_w"].get<double>() == Approx(c["at_best"]["lost_w"].get<double>()));
    CHECK(delivered_w - c["at_best"]["blocking_w"].get<double>() == Approx(c["best"]["power_w"].get<double>()));
    for (const Json& p : c["points"]) {
        double a = 0.0;
        for (const Json& s : p["string_a"]) a += s.get<double>();
        CHECK(a == Approx(p["current_a"].get<double>()).margin(1e-9));
    }
    // Open: the one panel alone (string 3) is driven back by the longer strings; no sum is left over.
    double open_a = 0.0;
    for (const Json& a : c["open_circuit_string_a"]) open_a += a.get<double>();
    CHECK(open_a == Approx(0.0).margin(1e-9));
    CHECK(c["open_circuit_string_a"][2] < 0.0);
}

TEST_CASE("curve: cells of unlike kinds in the same air are as warm as their own NOCT says") {
    const Json c = json_of({"setup.toml", "--sun", "800", "--air", "20 °C"}, patchwork())["inputs"][0];
    CHECK(c["cells"][0]["cell_degc"].get<double>() == Approx(45.0));
    CHECK(c["cells"][1]["cell_degc"].get<double>() == Approx(49.0));
    CHECK(c["at_best"]["strings"][0]["panels"][1]["groups"][1]["cell_degc"].get<double>() == Approx(54.0));
}

TEST_CASE("curve: the demo's chimney, three maxima, and what a simple tracker loses") {
    const World world = source_world();
    const CommandResult r = run({"curve", "docs/demo/shaded.toml", "--json"}, world);
    REQUIRE(r.exit_code == 0);
    const Json c = Json::parse(r.out)["inputs"][0];
    REQUIRE(c["extremes"].size() == 5);
    // The numbers the set-up file itself tells its reader.
    CHECK(c["extremes"][0]["power_w"].get<double>() == Approx(1339.0).margin(0.5));
    CHECK(c["extremes"][2]["power_w"].get<double>() == Approx(1251.0).margin(0.5));
    CHECK(c["extremes"][4]["power_w"].get<double>() == Approx(1138.0).margin(0.5));
    CHECK(c["first_stop"]["power_w"] == c["extremes"][4]["power_w"]);
    CHECK(c["first_stop"]["lost_w"].get<double>() ==
          Approx(c["operation"]["power_w"].get<double>() - c["first_stop"]["power_w"].get<double>()));
    CHECK_THAT(c["first_stop"]["sentence"].get<std::string>(), Contains("comes down from open circuit"));
    // Every extreme is a point of the list, to the last digit.
    for (const Json& e : c["extremes"]) {
        CHECK(std::any_of(c["points"].begin(), c["points"].end(),
                          [&](const Json& p) { return p["voltage_v"] == e["voltage_v"]; }));
    }
    const CommandResult text = run({"curve", "docs/demo/shaded.toml"}, world);
    CHECK_THAT(support::flat(text.out), StartsWith("Curve: PV = 3s2p") && Contains("test conditions (STC): 1000 W/m², cells 25 °C") &&
                             Contains("the highest of 3 maxima") && Contains("comes down from open circuit") &&
                             Contains("bypassed: groups 1, 2") && Contains("plait check"));
}

TEST_CASE("curve as text: warns of the absolute maximum, lists points when asked, draws when wanted") {
    CHECK_THAT(support::flat(curve({"three.toml"}).out), Contains("do not connect it"));
    CHECK_THAT(curve({"two.toml"}).out, !Contains("do not connect it") && Contains("█") && Contains("▲"));
    CHECK_THAT(curve({"two.toml", "--plot", "none"}).out, !Contains("█") && !Contains("▲"));
    const std::string ascii = curve({"two.toml", "--plot", "ascii"}).out;
    CHECK_THAT(ascii, !Contains("█") && Contains("####") && Contains("in operation ^"));
    const std::string at = curve({"two.toml", "--at", "17"}).out;
    CHECK_THAT(at, Contains("  17.00  "));
    CHECK_THAT(curve({"two.toml", "--sun", "0", "--cell", "20 °C"}).out, Contains("no light, no power"));
    // Of a hundredth of a watt no warning is made.
    const std::string faint =
        run({"curve", "docs/demo/shaded.toml", "--sun", "0.01", "--cell", "-60 °C"}, source_world()).out;
    CHECK_THAT(faint, Contains("0.01 W/m², cells −60 °C") && Contains("the highest of 2 maxima") &&
                          !Contains("comes down from open circuit"));
}

TEST_CASE("curve --input: one of several") {
    const World world = source_world();
    const std::string file = "docs/demo/mixed.toml";
    CHECK(Json::parse(run({"curve", file, "--json"}, world).out)["inputs"].size() == 2);
    const Json one = Json::parse(run({"curve", file, "--json", "--input", "PV2"}, world).out);
    REQUIRE(one["inputs"].size() == 1);
    CHECK(one["inputs"][0]["name"] == "PV2");
    check_refused(run({"curve", file, "--netlist"}, world), "--input");
    CHECK(run({"curve", file, "--netlist", "--input", "PV2"}, world).exit_code == 0);
    check_refused(run({"curve", file, "--input", "PV3"}, world), "PV1, PV2");
}

TEST_CASE("curve and check say what shaded cells take, in words and as data") {
    const Json curve = Json::parse(run({"curve", "docs/demo/carport.toml", "--json"}, source_world()).out);
    REQUIRE(curve["hot_spots"].size() == 2);
    const Json& post = curve["hot_spots"][1];
    CHECK(post["input"] == "PV");
    CHECK(post["panel"] == 3);
    CHECK(post["group"] == 2);
    CHECK(post["cells"] == 3);
    CHECK(post["condition"].is_null());
    const Json& group = curve["inputs"][0]["at_best"]["strings"][0]["panels"][2]["groups"][1];
    CHECK(group["shaded_cells"] == 3);
    CHECK(group["shaded_light_ratio"] == Approx(0.15));
    CHECK(group["shaded_cell_w"] == post["cell_w"]);
    CHECK(group["shaded_cell_v"] == post["cell_v"]);
    CHECK(curve["inputs"][0]["at_best"]["strings"][0]["panels"][1]["groups"][1]["shaded_cell_w"].is_null());
    // Three cells have between them what the other seventeen and the diode put on them.
    CHECK(post["cell_v"].get<double>() * 3.0 == Approx(-(17.0 * 0.66 + 0.5)).epsilon(0.05));
    CHECK(post["most_cell_w"].get<double>() > post["cell_w"].get<double>());
    const std::string text = support::flat(run({"curve", "docs/demo/carport.toml"}, source_world()).out);
    CHECK_THAT(text, Contains("3 shaded cells are driven backward") && Contains("A hot spot can burn"));
    const Json check = Json::parse(run({"check", "docs/demo/carport.toml", "--json"}, source_world()).out);
    REQUIRE(check["hot_spots"].size() == 2);
    CHECK(check["hot_spots"][1]["cell_w"].get<double>() >= post["cell_w"].get<double>());
    CHECK(check["hot_spots"][1]["condition"] == "cold-bright");
    // The caution rounds up the most that a cell could take: no report says less than another.
    double most_w = 0.0;
    for (const Json& spot : check["hot_spots"]) most_w = std::max(most_w, spot["most_cell_w"].get<double>());
    CHECK_THAT(support::flat(run({"check", "docs/demo/carport.toml"}, source_world()).out),
               Contains("A shaded cell can take up to " + std::to_string(static_cast<int>(std::ceil(most_w))) + " W"));
    CHECK(Json::parse(run({"check", "docs/demo/shaded.toml", "--json"}, source_world()).out)["hot_spots"].empty());
}

TEST_CASE("curve --netlist: the shaded demo's circuit is the one on file") {
    // Every word is held; numbers to 1e-9, as the last digits are the compiler's.
    const auto words = [](std::string text) {
        std::replace(text.begin(), text.end(), '=', ' ');
        std::replace(text.begin(), text.end(), ')', ' ');
        std::vector<std::string> all;
        std::istringstream in(text);
        for (std::string word; in >> word;) all.push_back(word);
        return all;
    };
    const CommandResult r = run({"curve", "docs/demo/shaded.toml", "--netlist"}, source_world());
    REQUIRE(r.exit_code == 0);
    const auto ours = words(r.out);
    const auto filed = words(support::text_of(std::filesystem::path(support::source_dir()) / "tests/golden/shaded.cir"));
    REQUIRE(ours.size() == filed.size());
    for (std::size_t i = 0; i < ours.size(); ++i) {
        char* end = nullptr;
        const double value = std::strtod(ours[i].c_str(), &end);
        if (*end == '\0') {
            CHECK(value == Approx(std::strtod(filed[i].c_str(), nullptr)).epsilon(1e-9).margin(1e-300));
        } else {
            CHECK(ours[i] == filed[i]);
        }
    }
}
