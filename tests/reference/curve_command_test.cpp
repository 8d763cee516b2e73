// From the command line to ngspice and back: the circuit that `plait curve --netlist` writes, solved by ngspice (Debian
// package ngspice, version 39.3), against the currents that `plait curve --csv --at` gives at the voltages ngspice
// printed. Skipped where ngspice is not installed.
#include "../cli/memory_world.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <random>
#include <sstream>
#include <vector>

using namespace plait;

namespace {

struct Point {
    double voltage_v = 0.0;
    double current_a = 0.0;
    std::string voltage_text;
};

std::vector<Point> solved_by_ngspice(const std::string& netlist) {
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("plait-curve-" + std::to_string(std::random_device{}()));
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "array.cir") << netlist;
    const std::string command = "ngspice -b " + (folder / "array.cir").string() + " >" + (folder / "out.txt").string() +
                                " 2>" + (folder / "err.txt").string();
    [[maybe_unused]] const int status = std::system(command.c_str());
    std::ifstream in(folder / "out.txt");
    std::vector<Point> points;
    for (std::string line; std::getline(in, line);) {
        std::istringstream row(line);
        std::size_t index = 0;
        Point p;
        if (!(row >> index >> p.voltage_text >> p.current_a)) continue;
        p.voltage_v = std::strtod(p.voltage_text.c_str(), nullptr);
        points.push_back(p);
    }
    std::filesystem::remove_all(folder);
    return points;
}

std::vector<Point> solved_by_plait(const std::string& csv) {
    std::istringstream in(csv);
    std::vector<Point> points;
    std::string line;
    std::getline(in, line);  // the remark with the verdict
    std::getline(in, line);  // the header
    while (std::getline(in, line)) {
        std::istringstream row(line);
        std::string name;
        std::string current;
        Point p;
        std::getline(row, name, ',');
        std::getline(row, p.voltage_text, ',');
        std::getline(row, current, ',');
        p.voltage_v = std::strtod(p.voltage_text.c_str(), nullptr);
        p.current_a = std::strtod(current.c_str(), nullptr);
        points.push_back(p);
    }
    return points;
}

}  // namespace

TEST_CASE("the command's circuit, solved by ngspice, is the command's curve") {
    if (std::system("ngspice --version >/dev/null 2>&1") != 0) {
        WARN("ngspice is not installed: skipped. Install it with: apt-get install ngspice");
        return;
    }
    const std::vector<std::vector<std::string>> wirings{
        {"docs/demo/shaded.toml"},
        {"docs/demo/carport.toml"},
        {"docs/demo/shaded.toml", "--when", "hot-bright"},
        {"docs/demo/shaded.toml", "--sun", "300", "--cell", "14 °F"},
        {"docs/demo/mixed.toml", "--input", "PV2", "--when", "warm-bright"},
        {"docs/demo/mixed.toml", "--input", "PV1", "--when", "weak-light"},
        {"docs/demo/mixed.toml", "--wiring", "PV1=roof + folding + flexible", "--when", "cold-bright"},
        {"docs/demo/mixed.toml", "--wiring", "PV1=2 roof | 2 folding | 3 flexible", "--sun", "800", "--air", "30 °C"}};
    const cli::World world = cli::source_world();
    double worst_ratio = 0.0;
    for (std::vector<std::string> arguments : wirings) {
        arguments.insert(arguments.begin(), "curve");
        CAPTURE(arguments);
        const auto with = [&](const std::vector<std::string>& more) {
            std::vector<std::string> all = arguments;
            all.insert(all.end(), more.begin(), more.end());
            const cli::CommandResult r = cli::run(all, world);
            INFO(r.err);
            REQUIRE(r.exit_code == 0);
            return r.out;
        };
        const std::vector<Point> theirs = solved_by_ngspice(with({"--netlist", "--points", "161"}));
        REQUIRE(theirs.size() == 161);
        std::string asked;
        for (const Point& p : theirs) asked += (asked.empty() ? "" : ",") + p.voltage_text;
        const std::vector<Point> ours = solved_by_plait(with({"--csv", "--at", asked}));
        REQUIRE(ours.size() == theirs.size());
        const double short_circuit_a = ours.front().current_a;
        REQUIRE(short_circuit_a > 0.0);
        CHECK(std::abs(theirs.back().current_a) < 1e-6 * short_circuit_a);  // the sweep ends at open circuit
        for (std::size_t i = 0; i < ours.size(); ++i) {
            CAPTURE(ours[i].voltage_v);
            CHECK(ours[i].voltage_v == theirs[i].voltage_v);
            CHECK(std::abs(ours[i].current_a - theirs[i].current_a) <= 1e-6 * short_circuit_a);
            worst_ratio = std::max(worst_ratio, std::abs(ours[i].current_a - theirs[i].current_a) / short_circuit_a);
        }
    }
    WARN("largest difference over " << wirings.size() << " wirings: " << worst_ratio << " of Isc");
}
