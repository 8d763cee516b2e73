#include <plait/study/panel_sheet.hpp>

#include <plait/base/constants.hpp>

#include <cassert>

namespace plait::study {

PanelSheet panel_sheet(const Panel& panel, CurveMethod method) {
    const std::optional<physics::FittedPanel> fitted = physics::fit_datasheet(panel, method);
    assert(fitted && "the reader refuses panels that no curve can be made of");
    PanelSheet sheet{panel, *fitted, {}, {}};
    for (double degc = -40.0; degc <= 80.0; degc += 10.0) {
        const Celsius cell{degc};
        const double above_k = cell - stc_cell;
        const physics::DiodeCurve curve = fitted->model.at({stc_irradiance_w_per_m2, cell});
        sheet.temperatures.push_back({cell, panel.voc_v * (1.0 + panel.voc_coefficient_per_k * above_k),
                                      panel.vmp_v * (1.0 + panel.vmp_coefficient_per_k() * above_k),
                                      curve.open_circuit_v(), curve.maximum_power()});
    }
    const double stc_power_w = fitted->model.at({}).maximum_power().power_w();
    for (const double irradiance : {100.0, 200.0, 400.0, 600.0, 800.0, 1000.0}) {
        const physics::PowerPoint maximum = fitted->model.at({irradiance, stc_cell}).maximum_power();
        sheet.light.push_back(
            {irradiance, maximum, maximum.power_w() / stc_power_w * stc_irradiance_w_per_m2 / irradiance});
    }
    return sheet;
}

}  // namespace plait::study
