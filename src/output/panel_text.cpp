#include <plait/output/text.hpp>

#include "curve_doubts.hpp"
#include "fit_words.hpp"
#include "style.hpp"

namespace plait::output {
namespace {

std::string percent(double ratio, int digits = 2) { return signed_number(ratio * 100.0, digits) + " %"; }

}  // namespace

std::string panel_text(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                       const std::vector<std::string>& doubts, Colour colour) {
    const Panel& p = sheet.panel;
    const physics::FittedPanel& fit = sheet.fitted;
    const physics::DiodeModel& m = fit.model;
    std::string out = bold(p.name, colour) + "\n";
    out += fmt::format("{}, {} cells in series{}, {} bypass diodes\n", plait::name_of(p.technology).title,
                       p.cells_in_series, p.half_cut ? " (half-cut)" : "", p.bypass_diodes);
    out += fmt::format("Pmax {}, Vmp {}, Imp {}, Voc {}, Isc {}\n", watts(p.pmax_w), volts(p.vmp_v), amps(p.imp_a),
                       volts(p.voc_v), amps(p.isc_a));
    out += fmt::format(
        "Fill factor {:.3f}, {:.3f} V per cell, coefficients: Isc {}/K, Voc {}/K, Pmax {}/K, Vmp {}/K (γ − α)\n",
        p.vmp_v * p.imp_a / (p.voc_v * p.isc_a), p.voc_v / p.cells_in_series, percent(p.isc_coefficient_per_k, 3),
        percent(p.voc_coefficient_per_k, 3), percent(p.pmax_coefficient_per_k, 3),
        percent(p.vmp_coefficient_per_k(), 3));
    out += doubts.empty() ? "The figures agree with each other and with the technology.\n" : "";

    out += "\n" + bold("The curve", colour) + "\n";
    out += "  " + wrapped(std::string(sentence_of(fit.form)), 2) + "\n";
    out += fmt::format(
        "  light current {:.4f} A, saturation current {:.3e} A, ideality {:.3f}, Rs {:.4f} Ω, Rsh {}\n",
        m.stc.light_current_a, m.stc.saturation_current_a, fit.ideality, m.stc.series_resistance_ohm,
        m.stc.shunt_conductance_s > 0.0 ? fmt::format("{:.1f} Ω", 1.0 / m.stc.shunt_conductance_s) : "none");
    out += fmt::format("  off the datasheet by: Isc {}, Voc {}, Vmp {}, Imp {}, Pmax {}\n",
                       percent(fit.residuals.isc_ratio, 4), percent(fit.residuals.voc_ratio, 4),
                       percent(fit.residuals.vmp_ratio, 4), percent(fit.residuals.imp_ratio, 4),
                       percent(fit.residuals.pmax_ratio, 4));
    out += fmt::format("  Pmax coefficient: {}; weak light: {} ({:.1f} % at 200 W/m², {})\n",
                       word_of(fit.pmax_coefficient), word_of(fit.weak_light), fit.weak_light_ratio * 100.0,
                       fit.weak_light_stated ? "stated" : "usual for the technology");

    out += "\n" + bold("Over cell temperature, 1000 W/m²", colour) + "\n";
    out += fmt::format("  {}{}{}{}{}{}\n", padded_left("cells", 8), padded_left("Voc line", 12),
                       padded_left("Voc curve", 12), padded_left("Vmp line", 12), padded_left("Vmp curve", 12),
                       padded_left("Pmax curve", 12));
    for (const study::TemperatureRow& r : sheet.temperatures) {
        out += fmt::format("  {}{}{}{}{}{}\n", padded_left(degrees(r.cell), 8), padded_left(volts(r.line_voc_v), 12),
                           padded_left(volts(r.curve_voc_v), 12), padded_left(volts(r.line_vmp_v), 12),
                           padded_left(volts(r.curve_maximum.voltage_v), 12),
                           padded_left(watts(r.curve_maximum.power_w()), 12));
    }
    out += "  Limits are checked with the lines, watts are worked out with the curve.\n";
    out += "\n" + bold("Over light, 25 °C cells", colour) + "\n";
    out += fmt::format("  {}{}{}{}{}\n", padded_left("light", 11), padded_left("Vmp", 12), padded_left("Imp", 12),
                       padded_left("Pmax", 12), padded_left("efficiency", 12));
    for (const study::LightRow& r : sheet.light) {
        out += fmt::format("  {}{}{}{}{}\n", padded_left(fmt::format("{:.0f} W/m²", r.irradiance_w_per_m2), 11),
                           padded_left(volts(r.maximum.voltage_v), 12), padded_left(amps(r.maximum.current_a), 12),
                           padded_left(watts(r.maximum.power_w()), 12),
                           padded_left(fmt::format("{:.1f} %", r.efficiency_ratio * 100.0), 12));
    }
    out += assumptions_text(assumptions, colour);
    std::vector<std::string> all = doubts;
    for (const std::string& doubt : curve_doubts(p, fit)) all.push_back(doubt);
    out += doubts_text(all, colour);
    return out;
}

}  // namespace plait::output
