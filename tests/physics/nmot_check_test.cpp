#include <plait/physics/nmot_check.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "csv_table.hpp"

using namespace plait;
using namespace plait::physics;
using plait_test::CsvRow;
using plait_test::CsvTable;
using plait_test::data_file;

namespace {

Panel panel_with_point() {
    Panel p;
    p.technology = Technology::perc;
    p.cells_in_series = 36;
    p.pmax_w = 100.0;
    p.vmp_v = 18.6;
    p.imp_a = 5.376;
    p.voc_v = 22.3;
    p.isc_a = 5.70;
    p.isc_coefficient_per_k = 0.0005;
    p.voc_coefficient_per_k = -0.0028;
    p.pmax_coefficient_per_k = -0.0036;
    p.nominal_temperature = {43.0};
    p.nominal_temperature_kind = NominalTemperatureKind::nmot;
    return p;
}

/// Silicon modules of an open table of outdoor tests (2015), with Pmax by condition.
struct Module {
    Panel panel;
    double at_800_45, at_400_35, at_200_25;
};

std::vector<Module> outdoor_silicon() {
    const std::map<std::string, Technology> technologies{{"c-Si", Technology::mono_silicon},
                                                         {"mc-Si", Technology::poly_silicon},
                                                         {"EFG mc-Si", Technology::poly_silicon},
                                                         {"HIT-Si", Technology::heterojunction}};
    std::vector<Module> modules;
    const CsvTable table(data_file("outdoor_modules.csv"));
    for (const CsvRow& row : table.rows()) {
        if (technologies.count(row.text("material")) == 0) continue;
        Module m{};
        Panel& p = m.panel;
        p.technology = technologies.at(row.text("material"));
        p.cells_in_series = std::stoi(row.text("cells_in_series"));
        p.isc_a = row.number("Isco");
        p.voc_v = row.number("Voco");
        p.imp_a = row.number("Impo");
        p.vmp_v = row.number("Vmpo");
        p.isc_coefficient_per_k = row.number("Aisc");
        p.voc_coefficient_per_k = row.number("Bvoco") / p.voc_v;
        p.pmax_coefficient_per_k = row.number("Aimp") + row.number("Bvmpo") / p.vmp_v;
        p.nominal_temperature = {45.0};
        p.nmot_point = NmotPoint{row.number("pmp_800_45C"), row.number("vmp_800_45C"), row.number("imp_800_45C"),
                                 row.number("vocx_800_45C"), row.number("isc_800_45C")};
        m.at_800_45 = row.number("pmp_800_45C");
        m.at_400_35 = row.number("pmp_400_35C");
        m.at_200_25 = row.number("pmp_200_25C");
        modules.push_back(m);
    }
    return modules;
}

double pmax(const FittedPanel& f, double irradiance, double degc) {
    return f.model.at({irradiance, {degc}}).maximum_power().power_w();
}

FittedPanel fitted(Panel p, std::optional<double> weak_light_ratio) {
    p.weak_light_efficiency_ratio = weak_light_ratio;
    const auto f = fit_datasheet(p, CurveMethod::prior_ideality);
    REQUIRE(f);
    return *f;
}

/// The curve whose weak-light figure is bent until it meets a power at 800 W/m², 45 °C.
FittedPanel fitted_to_800(const Panel& p, double target_w) {
    double low = 0.6;
    double high = 1.08;
    for (int i = 0; i < 50; ++i) {
        const double middle = 0.5 * (low + high);
        (pmax(fitted(p, middle), 800.0, 45.0) < target_w ? low : high) = middle;
    }
    return fitted(p, 0.5 * (low + high));
}

struct Spread {
    double low, median, high;
};
Spread spread(std::vector<double> errors) {
    std::sort(errors.begin(), errors.end());
    const auto at = [&](double q) {
        return errors[static_cast<std::size_t>(q * static_cast<double>(errors.size() - 1))];
    };
    return {at(0.1), at(0.5), at(0.9)};
}

}  // namespace

TEST_CASE("a second column that agrees is no contradiction, a slip in it is one") {
    Panel p = panel_with_point();
    const FittedPanel f = fitted(p, std::nullopt);
    CHECK_FALSE(nmot_residuals(p, f));
    const DiodeCurve curve = f.model.at({800.0, {43.0}});
    const PowerPoint best = curve.maximum_power();
    // As printed: two or three digits.
    const auto rounded = [](double v, double step) { return std::round(v / step) * step; };
    p.nmot_point = NmotPoint{rounded(best.power_w(), 0.1), rounded(best.voltage_v, 0.1), rounded(best.current_a, 0.01),
                             rounded(curve.open_circuit_v(), 0.1), rounded(curve.short_circuit_a(), 0.01)};
    const auto agree = nmot_residuals(p, f);
    REQUIRE(agree);
    CHECK_FALSE(agree->contradicts());
    CHECK(std::abs(*agree->pmax_ratio) < 0.001);
    Panel slip = p;
    slip.nmot_point->pmax_w = 100.0;  // the first column's
    CHECK(nmot_residuals(slip, f)->contradicts());
    slip = p;
    slip.nmot_point->voc_v = *p.nmot_point->voc_v * 0.96;
    CHECK(nmot_residuals(slip, f)->contradicts());
    // What is not printed is not compared.
    slip.nmot_point = NmotPoint{};
    slip.nmot_point->isc_a = curve.short_circuit_a();
    const auto one = nmot_residuals(slip, f);
    CHECK_FALSE(one->pmax_ratio);
    CHECK_FALSE(one->contradicts());
}

TEST_CASE("measured modules do not contradict the curve at 800 W/m²") {
    const std::vector<Module> modules = outdoor_silicon();
    if (modules.empty()) {
        WARN("outdoor_modules.csv is not here: not compared");
        return;
    }
    std::vector<double> errors;
    std::size_t contradicting = 0;
    for (const Module& m : modules) {
        const FittedPanel f = fitted(m.panel, std::nullopt);
        const auto r = nmot_residuals(m.panel, f);
        REQUIRE(r);
        errors.push_back(100.0 * *r->pmax_ratio);
        contradicting += r->contradicts() ? 1u : 0u;
    }
    const Spread s = spread(errors);
    CHECK(s.low > -2.0);
    CHECK(s.high < 2.0);
    CHECK(contradicting < modules.size() / 50);  // docs/physics.md
}

TEST_CASE("the second column is no better guide to weak light than the technology is") {
    // Why it is held against the curve and no more. Bent to meet the exact power at 800 W/m², 45 °C the curve is a
    // little better at 400 W/m² and worse at 200; with half a per cent of error in that power (0.1 W of a small panel,
    // or 1 K) it is worse at both.
    const std::vector<Module> modules = outdoor_silicon();
    if (modules.empty()) {
        WARN("outdoor_modules.csv is not here: not compared");
        return;
    }
    const auto width = [](const Spread& s) { return s.high - s.low; };
    std::vector<double> by_technology_200, by_technology_400, exact_200, rough_200, rough_400;
    double sign = 1.0;
    for (const Module& m : modules) {
        const FittedPanel usual = fitted(m.panel, std::nullopt);
        const FittedPanel exact = fitted_to_800(m.panel, m.at_800_45);
        sign = -sign;  // half of them a little above, half below
        const FittedPanel rough = fitted_to_800(m.panel, m.at_800_45 * (1.0 + sign * 0.005));
        by_technology_200.push_back(100.0 * (pmax(usual, 200.0, 25.0) / m.at_200_25 - 1.0));
        by_technology_400.push_back(100.0 * (pmax(usual, 400.0, 35.0) / m.at_400_35 - 1.0));
        exact_200.push_back(100.0 * (pmax(exact, 200.0, 25.0) / m.at_200_25 - 1.0));
        rough_200.push_back(100.0 * (pmax(rough, 200.0, 25.0) / m.at_200_25 - 1.0));
        rough_400.push_back(100.0 * (pmax(rough, 400.0, 35.0) / m.at_400_35 - 1.0));
    }
    CHECK(width(spread(exact_200)) > width(spread(by_technology_200)));
    CHECK(width(spread(rough_200)) > 1.5 * width(spread(by_technology_200)));
    CHECK(width(spread(rough_400)) > width(spread(by_technology_400)));
}
