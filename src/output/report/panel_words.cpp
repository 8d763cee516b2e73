#include "panel_words.hpp"

#include "curve_doubts.hpp"
#include "fit_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {


}  // namespace

std::vector<std::string> datasheet_lines(const Panel& p) {
    return {fmt::format("{}, {} cells in series{}, {} bypass diodes", plait::name_of(p.technology).title,
                        p.cells_in_series, p.half_cut ? " (half-cut)" : "", p.bypass_diodes),
            fmt::format("Pmax {}, Vmp {}, Imp {}, Voc {}, Isc {}", watts(p.pmax_w), volts(p.vmp_v), amps(p.imp_a),
                        volts(p.voc_v), amps(p.isc_a)),
            fmt::format(
                "Fill factor {:.3f}, {:.3f} V per cell, coefficients: Isc {}/K, Voc {}/K, Pmax {}/K, Vmp {}/K (γ − α)",
                p.fill_factor(), p.voc_per_cell_v(),
                signed_per_cent(p.isc_coefficient_per_k, 3), signed_per_cent(p.voc_coefficient_per_k, 3),
                signed_per_cent(p.pmax_coefficient_per_k, 3), signed_per_cent(p.vmp_coefficient_per_k(), 3))};
}

std::vector<std::string> curve_lines(const study::PanelSheet& sheet) {
    const physics::FittedPanel& fit = sheet.fitted;
    const physics::DiodeModel& m = fit.model;
    return {std::string(sentence_of(fit.form)),
            fmt::format("light current {:.4f} A, saturation current {:.3e} A, ideality {:.3f}, Rs {:.4f} Ω, Rsh {}",
                        m.stc.light_current_a, m.stc.saturation_current_a, fit.ideality, m.stc.series_resistance_ohm,
                        m.stc.shunt_conductance_s > 0.0 ? fmt::format("{:.1f} Ω", 1.0 / m.stc.shunt_conductance_s)
                                                        : std::string("none")),
            fmt::format("off the datasheet by: Isc {}, Voc {}, Vmp {}, Imp {}, Pmax {}",
                        signed_per_cent(fit.residuals.isc_ratio, 4), signed_per_cent(fit.residuals.voc_ratio, 4),
                        signed_per_cent(fit.residuals.vmp_ratio, 4), signed_per_cent(fit.residuals.imp_ratio, 4),
                        signed_per_cent(fit.residuals.pmax_ratio, 4)),
            fmt::format("Pmax coefficient: {}; weak light: {} ({} at 200 W/m², {})",
                        word_of(fit.pmax_coefficient), word_of(fit.weak_light), per_cent(fit.weak_light_ratio),
                        fit.weak_light_stated ? "stated" : "usual for the technology")};
}

std::vector<std::string> panel_doubts(const study::PanelSheet& sheet, const std::vector<std::string>& doubts) {
    std::vector<std::string> all = doubts;
    for (std::string& doubt : curve_doubts(sheet.panel, sheet.fitted)) all.push_back(std::move(doubt));
    return all;
}

Table temperature_table(const study::PanelSheet& sheet) {
    Table table = table_of("Over cell temperature, 1000 W/m²", {"#cells", "#Voc line", "#Voc curve", "#Vmp line", "#Vmp curve", "#Pmax curve"});
    for (const study::TemperatureRow& r : sheet.temperatures) {
        table.rows.push_back({{degrees(r.cell), volts(r.line_voc_v), volts(r.curve_voc_v), volts(r.line_vmp_v),
                               volts(r.curve_maximum.voltage_v), watts(r.curve_maximum.power_w())}});
    }
    return table;
}

Table light_table(const study::PanelSheet& sheet) {
    Table table = table_of("Over light, 25 °C cells", {"#light", "#Vmp", "#Imp", "#Pmax", "#efficiency"});
    for (const study::LightRow& r : sheet.light) {
        table.rows.push_back(
            {{fmt::format("{:.0f} W/m²", r.irradiance_w_per_m2), volts(r.maximum.voltage_v), amps(r.maximum.current_a),
              watts(r.maximum.power_w()), per_cent(r.efficiency_ratio)}});
    }
    return table;
}

}  // namespace plait::output
