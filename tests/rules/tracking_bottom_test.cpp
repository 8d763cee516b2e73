#include "situation.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/stated_weather.hpp>

using namespace plait;
using namespace plait::rules;

TEST_CASE("tracking bottom: no range, or no tracking, nothing found") {
    Trial t;
    CHECK(t.check("tracking-bottom").empty());
    t.input().tracking_min_v = 30.0;
    t.controller().type = ControllerType::direct_connect;
    CHECK(t.check("tracking-bottom").empty());
}

// 2 × 20 V × (1 − 0.004 × 50) = 32 V with cells at 75 °C.
TEST_CASE("tracking bottom: the limit itself, a step beyond, and words") {
    Trial t;
    t.wire(2, 1);
    t.input().tracking_min_v = 32.0;
    CHECK(t.only("tracking-bottom").outcome == Outcome::within);
    t.input().tracking_min_v = 32.01;
    const Finding f = t.only("tracking-bottom");
    CHECK(f.value == exactly(32.0));
    CHECK(f.sense == Sense::at_least);
    CHECK(f.outcome == Outcome::falls_short);
    CHECK_THAT(t.because("tracking-bottom", f), Contains("32.00 V") && Contains("32.01 V") && Contains("40 °C"));
    CHECK_THAT(t.instead("tracking-bottom", f), Contains("more panels in series"));
    CHECK(t.wire(3, 1).only("tracking-bottom").outcome == Outcome::within);
}

// 32 V − 3 % = 31.04 V.
TEST_CASE("tracking bottom: within, but not at the bottom of the tolerance") {
    Trial t;
    t.wire(2, 1);
    t.panel().voc_tolerance_ratio = 0.03;
    t.input().tracking_min_v = 31.5;
    const Finding f = t.only("tracking-bottom");
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.instead("tracking-bottom", f), Contains("31.04 V"));
}

// An open training wiki: 200 W at −0.48 %/K and 35 °C gives −4.8 %, 190.4 W. Here the working voltage carries all of it
// (α = 0), so Vmp in the heat × Imp is that power.
TEST_CASE("200 W at a cell temperature of 35 °C") {
    Trial t;
    t.panel().pmax_w = 200.0;
    t.panel().imp_a = 10.0;
    t.panel().pmax_coefficient_per_k = -0.0048;
    t.site().hottest_air = Celsius{0.0};  // propped up: 35 K more
    t.input().tracking_min_v = 10.0;
    CHECK(t.only("tracking-bottom").value * t.panel().imp_a == exactly(190.4));
}

// [computed] NOCT 47.5 °C, air 35 °C, 1000 W/m²: 35 + 27.5 × 1.25 = 69.4 °C (69.375), 44.375 K above STC;
// 20 V × (1 − 0.004 × 44.375) = 16.45 V.
TEST_CASE("cell temperature by NOCT in an open rack") {
    Trial t;
    t.panel().nominal_temperature = Celsius{47.5};
    t.site().mounting = Mounting::open_rack;
    t.site().hottest_air = Celsius{35.0};
    t.input().tracking_min_v = 10.0;
    CHECK(t.only("tracking-bottom").value == exactly(16.45));
    t.with_situation([&](const Situation& s) {
        CHECK(hottest_cell(s.site(), t.panel()).degc == Approx(69.4).margin(0.05));
        return 0;
    });
}

// A training blog takes the Voc coefficient for Vmp and the air's 45 °C for the cell: 41.2 V × (1 − 0.0028 × 20) = 38.9
// V a module, 700 V for 18, above 200 V. Cells run hotter than air and Vmp falls faster than Voc, so the rule must come
// out lower (here with −0.36 %/K and NOCT 45 °C, ours), and it still clears 200 V.
TEST_CASE("tracking bottom: lower than the worked example that uses air temperature and the Voc coefficient") {
    Trial t;
    t.panel().vmp_v = 41.2;
    t.panel().pmax_coefficient_per_k = -0.0036;
    t.panel().nominal_temperature = Celsius{45.0};
    t.site().mounting = Mounting::open_rack;
    t.site().hottest_air = Celsius{45.0};
    t.input().tracking_min_v = 200.0;
    const Finding f = t.wire(18, 1).only("tracking-bottom");
    // Cells at 45 + 31.25 = 76.25 °C: 18 × 41.2 × (1 − 0.0036 × 51.25) = 604.77 V.
    CHECK(f.value == Approx(604.77).margin(0.005));
    CHECK(f.value < 18 * 38.9);
    CHECK(f.outcome == Outcome::within);
}

TEST_CASE("tracking bottom: Vmp falls by gamma less alpha") {
    Trial t;
    t.input().tracking_min_v = 10.0;
    t.panel().isc_coefficient_per_k = 0.0005;
    // 20 × (1 − 0.0045 × 50) = 15.5 V
    CHECK(t.only("tracking-bottom").value == exactly(15.5));
    // The Voc coefficient has no part in it.
    t.panel().voc_coefficient_per_k = -0.001;
    CHECK(t.only("tracking-bottom").value == exactly(15.5));
}
