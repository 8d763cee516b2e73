// Sweeps as people write them down. What a person would say of each by eye was written here before the program was
// asked. All figures are invented; the 8 A car-socket band, 1200 W at 120 V and trips a few per cent over the print are
// common practice, no source.
#include "../support/report_text.hpp"
#include "memory_world.hpp"

#include <plait/input/read_controller.hpp>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>

namespace plait::cli {
namespace {

using Json = nlohmann::json;

struct Expected {
    const char* kind;
    double from_v, to_v, level;  // of a band A, at constant power W
};

struct Gap {
    double low_v, high_v;
};

/// What a person would say: no start or trip where none can be seen.
struct ByEye {
    std::vector<Expected> pieces;
    std::optional<Gap> start, stop, trip, recovery;
};

Json learned(const std::string& sweep, std::vector<std::string> more = {}) {
    Files files = usual_files();
    files["sweep.csv"] = sweep;
    std::vector<std::string> all{"learn", "sweep.csv", "--json"};
    all.insert(all.end(), more.begin(), more.end());
    const CommandResult r = run(all, world_of(files));
    INFO(sweep << r.err);
    REQUIRE(r.exit_code == 0);
    return Json::parse(r.out);
}

void check_gap(const char* what, const Json& found, const std::optional<Gap>& expected) {
    INFO(what << " " << found.dump());
    REQUIRE(found.is_null() == !expected.has_value());
    if (!expected) return;
    CHECK(found["between_v"][0].get<double>() == Approx(expected->low_v));
    CHECK(found["between_v"][1].get<double>() == Approx(expected->high_v));
}

/// The levels within 1 %, the edges where the readings are; and what --out writes is a controller.
void check_sweep(const std::string& sweep, const ByEye& expected) {
    const Json j = learned(sweep);
    INFO(j["summary"].dump(1));
    REQUIRE(j["pieces"].size() == expected.pieces.size());
    for (std::size_t k = 0; k < expected.pieces.size(); ++k) {
        const Expected& e = expected.pieces[k];
        const Json& p = j["pieces"][k];
        CAPTURE(k);
        CHECK(p["kind"] == e.kind);
        CHECK(p["from_v"].get<double>() == Approx(e.from_v));
        CHECK(p["to_v"].get<double>() == Approx(e.to_v));
        const bool power = std::string(e.kind) == "constant-power";
        CHECK(p[power ? "power_w" : "current_a"].get<double>() == Approx(e.level).epsilon(0.01));
    }
    check_gap("start", j["start"], expected.start);
    check_gap("stop", j["stop"], expected.stop);
    check_gap("trip", j["trip"], expected.trip);
    check_gap("recovery", j["recovery"], expected.recovery);

    Files files = usual_files();
    files["sweep.csv"] = sweep;
    const CommandResult text =
        run({"learn", "sweep.csv", "--out", "new.toml", "--svg", "new.svg", "--page", "new.html"}, world_of(files));
    CHECK(text.exit_code == 0);
    CHECK(text.out.find("nan") == std::string::npos);
    REQUIRE(text.files.size() == 3);
    std::string toml;
    for (const auto& file : text.files) {
        CHECK(file.text.find("nan") == std::string::npos);
        if (file.path == "new.toml") toml = file.text;
    }
    const std::size_t begin = setup_toml.find("[controller]");
    files["new.toml"] = toml;
    files["s.toml"] = setup_toml.substr(0, begin) + "[controller]\nfile = \"new.toml\"\n\n" +
                      setup_toml.substr(setup_toml.find("[site]"));
    const CommandResult check = run({"check", "s.toml", "--wiring", "2s1p"}, world_of(files));
    INFO(toml << check.err);
    CHECK(check.exit_code != 2);
}

const char* const band = "constant-current";
const char* const power = "constant-power";

TEST_CASE("notes: a car-socket band, a power limit, a trip told in words, and a recovery") {
    check_sweep(R"(# bench supply on the PV input, box at 40 %
Voltage (V),Amps,W,notes
10,0,0,nothing
11,0,0,
12,8.1,97,starts
14,8.0,112,
16,8.1,130,
18,8.0,144,
20,8.1,162,
22,8.0,176,
24,8.1,194,
26,13.0,338,jumps up
28,13.1,367,
30,13.0,390,
32,12.5,400,power limit?
36,11.1,400,
40,10.0,400,
50,8.0,400,
58,6.9,400,
60,6.7,402,printed max!
61,6.6,402,
62,-,-,trip
60,n/a,n/a,still off
58,6.9,400,back on
)",
                {{{band, 12, 24, 8.06}, {band, 26, 30, 13.0}, {power, 32, 61, 400}},
                 Gap{11, 12},
                 {},
                 Gap{61, 62},
                 Gap{58, 60}});
}

TEST_CASE("notes: German, semicolons, decimal commas") {
    check_sweep(R"(Spannung [V];Strom [A];Leistung [W]
11,0;0,0;0
12,5;8,1;101
15,0;8,0;120
17,5;8,1;142
20,0;8,0;160
22,5;8,1;182
25,0;10,0;250
30,0;10,0;300
35,0;10,1;354
40,0;10,0;400
45,0;9,9;446
50,0;10,0;500
55,0;10,0;550
60,0;0;0
)",
                {{{band, 12.5, 22.5, 8.06}, {band, 25, 55, 10.0}}, Gap{11, 12.5}, {}, Gap{55, 60}, {}});
}

TEST_CASE("notes: watts only in steps of 10 V, and OVP where the watts would stand") {
    check_sweep(R"(PV volts,Input Power [W]
10,0
20,200
30,300
40,400
50,500
60,600
70,700
80,800
90,900
100,1000
110,1100
120,1200
130,1200
140,1195
150,1200
160,OVP
)",
                // At 120 V both laws give what was read; 1195 W once make the mean 1198.75 W, met at 119.9 V.
                {{{band, 20, 110, 10}, {power, 120, 150, 1199}}, Gap{10, 20}, {}, Gap{150, 160}, {}});
}

TEST_CASE("notes: units in the cells, words for amps, a trip at 62 V and a recovery at 58 V") {
    check_sweep(R"(V in;A in;comment
11V;off;
12V;8.1A;started
13V;8.0A;
15V;8.1A;
20V;8.0A;
24V;8.0A;
25V;12.9A;
30V;13.1A;
35V;11.4A;
40V;10.0A;400 W
50V;8.0A;
60V;6.7A;
61V;6.6A;
62V;trip;
61V;off;
60V;off;
59V;off;
58V;6.9A;back
)",
                {{{band, 12, 24, 8.04}, {band, 25, 30, 13.0}, {power, 35, 61, 400}},
                 Gap{11, 12},
                 {},
                 Gap{61, 62},
                 Gap{58, 59}});
}

TEST_CASE("notes: a supply of 5 A is the limit below 40 V, as the remarks say") {
    check_sweep(R"(volts,amps,remark
11,0,
12,5.0,supply in CC
14,5.0,supply in CC
16,5.0,CC
20,5.0,CC
24,5.0,CC
30,5.0,CC
45,4.44,
50,4.0,
55,3.64,
60,3.33,
)",
                {{{"at-least", 12, 30, 5.0}, {power, 45, 60, 200}}, Gap{11, 12}, {}, {}, {}});
}

TEST_CASE("notes: an input that only waits is not said to have a power limit of 6 W without a word") {
    const Json j = learned("Volt,Watt\n10,0\n12,6\n14,6\n16,6\n18,6\n20,6\n25,6\n30,6\n40,6\n");
    INFO(j["summary"].dump(1));
    CHECK(support::flat(j["summary"].dump()).find("may not have been charging at all") != std::string::npos);
    // 6 W below the start are not a stretch of the window.
    check_sweep("Volt,Watt\n8,6\n9,6\n10,6\n11,6\n12,96\n14,112\n16,128\n18,144\n20,160\n25,160\n30,160\n40,160\n",
                {{{band, 12, 20, 8.0}, {power, 25, 40, 160}}, Gap{11, 12}, {}, {}, {}});
}

TEST_CASE("notes: a state column in a person's words") {
    check_sweep(R"(time,voltage,current,state
14:01,11.0,0.0,off
14:02,12.0,7.9,on
14:03,15.0,8.0,on
14:04,18.0,8.0,on
14:05,21.0,8.1,on
14:06,24.0,8.0,on
14:07,27.0,10.0,on
14:08,30.0,10.0,on
14:09,33.0,10.1,on
14:10,40.0,~10,on
14:11,50.0,10.0,on
14:12,58.0,10.0,still charging
14:13,61.0,0.0,TRIP!
)",
                {{{band, 12, 24, 8.0}, {band, 27, 58, 10.02}}, Gap{11, 12}, {}, Gap{58, 61}, {}});
}

TEST_CASE("notes: a sweep downwards only tells of stop and recovery, and not of a trip") {
    const std::string sweep =
        "V;A\n63;0\n61;0\n59;0\n57;7.0\n55;7.3\n50;8.0\n45;8.9\n40;10.0\n35;10.1\n30;10.0\n26;10.0\n24;8.0\n20;8.1\n"
        "16;8.0\n12;8.0\n11;8.1\n10;0\n";
    check_sweep(
        sweep, {{{band, 11, 24, 8.04}, {band, 26, 35, 10.03}, {power, 40, 57, 400}}, {}, Gap{10, 11}, {}, Gap{57, 59}});
    const std::string summary = support::flat(learned(sweep)["summary"].dump());
    CHECK(summary.find("still working") == std::string::npos);
    CHECK(summary.find("where it trips with the voltage rising was not measured") != std::string::npos);
}

TEST_CASE("notes: a title, set and measured volts, a quoted remark, an empty row and an error at the end") {
    check_sweep(R"(SystemModel sweep of the grey box, 3 June
Set volts, Measured volts, Measured amps, Notes
11,10.9,0,
12,11.9,8.1,
15,14.9,8.0,
20,19.9,8.1,
24,23.9,8.0,"big jump, after this"
25,24.8,13.0,
30,29.8,13.1,
,,,,
35,34.8,11.5,
40,39.9,10.0,
50,49.9,8.0,
60,60.0,,error
)",
                {{{band, 11.9, 23.9, 8.05}, {band, 24.8, 29.8, 13.05}, {power, 34.8, 49.9, 400}},
                 Gap{10.9, 11.9},
                 {},
                 Gap{49.9, 60},
                 {}});
}

}  // namespace
}  // namespace plait::cli
