// Whole curves of mixed and shaded arrays against ngspice (Debian package ngspice, version 39.3), a general-purpose
// circuit simulator, on the netlists the program itself writes. Skipped where ngspice is not installed.
//
// What is left between the two is the simulator's diode below −3·n·Vt, a rational function where the exponential should
// be: at most 5 % of a saturation current (6e-7 of Isc at 85 °C for a bypass diode, so 3e-8 of Isc).
#include "../support/arrays.hpp"

#include <plait/output/netlist.hpp>
#include <plait/physics/power_extremes.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

using namespace plait;
using physics::ArrayCurve;
using physics::Condition;
using physics::PowerPoint;

namespace {

struct Case {
    std::string name;
    InputWiring wiring;
    Condition condition;
    physics::WireResistance wires{};
};

std::vector<Case> hand_picked() {
    using test::string_of;
    std::vector<Case> cases;
    const auto add = [&](std::string name, std::vector<SeriesString> strings, Condition condition = {}) {
        cases.push_back({std::move(name), {std::move(strings)}, condition, {}});
    };
    add("one panel", {string_of({1})});
    add("equal strings", {string_of({1, 1}), string_of({1, 1})}, {800.0, {60.0}});
    add("unlike panels in series", {string_of({0, 1})});
    add("five kinds in series", {string_of({0, 1, 2, 3, 4})}, {1000.0, {-20.0}});
    add("unlike strings in parallel", {string_of({1, 1}), string_of({2, 2})});
    add("reverse current: three panels against two", {string_of({1, 1, 1}), string_of({1, 1})});
    add("without bypass diodes", {string_of({3, 3, 3})});
    add("no bypass against bypass", {string_of({3, 0})});

    SeriesString one_dark = string_of({1, 1, 1});
    one_dark.panels[1].groups = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 0.0}};
    add("one group in the dark", {one_dark});
    SeriesString soft = string_of({1, 1, 1});
    soft.panels[0].groups = {{0.3, 10.0}, {0.6, 5.0}, {0.9, 0.0}};
    add("three depths of shade, warmer", {soft}, {950.0, {50.0}});
    add("shaded string beside a clear one", {soft, string_of({1, 1, 1})});
    SeriesString blocked = soft;
    blocked.blocking_diode = true;
    SeriesString clear_blocked = string_of({1, 1, 1});
    clear_blocked.blocking_diode = true;
    add("the same with blocking diodes", {blocked, clear_blocked});
    SeriesString weak = string_of({0});
    weak.blocking_diode = true;
    add("blocking diode far in reverse", {string_of({1, 1, 1}), weak});
    SeriesString bare_shaded = string_of({3, 3});
    bare_shaded.panels[0].groups = {{0.2, 0.0}};
    add("shade without bypass diodes", {bare_shaded});
    SeriesString ideal_shaded = string_of({5, 5});
    ideal_shaded.panels[0].groups = {{0.5, 0.0}, {0.5, 0.0}, {0.8, 0.0}};
    add("no shunt, no series resistance", {ideal_shaded});
    add("weak light", {string_of({0, 1}), string_of({1, 0})}, {40.0, {15.0}});
    add("unlike strings behind unlike wires", {string_of({1, 1}), string_of({2, 2})});
    cases.back().wires = {{0.8, 0.3}, 0.5};
    add("shade behind a long trunk", {soft, string_of({1, 1, 1})});
    cases.back().wires = {{}, 1.2};
    add("blocked, shaded, wired", {blocked, clear_blocked}, {850.0, {40.0}});
    cases.back().wires = {{0.4, 0.4}, 0.2};

    // Groups shaded in part: the breakdown of the shaded cells is a source of its own in the netlist.
    const auto cells = [](std::size_t kind, std::vector<GroupState> groups) {
        SeriesString s = string_of({kind});
        s.panels[0].groups = std::move(groups);
        return s;
    };
    add("a leaf: one cell of three groups in a tenth of the light", {cells(1, {{1.0, 0.0}, {1.0, 0.0, 1, 0.1}, {1.0, 0.0}})});
    add("three cells of a group in a fifth of the light", {cells(1, {{1.0, 0.0}, {1.0, 0.0, 3, 0.2}, {1.0, 0.0}})});
    add("twelve cells of a group in half the light", {cells(2, {{1.0, 0.0, 12, 0.5}, {1.0, 0.0}, {1.0, 0.0}})}, {900.0, {55.0}});
    add("nearly a whole group in the dark", {cells(1, {{1.0, 0.0, 19, 0.02}, {1.0, 0.0}, {1.0, 0.0}})});
    add("cells near breakdown without a bypass diode", {cells(3, {{1.0, 0.0, 2, 0.1}})});
    SeriesString leaf = string_of({1, 1, 1});
    leaf.panels[1].groups = {{1.0, 0.0, 2, 0.15}, {0.7, 5.0}, {0.7, 5.0, 5, 0.3}};
    add("a string with a leaf and a shadow, beside a clear one", {leaf, string_of({1, 1, 1})}, {950.0, {45.0}});
    add("half cells: some of one row", {cells(6, {{1.0, 0.0}, {1.0, 0.0, 4, 0.1}, {1.0, 0.0}})});
    add("half cells: one row and some of the other", {cells(6, {{1.0, 0.0}, {1.0, 0.0, 24, 0.1}, {1.0, 0.0}})});
    return cases;
}

std::vector<Case> all_cases() {
    std::vector<Case> cases = hand_picked();
    test::Dice dice(39);
    test::Dice ohms(40);
    // Without the ideal panel and without full darkness, where no shunt is left: over a flat stretch of current such a
    // group's own voltage is below what double precision can tell, and ngspice finds no state to settle in.
    std::vector<physics::PanelPhysics> kinds = test::six_kinds();
    kinds.pop_back();
    for (int i = 0; i < 60; ++i) {
        InputWiring wiring = test::random_wiring(dice, kinds, 4);
        for (SeriesString& string : wiring.strings) {
            for (PanelPlace& place : string.panels) {
                for (GroupState& group : place.groups) group.light_ratio = std::max(group.light_ratio, 0.02);
            }
        }
        const Condition condition = test::random_condition(dice);
        physics::WireResistance wires;
        if (i % 3 == 0) {  // a third of them with cables
            for (std::size_t s = 0; s < wiring.strings.size(); ++s) wires.string_ohm.push_back(ohms.between(0.02, 1.5));
            wires.trunk_ohm = ohms.between(0.02, 1.0);
        }
        cases.push_back({"random " + std::to_string(i), std::move(wiring), condition, std::move(wires)});
    }
    test::Dice leaves(41);
    for (int i = 0; i < 30; ++i) {  // and cells shaded one by one
        InputWiring wiring = test::shaded_in_part(test::random_wiring(leaves, kinds, 2), leaves, kinds);
        for (SeriesString& string : wiring.strings) {
            for (PanelPlace& place : string.panels) {
                for (GroupState& group : place.groups) {
                    group.light_ratio = std::max(group.light_ratio, 0.05);
                    group.shaded_light_ratio = std::max(group.shaded_light_ratio, 0.02);
                }
            }
        }
        cases.push_back({"leaves " + std::to_string(i), std::move(wiring), test::random_condition(leaves)});
    }
    return cases;
}

/// The curves ngspice printed, in order.
std::vector<std::vector<PowerPoint>> read_curves(std::istream& in) {
    std::vector<std::vector<PowerPoint>> curves;
    std::string line;
    while (std::getline(in, line)) {
        std::istringstream row(line);
        std::size_t index = 0;
        PowerPoint p;
        if (!(row >> index >> p.voltage_v >> p.current_a)) continue;
        if (index == 0) curves.emplace_back();
        curves.back().push_back(p);
    }
    return curves;
}

}  // namespace

TEST_CASE("mixed and shaded arrays agree with ngspice over the whole curve") {
    if (std::system("ngspice --version >/dev/null 2>&1") != 0) {
        WARN("ngspice is not installed: skipped. Install it with: apt-get install ngspice");
        return;
    }
    std::vector<physics::PanelPhysics> kinds = test::six_kinds();
    kinds.push_back(test::silicon_panel(54, 13.4, 1.05, 0.18, 400.0, 3));
    kinds.back().half_cut = true;
    std::vector<std::string> names(test::six_names.begin(), test::six_names.end());
    names.emplace_back("half-cut");
    const std::vector<Case> cases = all_cases();
    REQUIRE(cases.size() >= 60);
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("plait-ngspice-" + std::to_string(std::random_device{}()));
    std::filesystem::create_directories(folder);

    // Two sweeps for each case, the whole curve and the neighbourhood of the best point, all in one process.
    std::ofstream all(folder / "all.cir");
    all << "* all cases\n.control\n";
    int written = 0;
    const auto write = [&](const Case& c, const output::VoltageSweep& sweep) {
        const std::filesystem::path path = folder / ("case" + std::to_string(written++) + ".cir");
        std::ofstream(path) << output::netlist(c.wiring, kinds, names, c.condition, sweep, c.wires);
        all << "source " << path.string() << "\ndestroy all\nremcirc\n";
    };
    for (const Case& c : cases) {
        const ArrayCurve array(c.wiring, kinds, c.condition, c.wires);
        const double open_v = array.open_circuit_v();
        const double best_v = array.maximum_power().voltage_v;
        write(c, {0.0, 1.02 * open_v, open_v / 150.0});
        write(c, {best_v * 0.999, best_v * 1.001, best_v * 0.0001});
    }
    all << "quit\n.endc\n.end\n";
    all.close();
    const std::string command = "ngspice -b " + (folder / "all.cir").string() + " >" + (folder / "out.txt").string() +
                                " 2>" + (folder / "err.txt").string();
    const int status = std::system(command.c_str());
    INFO("ngspice ended with " << status << "; its words are in " << folder.string());
    std::ifstream out(folder / "out.txt");
    const std::vector<std::vector<PowerPoint>> curves = read_curves(out);
    REQUIRE(curves.size() == 2 * cases.size());

    double worst_ratio = 0.0;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        CAPTURE(cases[i].name, i);
        const ArrayCurve array(cases[i].wiring, kinds, cases[i].condition, cases[i].wires);
        const double isc_a = array.short_circuit_a();
        const std::vector<PowerPoint>& whole = curves[2 * i];
        REQUIRE(whole.size() >= 150);
        double worst_a = 0.0;
        double best_seen_w = 0.0;
        for (const PowerPoint& p : whole) {
            worst_a = std::max(worst_a, std::abs(array.current_a(p.voltage_v) - p.current_a));
            best_seen_w = std::max(best_seen_w, p.power_w());
        }
        CHECK(worst_a <= 1e-6 * isc_a);
        worst_ratio = std::max(worst_ratio, worst_a / isc_a);

        double best_w = 0.0;
        REQUIRE(curves[2 * i + 1].size() >= 19);
        for (const PowerPoint& p : curves[2 * i + 1]) best_w = std::max(best_w, p.power_w());
        const double ours_w = array.maximum_power().power_w();
        CHECK(ours_w == Approx(best_w).epsilon(1e-6));
        CHECK(best_seen_w <= ours_w * (1.0 + 1e-6));
    }
    WARN("largest difference over " << cases.size() << " arrays: " << worst_ratio << " of Isc");
    std::filesystem::remove_all(folder);
}
