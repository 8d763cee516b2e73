// A log of several pieces: whoever does the work, and in whatever order, the answer is the same to the last byte.
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include <cmath>
#include <string>
#include <thread>
#include <vector>

using namespace plait;
using namespace plait::cli;
using Catch::Matchers::Contains;

namespace {

// Five days, a row a half minute, with a cloud, a trip and shade: 600 KB.
std::string long_log() {
    std::string log = "time,volts,amps,irradiance,panel temperature [°C]\n";
    for (int i = 0; i < 5 * 2880; ++i) {
        const double hour = std::fmod(i / 120.0, 24.0);
        const double light = std::max(0.0, 950.0 * std::sin(3.14159265 * (hour - 6.0) / 12.0)) * (i % 97 < 30 ? 0.6 : 1.0);
        const double volts = light < 5.0 ? 0.0 : 40.0 + 0.6 * std::log(light / 1000.0) + 0.01 * (i % 7);
        double amps = 5.0 * light / 1000.0;
        if (hour > 11.0 && hour < 12.0 && i / 2880 == 1) amps = 0.0;
        if (hour > 14.0 && hour < 16.0) amps *= 0.7;
        log += fmt::format("{},{:.2f},{:.3f},{:.1f},{:.1f}\n", 30 * i, volts, amps, light, 25.0 + 0.001 * (i % 13));
    }
    return log;
}

World world_with(const std::string& log) {
    Files files = usual_files();
    files["log.csv"] = log;
    return world_of(files);
}

void by_threads(std::size_t n, const std::function<void(std::size_t)>& job) {
    std::vector<std::thread> all;
    for (std::size_t i = 0; i < n; ++i) all.emplace_back([&job, i] { job(i); });
    for (std::thread& t : all) t.join();
}

void backwards(std::size_t n, const std::function<void(std::size_t)>& job) {
    for (std::size_t i = n; i-- > 0;) job(i);
}

}  // namespace

TEST_CASE("explain: a log of several pieces says the same, whoever explains it") {
    const std::string log = long_log();
    REQUIRE(log.size() > 400000);
    World world = world_with(log);
    for (const char* form : {"--json", "--csv", "--full"}) {
        const std::vector<std::string> typed{"explain", "two.toml", "log.csv", form};
        world.in_parallel = {};
        const CommandResult alone = run(typed, world);
        REQUIRE(alone.exit_code == 0);
        std::size_t shared = 0;
        world.in_parallel = [&](std::size_t n, const std::function<void(std::size_t)>& job) {
            shared += n > 1 ? 1 : 0;
            by_threads(n, job);
        };
        CHECK(run(typed, world).out == alone.out);
        CHECK(shared > 0);
        world.in_parallel = backwards;
        CHECK(run(typed, world).out == alone.out);
    }
}

TEST_CASE("explain --csv: a long table is put out as it grows, a short one when it is whole") {
    const std::string log = long_log();
    World world = world_with(log);
    const std::vector<std::string> typed{"explain", "two.toml", "log.csv", "--csv"};
    const std::string whole = run(typed, world).out;
    REQUIRE(whole.size() > 3000000);
    std::string put;
    std::size_t most = 0;
    world.put = [&](std::string_view text) {
        put += text;
        most = std::max(most, text.size());
        return true;
    };
    CHECK(put + run(typed, world).out == whole);
    CHECK(put.size() > whole.size() / 2);
    CHECK(most < whole.size());

    put.clear();
    World small = world_with(log.substr(0, log.find("\n6000,") + 1));
    small.put = world.put;
    CHECK(run(typed, small).exit_code == 0);
    CHECK(put.empty());

    world.put = [](std::string_view) { return false; };
    const CommandResult full = run(typed, world);
    CHECK(full.exit_code == Exit::cannot_write);
    CHECK_THAT(full.err, Contains("disk full"));

    World wrong = world_with(log + "9000000,forty,5,1000,25\n");
    wrong.put = [&](std::string_view) { return true; };
    const CommandResult refused = run(typed, wrong);
    CHECK(refused.exit_code == Exit::bad_input);
    CHECK_THAT(refused.err, Contains("forty"));
}
