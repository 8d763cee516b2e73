#include "report/curve_doubts.hpp"
#include "report/fit_words.hpp"
#include "json_parts.hpp"

#include <plait/study/panel_sheet.hpp>

namespace plait::output {

std::string panel_json(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                       const std::vector<std::string>& doubts) {
    const Panel& p = sheet.panel;
    const physics::FittedPanel& fit = sheet.fitted;
    const physics::DiodeModel& m = fit.model;
    Json j = head("panel");
    j["panel"] = {{"name", p.name},
                  {"technology", plait::name_of(p.technology).key},
                  {"cells_in_series", p.cells_in_series},
                  {"half_cut", p.half_cut},
                  {"bypass_diodes", p.bypass_diodes},
                  {"pmax_w", p.pmax_w},
                  {"vmp_v", p.vmp_v},
                  {"imp_a", p.imp_a},
                  {"voc_v", p.voc_v},
                  {"isc_a", p.isc_a},
                  {"isc_coefficient_per_k", p.isc_coefficient_per_k},
                  {"voc_coefficient_per_k", p.voc_coefficient_per_k},
                  {"pmax_coefficient_per_k", p.pmax_coefficient_per_k},
                  {"vmp_coefficient_per_k", p.vmp_coefficient_per_k()},
                  {"nominal_temperature_degc", p.nominal_temperature.degc},
                  {"max_system_voltage_v", p.max_system_voltage_v},
                  {"max_series_fuse_a", p.max_series_fuse_a},
                  {"voc_tolerance_ratio", p.voc_tolerance_ratio},
                  {"isc_tolerance_ratio", p.isc_tolerance_ratio},
                  {"bifaciality_ratio", maybe(p.bifaciality_ratio)},
                  {"fill_factor", number(p.fill_factor())}};
    j["curve"] = {{"form", name_of(fit.form)},
                  {"ideality", number(fit.ideality)},
                  {"light_current_a", number(m.stc.light_current_a)},
                  {"saturation_current_a", number(m.stc.saturation_current_a)},
                  {"ideality_voltage_v", number(m.stc.ideality_v)},
                  {"series_resistance_ohm", number(m.stc.series_resistance_ohm)},
                  {"shunt_resistance_ohm", number(1.0 / m.stc.shunt_conductance_s)},
                  {"series_resistance_per_k", number(m.series_resistance_per_k)},
                  {"ideality_per_k", number(m.ideality_per_k)},
                  {"shunt_light_power", number(m.shunt_light_power)},
                  {"saturation_light_power", number(m.saturation_light_power)}};
    j["residuals"] = {{"isc_ratio", number(fit.residuals.isc_ratio)},
                      {"voc_ratio", number(fit.residuals.voc_ratio)},
                      {"vmp_ratio", number(fit.residuals.vmp_ratio)},
                      {"imp_ratio", number(fit.residuals.imp_ratio)},
                      {"pmax_ratio", number(fit.residuals.pmax_ratio)},
                      {"voc_coefficient_per_k", number(fit.voc_coefficient_residual_per_k)},
                      {"pmax_coefficient_per_k", number(fit.pmax_coefficient_residual_per_k)},
                      {"pmax_coefficient", word_of(fit.pmax_coefficient)},
                      {"weak_light", word_of(fit.weak_light)},
                      {"weak_light_ratio", number(fit.weak_light_ratio)},
                      {"weak_light_stated", fit.weak_light_stated}};
    j["temperatures"] = Json::array();
    for (const study::TemperatureRow& r : sheet.temperatures) {
        j["temperatures"].push_back({{"cell_degc", r.cell.degc},
                                     {"line_voc_v", number(r.line_voc_v)},
                                     {"line_vmp_v", number(r.line_vmp_v)},
                                     {"curve_voc_v", number(r.curve_voc_v)},
                                     {"curve_maximum", power_point(r.curve_maximum)}});
    }
    j["light"] = Json::array();
    for (const study::LightRow& r : sheet.light) {
        j["light"].push_back({{"irradiance_w_per_m2", r.irradiance_w_per_m2},
                              {"maximum", power_point(r.maximum)},
                              {"efficiency_ratio", number(r.efficiency_ratio)}});
    }
    j["assumptions"] = assumptions_json(assumptions);
    std::vector<std::string> all = doubts;
    for (const std::string& doubt : curve_doubts(p, fit)) all.push_back(doubt);
    j["doubts"] = all;
    return printed(j);
}

}  // namespace plait::output
