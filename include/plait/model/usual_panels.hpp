// Panels of the usual classes, for whoever has an input and no panel yet. Their figures are invented, typical of what
// datasheets of the class print: common practice, no source.
#pragma once

#include <plait/model/catalogue.hpp>

#include <string>
#include <vector>

namespace plait {

/// The class of a panel as the trade names it: "60-cell (120 half-cut)". Every figure is listed as assumed.
struct UsualPanel {
    std::string title;
    CataloguePanel panel;
};

/// From the smallest voltage to the largest, the foldable ones last.
[[nodiscard]] const std::vector<UsualPanel>& usual_panels();

}  // namespace plait
