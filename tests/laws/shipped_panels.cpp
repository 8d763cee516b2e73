#include "shipped_panels.hpp"

#include "../support/source_files.hpp"

#include <plait/input/read_panel.hpp>

#include <catch2/catch.hpp>

namespace laws {

const std::vector<ShippedPanel>& shipped_panels() {
    static const std::vector<ShippedPanel> read_once = [] {
        std::vector<ShippedPanel> panels;
        for (const auto& path : support::toml_files("panels")) {
            const std::string file = path.filename().string();
            const auto read = plait::input::read_panel(support::text_of(path), file);
            INFO(file);
            REQUIRE(read.has_value());
            panels.push_back({file, read->panel});
        }
        REQUIRE_FALSE(panels.empty());
        return panels;
    }();
    return read_once;
}

}  // namespace laws
