#include "report/curve_doubts.hpp"

#include "../rules/situation.hpp"

#include <catch2/catch.hpp>

using namespace plait;
using namespace plait::output;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// A curve that meets everything, to be spoilt one figure at a time.
physics::FittedPanel true_curve() {
    physics::FittedPanel fit;
    fit.model.law = physics::SaturationLaw::voc_line;
    return fit;
}

/// The round panel with coefficients that go together: its own Pmax falls too little for so steep a Voc.
Panel matching_panel() {
    Panel panel = rules::round_panel();
    panel.voc_coefficient_per_k = -0.003;
    return panel;
}

}  // namespace

TEST_CASE("a curve that meets its datasheet raises no doubt") {
    CHECK(curve_doubts(rules::round_panel(), true_curve()).empty());
    const auto fit = physics::fit_datasheet(matching_panel(), CurveMethod::prior_ideality);
    REQUIRE(fit.has_value());
    CHECK(curve_doubts(matching_panel(), *fit).empty());
}

TEST_CASE("coefficients that no curve has together are doubted") {
    const auto fit = physics::fit_datasheet(rules::round_panel(), CurveMethod::prior_ideality);
    REQUIRE(fit.has_value());
    REQUIRE(fit->pmax_coefficient == physics::Closure::clipped);
    const auto doubts = curve_doubts(rules::round_panel(), *fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], Contains("the datasheet says −0.400 %/K") && Contains("do not go together"));
}

TEST_CASE("points missed by more than one percent are named, with what to check") {
    physics::FittedPanel fit = true_curve();
    fit.residuals.vmp_ratio = 0.0099;
    CHECK(curve_doubts(rules::round_panel(), fit).empty());
    fit.residuals.vmp_ratio = 0.032;
    fit.residuals.imp_ratio = -0.031;
    auto doubts = curve_doubts(rules::round_panel(), fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], StartsWith("panel 'Round 100': ") && Contains("Vmp by +3.2 %, Imp by −3.1 %") &&
                              Contains("off by as much") && Contains("misprint"));
    fit.form = physics::FitForm::given;
    doubts = curve_doubts(rules::round_panel(), fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], Contains("[diode]") && !Contains("misprint"));
}

// 50 K × 0.03 %/K = 1.5 %; 50 K × 0.02 %/K is just not more than one percent.
TEST_CASE("a coefficient that is not met is said with both figures and what it makes in the heat") {
    physics::FittedPanel fit = true_curve();
    fit.pmax_coefficient_residual_per_k = -0.000199;
    CHECK(curve_doubts(rules::round_panel(), fit).empty());
    fit.pmax_coefficient_residual_per_k = -0.0003;
    auto doubts = curve_doubts(rules::round_panel(), fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], Contains("Pmax changes by −0.430 %/K, the datasheet says −0.400 %/K") &&
                              Contains("−1.5 % of the watts") && Contains("check 'pmax_coefficient'"));
    fit = true_curve();
    fit.voc_coefficient_residual_per_k = 0.0004;
    doubts = curve_doubts(rules::round_panel(), fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], Contains("Voc changes by −0.360 %/K") && Contains("+2.0 %"));
}

// The second column of the round panel's own curve raises none; an Imp printed for full light does.
TEST_CASE("a second column that contradicts the first is doubted, one that agrees is not") {
    Panel panel = matching_panel();
    const auto fit = physics::fit_datasheet(panel, CurveMethod::prior_ideality);
    REQUIRE(fit.has_value());
    const physics::DiodeCurve curve = fit->model.at({800.0, panel.nominal_temperature});
    const physics::PowerPoint best = curve.maximum_power();
    NmotPoint point;
    point.pmax_w = 1.02 * best.power_w();
    point.vmp_v = best.voltage_v;
    point.imp_a = 1.02 * best.current_a;
    point.voc_v = curve.open_circuit_v();
    panel.nmot_point = point;
    CHECK(curve_doubts(panel, *fit).empty());
    panel.nmot_point->imp_a = panel.imp_a;
    const auto doubts = curve_doubts(panel, *fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], Contains("Imp by −") && Contains("at 800 W/m²") && Contains("contradict each other") &&
                              !Contains("Voc by"));
}

// De Soto's laws take n from the Voc coefficient and have no dial left: a Pmax coefficient of its own goes unmet.
TEST_CASE("De Soto's curve says so when it does not meet the Pmax coefficient, the other method meets it") {
    Panel panel = matching_panel();
    const auto fit = physics::fit_datasheet(panel, CurveMethod::de_soto);
    REQUIRE(fit.has_value());
    REQUIRE(fit->pmax_coefficient == physics::Closure::left_alone);
    const auto doubts = curve_doubts(panel, *fit);
    REQUIRE(doubts.size() == 1);
    CHECK_THAT(doubts[0], Contains("the datasheet says −0.400 %/K") && Contains("prior-ideality"));

    // The same curve as five given parameters: its figures at test conditions are met, its coefficient is not.
    panel.given_diode = GivenDiode{fit->model.stc.light_current_a, fit->model.stc.saturation_current_a, fit->ideality,
                                   fit->model.stc.series_resistance_ohm, 1.0 / fit->model.stc.shunt_conductance_s};
    const auto given = physics::fit_datasheet(panel, CurveMethod::de_soto);
    REQUIRE(given.has_value());
    CHECK(curve_doubts(panel, *given) == doubts);
    const auto bent = physics::fit_datasheet(panel, CurveMethod::prior_ideality);
    REQUIRE(bent.has_value());
    CHECK(curve_doubts(panel, *bent).empty());
}
