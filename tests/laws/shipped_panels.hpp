// The panel files of the project, for tests that hold for any panel.
#pragma once

#include <plait/model/panel.hpp>

#include <string>
#include <vector>

namespace laws {

struct ShippedPanel {
    std::string file;
    plait::Panel panel;
};

/// Every file of panels/, read once. Fails the running test when one cannot be read or the folder is empty.
[[nodiscard]] const std::vector<ShippedPanel>& shipped_panels();

}  // namespace laws
