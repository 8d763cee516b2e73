#include "figure_record.hpp"

#include <array>
#include <cmath>

namespace plait::study {
namespace {

constexpr std::string_view judgement = "judgement: the span of what is sold";
constexpr std::string_view by_technology = "what datasheets of the technology print, common practice, no source";
constexpr std::string_view label = "on the label at the panel's back";
constexpr std::string_view panel_sheet = "in the panel's datasheet";
constexpr std::string_view coefficients = "in the panel's datasheet, under temperature coefficients";
constexpr std::string_view tolerances = "in the panel's datasheet or on its label, behind Pmax, Voc and Isc";

// Of a figure worked out from two stated ones only their rounding is open.
constexpr double rounding_ratio = 0.03;

// Neither Vmp nor Imp is stated, only their product: Voc bounds the one, Isc the other, where they are stated.
Ends voltage_at_work(const Subject& s) {
    const Panel& p = s.panel();
    const Limits of_voc = s.ranges().usual_vmp_over_voc;
    const Limits of_isc = s.ranges().usual_imp_over_isc;
    const Ends rounding = at_most(around(p.vmp_v, rounding_ratio), 0.97 * p.voc_v);
    const Ends by_voc{p.voc_v * of_voc.low, p.voc_v * of_voc.high};
    const Ends by_isc{p.pmax_w / (p.isc_a * of_isc.high), p.pmax_w / (p.isc_a * of_isc.low)};
    const bool voc_stated = !s.assumed(Quantity::panel_voc);
    const bool isc_stated = !s.assumed(Quantity::panel_isc);
    if (!s.assumed(Quantity::panel_imp) || (!voc_stated && !isc_stated)) return rounding;
    if (!isc_stated) return by_voc;
    if (!voc_stated) return by_isc;
    const Ends both{std::max(by_voc.low, by_isc.low), std::min(by_voc.high, by_isc.high)};
    return both.low < both.high ? both : rounding;
}
Ends current_at_work(const Subject& s) {
    const Panel& p = s.panel();
    if (!s.assumed(Quantity::panel_vmp)) return at_most(around(p.imp_a, rounding_ratio), 0.99 * p.isc_a);
    const Ends vmp = voltage_at_work({s.setup, s.assumption});
    return {p.pmax_w / vmp.high, p.pmax_w / vmp.low};
}

// A figure of a panel that moves takes along those worked out from it: P = V·I, and the usual ratios.
void set_vmp(Setup& setup, const Assumption& a, double vmp_v) {
    const Subject s{setup, a};
    Panel& p = setup.kinds[*a.kind].panel;
    const double ratio = vmp_v / p.vmp_v;
    p.vmp_v = vmp_v;
    if (s.assumed(Quantity::panel_voc)) p.voc_v *= ratio;
    if (!s.assumed(Quantity::panel_imp)) return;
    p.imp_a /= ratio;
    if (s.assumed(Quantity::panel_isc)) p.isc_a /= ratio;
}
void set_imp(Setup& setup, const Assumption& a, double imp_a) {
    const Subject s{setup, a};
    Panel& p = setup.kinds[*a.kind].panel;
    const double ratio = imp_a / p.imp_a;
    p.imp_a = imp_a;
    if (s.assumed(Quantity::panel_isc)) p.isc_a *= ratio;
    if (!s.assumed(Quantity::panel_vmp)) return;
    p.vmp_v /= ratio;
    if (s.assumed(Quantity::panel_voc)) p.voc_v /= ratio;
}

Panel& panel_of(Setup& s, const Assumption& a) { return s.kinds[*a.kind].panel; }

using Q = Quantity;
using S = Subject;

constexpr std::array records{
    // Other assumed figures of the panel stay as they are.
    FigureRecord{Q::panel_technology,
                 [](const S&) {
                     return Ends{0.0, 1.0};
                 },
                 [](Setup& s, const Assumption& a, double v) {
                     panel_of(s, a).technology = v < 0.5 ? Technology::mono_silicon : Technology::cigs;
                 },
                 [](double v) -> std::string {
                     return std::string(name_of(v < 0.5 ? Technology::mono_silicon : Technology::cigs).title);
                 },
                 "judgement: wafer silicon or thin film", "in the panel's leaflet; else ask the seller"},
    FigureRecord{Q::panel_cells,
                 [](const S& s) {
                     const Limits per_cell_v = s.ranges().voc_per_cell.usual;
                     return Ends{std::max(1.0, std::round(s.panel().voc_v / per_cell_v.high)),
                                 std::max(1.0, std::round(s.panel().voc_v / per_cell_v.low))};
                 },
                 [](Setup& s, const Assumption& a, double v) {
                     panel_of(s, a).cells_in_series = static_cast<int>(std::lround(v));
                 },
                 as_count, by_technology, "count them on the panel's front; of half cells, half their number"},
    FigureRecord{Q::panel_bypass_diodes,
                 [](const S& s) {
                     const double cells = s.panel().cells_in_series;
                     return Ends{cells <= 36.0 ? 0.0 : std::ceil(cells / 36.0), std::ceil(cells / 12.0)};
                 },
                 [](Setup& s, const Assumption& a, double v) {
                     panel_of(s, a).bypass_diodes = static_cast<int>(std::lround(v));
                 },
                 as_count, "one for every 20 to 24 cells, small panels none [from memory]", panel_sheet},
    FigureRecord{Q::panel_pmax, [](const S& s) { return around(s.panel().pmax_w, rounding_ratio); },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).pmax_w = v; }, in_watts,
                 "judgement: rounding on labels", label},
    FigureRecord{Q::panel_vmp, &voltage_at_work, &set_vmp, in_volts, by_technology, label},
    FigureRecord{Q::panel_imp, &current_at_work, &set_imp, in_amps, by_technology, label},
    FigureRecord{Q::panel_voc,
                 [](const S& s) {
                     const Limits r = s.ranges().usual_vmp_over_voc;
                     return Ends{s.panel().vmp_v / r.high, s.panel().vmp_v / r.low};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).voc_v = v; }, in_volts, by_technology,
                 label},
    FigureRecord{Q::panel_isc,
                 [](const S& s) {
                     const Limits r = s.ranges().usual_imp_over_isc;
                     return Ends{s.panel().imp_a / r.high, s.panel().imp_a / r.low};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).isc_a = v; }, in_amps, by_technology,
                 label},
    FigureRecord{Q::panel_isc_coefficient, [](const S& s) { return ends_of(s.ranges().isc_coefficient.usual); },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).isc_coefficient_per_k = v; },
                 in_per_cent_per_k, by_technology, coefficients},
    FigureRecord{Q::panel_voc_coefficient, [](const S& s) { return ends_of(s.ranges().voc_coefficient.usual); },
                 [](Setup& s, const Assumption& a, double v) {
                     panel_of(s, a).voc_coefficient_per_k = v;
                     panel_of(s, a).voc_coefficient_stated = true;
                 },
                 in_per_cent_per_k, by_technology, coefficients},
    FigureRecord{Q::panel_pmax_coefficient, [](const S& s) { return ends_of(s.ranges().pmax_coefficient.usual); },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).pmax_coefficient_per_k = v; },
                 in_per_cent_per_k, by_technology, coefficients},
    FigureRecord{Q::panel_nominal_temperature,
                 [](const S&) {
                     return Ends{41.0, 50.0};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).nominal_temperature = Celsius{v}; },
                 in_degrees, "NMOT 41 to 45, NOCT 44 to 48 °C [from memory], and a little more", panel_sheet},
    FigureRecord{Q::panel_weak_light,
                 [](const S&) {
                     return Ends{0.88, 1.0};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).weak_light_efficiency_ratio = v; },
                 in_per_cent, judgement,
                 "in the panel's datasheet, as efficiency at 200 W/m²; else the maker's support"},
    FigureRecord{Q::panel_system_voltage,
                 [](const S&) {
                     return Ends{50.0, 1000.0};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).max_system_voltage_v = v; }, in_volts,
                 "portable panels 50 to 600 V, others 600 to 1500 V [from memory]", label},
    FigureRecord{Q::panel_series_fuse,
                 [](const S&) {
                     return Ends{10.0, 30.0};
                 },
                 [](Setup& s, const Assumption& a, double v) {
                     panel_of(s, a).max_series_fuse_a = v;
                     panel_of(s, a).max_series_fuse_stated = true;
                 },
                 in_amps, "10 A on small panels, 15 to 30 A on others [from memory]", label},
    FigureRecord{Q::panel_voc_tolerance,
                 [](const S&) {
                     return Ends{0.0, 0.05};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).voc_tolerance_ratio = v; }, plus_minus,
                 "±3 to ±5 % unless stated otherwise [from memory]", tolerances},
    FigureRecord{Q::panel_isc_tolerance,
                 [](const S&) {
                     return Ends{0.0, 0.08};
                 },
                 [](Setup& s, const Assumption& a, double v) { panel_of(s, a).isc_tolerance_ratio = v; }, plus_minus,
                 "±3 to ±5 % unless stated otherwise [from memory], and a little more", tolerances},
    FigureRecord{Q::panel_pmax_tolerance,
                 [](const S&) {
                     return Ends{0.0, 0.1};
                 },
                 [](Setup& s, const Assumption& a, double v) {
                     panel_of(s, a).pmax_tolerance_below_ratio = v;
                     panel_of(s, a).pmax_tolerance_above_ratio = v;
                 },
                 plus_minus, "±3 % [from memory], older and small panels ±10 %", tolerances},
};

}  // namespace

std::span<const FigureRecord> panel_figures() { return records; }

}  // namespace plait::study
