#pragma once

#include <plait/model/setup.hpp>
#include <plait/physics/datasheet_fit.hpp>

#include <optional>
#include <vector>

namespace plait::study {

/// One panel at one cell temperature, 1000 W/m²: the datasheet's straight lines and the curve.
struct TemperatureRow {
    Celsius cell;
    double line_voc_v = 0.0;
    double line_vmp_v = 0.0;  ///< by γ − α
    double curve_voc_v = 0.0;
    physics::PowerPoint curve_maximum;
};

/// One panel at 25 °C in weaker light.
struct LightRow {
    double irradiance_w_per_m2 = 0.0;
    physics::PowerPoint maximum;
    double efficiency_ratio = 0.0;  ///< over that at STC
};

struct PanelSheet {
    Panel panel;
    physics::FittedPanel fitted;
    std::vector<TemperatureRow> temperatures;  ///< −40 … 80 °C
    std::vector<LightRow> light;               ///< 100 … 1000 W/m²
};

/// What the program makes of one datasheet.
[[nodiscard]] PanelSheet panel_sheet(const Panel& panel, CurveMethod method);

}  // namespace plait::study
