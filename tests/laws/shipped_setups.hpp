// Every set-up file of docs/demo, read as anybody's would be.
#pragma once

#include "../support/source_files.hpp"

#include <plait/input/read_setup.hpp>

#include <catch2/catch.hpp>

#include <string>
#include <utility>
#include <vector>

namespace plait::test {

struct ShippedSetup {
    std::string file;
    Setup setup;
};

[[nodiscard]] inline std::vector<ShippedSetup> shipped_setups() {
    std::vector<ShippedSetup> all;
    for (const auto& path : support::toml_files("docs/demo")) {
        const auto read_file = [](const std::string& other) -> Result<std::string, std::string> {
            const std::string text = support::text_of(other);
            if (text.empty()) return Failure{std::string("there is no such file")};
            return text;
        };
        auto setup = input::read_setup(support::text_of(path), path.string(), read_file);
        INFO(path.string());
        REQUIRE(setup);
        all.push_back({path.filename().string(), std::move(*setup)});
    }
    return all;
}

/// The file's own wiring, and a few usual ones on the first input.
[[nodiscard]] inline std::vector<ArrayPlan> usual_plans(const Setup& setup) {
    std::vector<ArrayPlan> plans;
    if (setup.wiring) plans.push_back(*setup.wiring);
    for (const auto& [in_series, in_parallel] : {std::pair{1, 1}, {2, 1}, {1, 2}, {2, 2}, {1, 3}, {3, 3}}) {
        plans.emplace_back(setup.controller.inputs.size()).front() = written_out({0, in_series, in_parallel});
    }
    return plans;
}

}  // namespace plait::test
