#include <plait/physics/extreme_values.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "csv_table.hpp"
#include "../support/source_dir.hpp"

using namespace plait::physics;
using plait_test::CsvRow;
using plait_test::CsvTable;

namespace {

struct Set {
    std::vector<double> x;
    std::map<std::string, double> figures;
};

std::map<std::string, Set> sets() {
    std::map<std::string, Set> all;
    const CsvTable table(std::string(support::source_dir()) + "/tests/reference/extreme_values.csv");
    for (const CsvRow& row : table.rows()) {
        Set& set = all[row.text("set")];
        if (row.text("what") == "x") {
            set.x.push_back(row.number("number"));
        } else {
            set.figures[row.text("what")] = row.number("number");
        }
    }
    return all;
}

}  // namespace

TEST_CASE("an independent library fits the same extreme-value distributions") {
    // tests/reference/extreme_values.py: python3-scipy 1.10.1.
    const auto all = sets();
    REQUIRE(all.size() == 6);
    for (const auto& [name, set] : all) {
        INFO(name);
        const bool held = set.x.size() < least_years_for_shape;
        const auto fit = fit_extremes(set.x, held ? Shape::held_at_zero : Shape::fitted);
        REQUIRE(fit);
        const double scale = set.figures.at("scale");
        CHECK(fit->shape_held == held);
        // Both stop where the likelihood is level: its top is known to about the root of its last digit.
        CHECK(fit->location_value == Approx(set.figures.at("location")).margin(1e-5 * scale));
        CHECK(fit->scale_value == Approx(scale).epsilon(1e-5));
        CHECK(fit->shape_value == Approx(set.figures.at("shape")).margin(1e-5));
        CHECK(fit->log_likelihood_value == Approx(-set.figures.at("unlikelihood")).margin(1e-8));
        for (const int years : {10, 50}) {
            const std::string of = "_" + std::to_string(years);
            CHECK(return_level_value(*fit, years) == Approx(set.figures.at("level" + of)).margin(1e-4 * scale));
            const LevelRange range = return_level_range(set.x, *fit, years);
            CHECK(range.low_value == Approx(set.figures.at("low" + of)).margin(1e-4 * scale));
            CHECK(range.high_value == Approx(set.figures.at("high" + of)).margin(1e-4 * scale));
        }
    }
}

TEST_CASE("the sea level at Port Pirie comes out as printed") {
    // Coles, An Introduction to Statistical Modeling of Extreme Values (2001), section 3.4.1 [from memory]: 3.87,
    // 0.198, −0.050, log-likelihood 4.34; 10-year level 4.30, 100-year level 4.69, its profile range 4.50 to 5.27.
    const Set set = sets().at("port-pirie");
    const auto fit = fit_extremes(set.x, Shape::fitted);
    REQUIRE(fit);
    CHECK(fit->location_value == Approx(3.87).margin(0.005));
    CHECK(fit->scale_value == Approx(0.198).margin(0.0005));
    CHECK(fit->shape_value == Approx(-0.050).margin(0.0005));
    CHECK(fit->log_likelihood_value == Approx(4.34).margin(0.005));
    CHECK(return_level_value(*fit, 10.0) == Approx(4.30).margin(0.005));
    CHECK(return_level_value(*fit, 100.0) == Approx(4.69).margin(0.005));
    const LevelRange range = return_level_range(set.x, *fit, 100.0);
    CHECK(range.low_value == Approx(4.50).margin(0.015));  // read off a figure there
    CHECK(range.high_value == Approx(5.27).margin(0.015));
}

TEST_CASE("rarer levels are more extreme, and more years' ranges lie round them") {
    for (const auto& [name, set] : sets()) {
        const auto fit =
            fit_extremes(set.x, set.x.size() < least_years_for_shape ? Shape::held_at_zero : Shape::fitted);
        REQUIRE(fit);
        double last = -1e9;
        for (const double years : {1.1, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 1000.0}) {
            const double level = return_level_value(*fit, years);
            INFO(name << " " << years);
            CHECK(level > last);
            last = level;
            if (years < 5.0) continue;
            const LevelRange wide = return_level_range(set.x, *fit, years);
            const LevelRange narrow = return_level_range(set.x, *fit, years, 0.8);
            CHECK((wide.low_value < narrow.low_value && narrow.low_value < level));
            CHECK((wide.high_value > narrow.high_value && narrow.high_value > level));
        }
    }
}

TEST_CASE("the fit follows the values when they are moved or scaled") {
    const Set set = sets().at("drawn-1");
    std::vector<double> moved;
    for (const double v : set.x) moved.push_back(1000.0 + 0.01 * v);
    const auto a = fit_extremes(set.x, Shape::fitted);
    const auto b = fit_extremes(moved, Shape::fitted);
    REQUIRE((a && b));
    CHECK(return_level_value(*b, 50.0) == Approx(1000.0 + 0.01 * return_level_value(*a, 50.0)).epsilon(1e-9));
    CHECK(b->shape_value == Approx(a->shape_value).margin(1e-6));
}

TEST_CASE("too few values, or all alike, give no fit") {
    CHECK_FALSE(fit_extremes({}, Shape::fitted));
    CHECK_FALSE(fit_extremes(std::vector<double>{1.0, 2.0}, Shape::held_at_zero));
    CHECK_FALSE(fit_extremes(std::vector<double>(30, 4.5), Shape::fitted));
    // Two values in turn: far from any such distribution, yet an answer with numbers in it.
    std::vector<double> twos;
    for (int i = 0; i < 40; ++i) twos.push_back(i % 2);
    const auto fit = fit_extremes(twos, Shape::fitted);
    REQUIRE(fit);
    CHECK(std::isfinite(return_level_value(*fit, 50.0)));
    const LevelRange range = return_level_range(twos, *fit, 50.0);
    CHECK((std::isfinite(range.low_value) && std::isfinite(range.high_value)));
}
