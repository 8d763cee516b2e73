#include <plait/rules/cold_methods.hpp>

#include <plait/base/constants.hpp>
#include <plait/rules/stated_weather.hpp>

#include <algorithm>
#include <cmath>

namespace plait::rules {
namespace {

struct TableRow {
    double down_to_degc;
    double factor;
};
constexpr std::array table_rows{TableRow{20, 1.02},  TableRow{15, 1.04},  TableRow{10, 1.06},  TableRow{5, 1.08},
                                TableRow{0, 1.10},   TableRow{-5, 1.12},  TableRow{-10, 1.14}, TableRow{-15, 1.16},
                                TableRow{-20, 1.18}, TableRow{-25, 1.20}, TableRow{-30, 1.21}, TableRow{-35, 1.23},
                                TableRow{-40, 1.25}};
constexpr double table_step_k = 5.0;
constexpr double last_table_step = 0.02;  // from −35 to −40 °C

// Judgement: what module manuals ask for where nothing else is known.
constexpr double usual_factor_ratio = 1.25;
constexpr Celsius usual_factor_below{0.0};

const ColdFactor& larger(const ColdFactor& a, const ColdFactor& b) {
    return b.voc_ratio > a.voc_ratio * (1.0 + rounding_ratio) ? b : a;
}

ColdFactor line_factor(const Panel& panel, Celsius air) {
    return {1.0 + panel.voc_coefficient_per_k * (air - stc_cell),
            panel.voc_coefficient_stated ? ColdBasis::coefficient : ColdBasis::assumed_coefficient};
}

// The table for a panel of crystalline silicon, under the name it is used by.
ColdFactor table_factor(Celsius air, ColdBasis inside) {
    return {extended_table_factor(air), code_table_factor(air) ? inside : ColdBasis::beyond_table};
}

// What the curve gives at 1000 W/m². By most laws that is the line itself, exactly, and need not be solved.
ColdFactor curve_factor(const Panel& panel, const physics::FittedPanel& curve, Celsius air) {
    const bool is_line =
        curve.model.law == physics::SaturationLaw::voc_line && curve.form != physics::FitForm::given;
    if (is_line) return line_factor(panel, air);
    return {curve_voc_v(curve, air) / panel.voc_v, ColdBasis::curve};
}

ColdVoltage group_cold_voltage(const StatedArray& stated, std::size_t kind, ColdMethod method, Celsius air,
                               const GroupState& state) {
    const Panel& panel = stated.setup.kinds[kind].panel;
    const Celsius cell = air + std::min(0.0, state.warmer_k);
    ColdVoltage v;
    v.factor = cold_factor(panel, stated.setup.site, method, cell);
    if (!stated.curves.empty()) {
        const physics::FittedPanel& curve = stated.curves[kind];
        v.factor = larger(v.factor, curve_factor(panel, curve, cell));
        const double irradiance = cold_irradiance_w_per_m2(stated.setup.site) * std::max(1.0, state.light_ratio);
        if (irradiance > stc_irradiance_w_per_m2) {
            // Light raises Voc by a smaller share the colder it is: that of test conditions is the cautious one, and
            // keeps what is the same for all cold (a flat factor, a row of the table) from sinking with it.
            v.light_factor = std::max(1.0, voc_light_factor(curve, stc_cell, irradiance));
            if (cell > stc_cell) {
                const double by_curve =
                    curve_factor(panel, curve, cell).voc_ratio * voc_light_factor(curve, cell, irradiance);
                v.light_factor = std::max(v.light_factor, by_curve / v.factor.voc_ratio);
            }
        }
    }
    v.voc_v = panel.voc_v * v.factor.voc_ratio * v.light_factor;
    return v;
}

}  // namespace

std::optional<double> code_table_factor(Celsius coldest_air) {
    if (coldest_air.degc >= stc_cell.degc) return 1.0;
    for (const TableRow& row : table_rows) {
        if (coldest_air.degc >= row.down_to_degc) return row.factor;
    }
    return std::nullopt;
}

double extended_table_factor(Celsius coldest_air) {
    if (const std::optional<double> inside = code_table_factor(coldest_air)) return *inside;
    const TableRow& last = table_rows.back();
    return last.factor + last_table_step * std::ceil((last.down_to_degc - coldest_air.degc) / table_step_k);
}

bool method_applies(const Panel& panel, ColdMethod method, Celsius coldest_air) {
    return method != ColdMethod::code_table ||
           (is_crystalline_silicon(panel.technology) && code_table_factor(coldest_air).has_value());
}

ColdFactor cold_factor(const Panel& panel, const Site& site, ColdMethod method, Celsius coldest_air) {
    if (method == ColdMethod::flat_factor) return {site.flat_factor_ratio, ColdBasis::flat_factor};
    const ColdFactor line = line_factor(panel, coldest_air);
    const bool silicon = is_crystalline_silicon(panel.technology);
    if (method == ColdMethod::code_table && silicon) {
        const ColdFactor table = table_factor(coldest_air, ColdBasis::code_table);
        return table.basis == ColdBasis::beyond_table ? larger(table, line) : table;
    }
    if (panel.voc_coefficient_stated) return line;
    if (silicon) return larger(line, table_factor(coldest_air, ColdBasis::table_for_want));
    if (coldest_air < usual_factor_below) return larger(line, {usual_factor_ratio, ColdBasis::usual_factor});
    return line;
}

ColdVoltage panel_cold_voltage(const StatedArray& stated, const PanelPlace& place, ColdMethod method, Celsius air) {
    if (place.groups.empty()) return group_cold_voltage(stated, place.kind, method, air, {});
    // Each bypass group has an equal share of the panel's cells.
    const double share = 1.0 / static_cast<double>(place.groups.size());
    ColdVoltage panel;
    double most_v = -1.0;
    for (const GroupState& state : place.groups) {
        const ColdVoltage group = group_cold_voltage(stated, place.kind, method, air, state);
        panel.voc_v += share * group.voc_v;
        if (group.voc_v <= most_v) continue;
        most_v = group.voc_v;
        panel.factor = group.factor;
        panel.light_factor = group.light_factor;
    }
    return panel;
}

Figure string_cold_voc_v(const StatedArray& stated, const SeriesString& string, ColdMethod method, Celsius air) {
    Figure sum;
    const PanelPlace* known = nullptr;  // the panel before is most often the same
    double voc_v = 0.0;
    for (const PanelPlace& place : string.panels) {
        if (known == nullptr || !(*known == place)) voc_v = panel_cold_voltage(stated, place, method, air).voc_v;
        known = &place;
        const double tolerance = stated.setup.kinds[place.kind].panel.voc_tolerance_ratio;
        sum.value += voc_v;
        sum.spread += within(voc_v, tolerance, tolerance);
    }
    return sum;
}

Figure string_cold_voc_v(const StatedArray& stated, const SeriesString& string, ColdMethod method) {
    return string_cold_voc_v(stated, string, method, stated.setup.site.coldest_air);
}

// Unlike strings may have unlike tolerances: the one that is highest at worst need not be the one that is highest as
// printed, so each end is looked for by itself.
Figure array_cold_voc_v(const StatedArray& stated, const InputWiring& wiring, ColdMethod method) {
    Figure highest;
    const SeriesString* known = nullptr;
    for (const SeriesString& string : wiring.strings) {
        if (known != nullptr && known->panels == string.panels) continue;
        known = &string;
        const Figure sum = string_cold_voc_v(stated, string, method);
        highest.value = std::max(highest.value, sum.value);
        highest.spread = Interval(std::max(highest.spread.lower(), sum.spread.lower()),
                                  std::max(highest.spread.upper(), sum.spread.upper()));
    }
    return highest;
}

Figure array_cold_voc_v(const StatedArray& stated, const InputWiring& wiring) {
    return array_cold_voc_v(stated, wiring, stated.setup.site.cold_method);
}

}  // namespace plait::rules
