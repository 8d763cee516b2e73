#include <plait/rules/cold_methods.hpp>

#include <plait/base/constants.hpp>

#include <algorithm>
#include <cmath>

namespace plait::rules {

std::optional<double> code_table_factor(Celsius coldest_air) {
    struct Row {
        double down_to_degc;
        double factor;
    };
    static constexpr std::array rows{Row{20, 1.02},  Row{15, 1.04},  Row{10, 1.06},  Row{5, 1.08},   Row{0, 1.10},
                                     Row{-5, 1.12},  Row{-10, 1.14}, Row{-15, 1.16}, Row{-20, 1.18}, Row{-25, 1.20},
                                     Row{-30, 1.21}, Row{-35, 1.23}, Row{-40, 1.25}};
    if (coldest_air.degc >= 25.0) return 1.0;
    for (const Row& row : rows) {
        if (coldest_air.degc >= row.down_to_degc) return row.factor;
    }
    return std::nullopt;
}

bool method_applies(const Panel& panel, ColdMethod method, Celsius coldest_air) {
    return method != ColdMethod::code_table ||
           (is_crystalline_silicon(panel.technology) && code_table_factor(coldest_air).has_value());
}

double cold_factor(const Panel& panel, const Site& site, ColdMethod method, Celsius coldest_air) {
    if (method == ColdMethod::flat_factor) return site.flat_factor_ratio;
    if (method == ColdMethod::code_table && method_applies(panel, method, coldest_air)) {
        return *code_table_factor(coldest_air);
    }
    const double line = 1.0 + panel.voc_coefficient_per_k * (coldest_air - stc_cell);
    if (panel.voc_coefficient_stated) return line;
    // Judgement: 1.25 is what module manuals ask for where nothing else is known. It is also the last row of the table,
    // so it holds on below −40 °C until the line has overtaken it.
    constexpr double manuals_factor = 1.25;
    if (is_crystalline_silicon(panel.technology)) {
        return std::max(line, code_table_factor(coldest_air).value_or(manuals_factor));
    }
    return coldest_air.degc < 0.0 ? std::max(line, manuals_factor) : line;
}

double string_cold_voc_v(const Setup& setup, const SeriesString& string, ColdMethod method) {
    double voc_v = 0.0;
    for (const PanelPlace& place : string.panels) {
        const Panel& panel = setup.kinds[place.kind].panel;
        voc_v += panel.voc_v * cold_factor(panel, setup.site, method, setup.site.coldest_air);
    }
    return voc_v;
}

double array_cold_voc_v(const Setup& setup, const InputWiring& wiring, ColdMethod method) {
    double highest_v = 0.0;
    for (const SeriesString& string : wiring.strings) {
        highest_v = std::max(highest_v, string_cold_voc_v(setup, string, method));
    }
    return highest_v;
}

std::optional<Celsius> coldest_survived(const Setup& setup, const InputWiring& wiring, double limit_v) {
    double coldest_degc = coldest_looked_at.degc;
    for (const SeriesString& string : wiring.strings) {
        double voc_v = 0.0;
        double slope_v_per_k = 0.0;
        for (const PanelPlace& place : string.panels) {
            const Panel& panel = setup.kinds[place.kind].panel;
            voc_v += panel.voc_v;
            slope_v_per_k += panel.voc_v * panel.voc_coefficient_per_k;
        }
        if (voc_v > limit_v) return std::nullopt;
        if (slope_v_per_k < 0.0)
            coldest_degc = std::max(coldest_degc, stc_cell.degc + (limit_v - voc_v) / slope_v_per_k);
    }
    return Celsius{coldest_degc};
}

int longest_within(const Setup& setup, std::size_t kind, double limit_v) {
    const Panel& panel = setup.kinds[kind].panel;
    const double one_v = panel.voc_v * cold_factor(panel, setup.site, setup.site.cold_method, setup.site.coldest_air);
    // The same rounding slack as every comparison has, so that the count and the verdict agree at the limit.
    return static_cast<int>(std::floor(limit_v / one_v * (1.0 + 1e-12)));
}

}  // namespace plait::rules
