// What the tests of this layer share: files from the tree, and failures that print every complaint.
#pragma once

#include "../support/source_dir.hpp"

#include <plait/base/diagnostic.hpp>
#include <plait/base/result.hpp>
#include <plait/input/read_controller.hpp>
#include <plait/input/read_panel.hpp>
#include <plait/input/read_setup.hpp>
#include <plait/model/assumption.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace plait::input::test {

inline const std::string source_dir = support::source_dir();

inline Result<std::string, std::string> from_disk(const std::string& path) {
    std::ifstream stream(path, std::ios::binary);
    if (!stream) return Failure{std::string("no such file")};
    std::stringstream text;
    text << stream.rdbuf();
    return text.str();
}

inline Result<std::string, std::string> no_files(const std::string& path) {
    return Failure{"no file " + path + " in this test"};
}

inline std::string listed(const Diagnostics& complaints) {
    std::string text;
    for (const Diagnostic& d : complaints) {
        text += d.file + ":" + std::to_string(d.line) + ":" + std::to_string(d.column) + ": " + d.message + "\n";
    }
    return text;
}

inline bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

inline PanelFile panel_of(const std::string& text) {
    auto panel = read_panel(text, "panel.toml");
    INFO((panel ? "" : listed(panel.error())));
    REQUIRE(panel);
    return *std::move(panel);
}

inline ControllerFile controller_of(const std::string& text) {
    auto controller = read_controller(text, "controller.toml");
    INFO((controller ? "" : listed(controller.error())));
    REQUIRE(controller);
    return *std::move(controller);
}

inline Setup setup_of(const std::string& text, const ReadFile& read_file = no_files) {
    auto setup = read_setup(text, "set-up.toml", read_file);
    INFO((setup ? "" : listed(setup.error())));
    REQUIRE(setup);
    return *std::move(setup);
}

inline std::string complaints_about_panel(const std::string& text) {
    const auto panel = read_panel(text, "panel.toml");
    REQUIRE_FALSE(panel);
    return listed(panel.error());
}

inline std::string complaints_about_setup(const std::string& text, const ReadFile& read_file = no_files) {
    const auto setup = read_setup(text, "set-up.toml", read_file);
    REQUIRE_FALSE(setup);
    return listed(setup.error());
}

/// The one assumption about a quantity.
inline Assumption assumed(const std::vector<Assumption>& assumptions, Quantity quantity) {
    std::vector<Assumption> found;
    std::copy_if(assumptions.begin(), assumptions.end(), std::back_inserter(found),
                 [&](const Assumption& a) { return a.quantity == quantity; });
    REQUIRE(found.size() == 1);
    return found.front();
}

inline bool is_assumed(const std::vector<Assumption>& assumptions, Quantity quantity) {
    return std::any_of(assumptions.begin(), assumptions.end(),
                       [&](const Assumption& a) { return a.quantity == quantity; });
}

/// The lines of a text that begin with "# <word>: ", without that.
inline std::vector<std::string> tagged_lines(const std::string& text, const std::string& word) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    const std::string tag = "# " + word + ": ";
    for (std::string line; std::getline(stream, line);) {
        if (line.compare(0, tag.size(), tag) == 0) lines.push_back(line.substr(tag.size()));
    }
    return lines;
}

/// A sound panel with some of its lines replaced, and left out where the new value is empty.
inline std::string panel_with(const std::map<std::string, std::string>& changes) {
    const std::vector<std::pair<std::string, std::string>> sound{{"name", "\"Meadow 100\""},
                                                                 {"technology", "\"mono\""},
                                                                 {"cells_in_series", "36"},
                                                                 {"bypass_diodes", "2"},
                                                                 {"pmax", "\"100 W\""},
                                                                 {"vmp", "\"18.0 V\""},
                                                                 {"imp", "\"5.56 A\""},
                                                                 {"voc", "\"21.6 V\""},
                                                                 {"isc", "\"6.0 A\""},
                                                                 {"isc_coefficient", "\"0.05 %/K\""},
                                                                 {"voc_coefficient", "\"-0.30 %/K\""},
                                                                 {"pmax_coefficient", "\"-0.42 %/K\""}};
    std::string text;
    std::map<std::string, std::string> left = changes;
    for (const auto& [key, value] : sound) {
        const auto change = left.find(key);
        const std::string& written = change == left.end() ? value : change->second;
        if (!written.empty()) text += key + " = " + written + "\n";
        if (change != left.end()) left.erase(change);
    }
    for (const auto& [key, value] : left) text += key + " = " + value + "\n";
    return text;
}

}  // namespace plait::input::test
