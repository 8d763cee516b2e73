// A world of files in memory, with one small set-up in round invented numbers in it.
#pragma once

#include "../support/source_files.hpp"
#include "../support/source_dir.hpp"

#include <plait/cli/run.hpp>

#include <map>
#include <string>

namespace plait::cli {

inline const std::string meadow_toml = R"(name = "Meadow 100"
technology = "mono"
cells_in_series = 36
bypass_diodes = 2
pmax = "100 W"
vmp = "20 V"
imp = "5 A"
voc = "24 V"
isc = "5.5 A"
isc_coefficient = "0.05 %/K"
voc_coefficient = "-0.3 %/K"
pmax_coefficient = "-0.4 %/K"
noct = "45 °C"
max_system_voltage = "600 V"
max_series_fuse = "15 A"
)";

/// Four panels of 24 V (27.24 V at −20 °C) on one input of 60 V: two in series are within, three are not.
inline const std::string setup_toml = R"(title = "Round numbers"

[[panel]]
id = "meadow"
file = "meadow.toml"
count = 4

[controller]
name = "Box"
type = "wide-range"

[[controller.input]]
name = "PV1"
max_voltage = "60 V"
tracking_min = "12 V"
tracking_max = "58 V"
start_voltage = "14 V"
max_current = "20 A"
max_power = "1000 W"
max_short_circuit_current = "30 A"
over_current = "clips"

[site]
coldest_air = "-20 °C"
coldest_basis = "record"
hottest_air = "35 °C"
hottest_basis = "record"
mounting = "open-rack"
code = "both"
)";

inline std::string with_wiring(const std::string& wiring) {
    return setup_toml + "\n[wiring]\nPV1 = \"" + wiring + "\"\n";
}

using Files = std::map<std::string, std::string>;

inline Files usual_files() {
    return {{"setup.toml", setup_toml},
            {"two.toml", with_wiring("2s1p")},
            {"three.toml", with_wiring("3s1p")},
            {"meadow.toml", meadow_toml}};
}

/// The same file by file, in small pieces.
inline ReadPieces pieces_of(const input::ReadFile& read_file) {
    return [read_file](const std::string& path, const std::function<bool(std::string_view)>& take) {
        const auto text = read_file(path);
        if (!text) return std::optional<std::string>(text.error());
        constexpr std::size_t size = 1000;
        for (std::size_t i = 0; i < text->size(); i += size) {
            if (!take(std::string_view(*text).substr(i, size))) break;
        }
        return std::optional<std::string>();
    };
}

inline World world_of(const Files& files, bool colour = false) {
    World world{[files](const std::string& path) -> Result<std::string, std::string> {
                    const auto found = files.find(path);
                    if (found == files.end()) return Failure{std::string("cannot be opened; check the path")};
                    return found->second;
                },
                colour};
    world.read_pieces = pieces_of(world.read_file);
    return world;
}

/// Runs on the usual files.
inline CommandResult result(const std::vector<std::string>& arguments, bool colour = false) {
    return run(arguments, world_of(usual_files(), colour));
}

/// The project's own files, by path from the source folder.
inline World source_world() {
    World world{[](const std::string& path) -> Result<std::string, std::string> {
                    const auto full = std::filesystem::path(support::source_dir()) / path;
                    if (!std::filesystem::is_regular_file(full)) return Failure{std::string("there is no such file")};
                    return support::text_of(full);
                },
                false};
    world.read_pieces = pieces_of(world.read_file);
    return world;
}

}  // namespace plait::cli
