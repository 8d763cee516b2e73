#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {

// The finding of one method, of all that are shown.
Finding by(const Findings& found, ColdMethod method) {
    for (const Finding& f : found) {
        if (f.test == static_cast<int>(method)) return f;
    }
    FAIL("no finding by " << name_of(method));
    return {};
}

}  // namespace

// 3 × 25 V × (1 + 0.004 × 50) = 90 V at −25 °C.
TEST_CASE("cold voltage: three round panels, the limit itself and a step beyond") {
    Trial t;
    t.wire(3, 2);
    t.input().max_voltage_v = 90.0;
    Finding f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.value == exactly(90.0));
    CHECK(f.limit == 90.0);
    CHECK(f.outcome == Outcome::within);
    CHECK(f.decides);
    t.input().max_voltage_v = 89.99;
    f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.outcome == Outcome::exceeds);
    const Words w = t.say("cold-voltage", f);
    CHECK_THAT(w.because, Contains("90.00 V") && Contains("89.99 V") && Contains("−25 °C"));
    CHECK_THAT(w.because, Contains("own coefficient"));
    CHECK_THAT(w.instead, Contains("Do not connect") && Contains("at most 2 in series"));
    // 25 + (89.99/75 − 1)/(−0.004) = −24.967, rounded to the warm side.
    CHECK_THAT(w.instead, Contains("down to −24.9 °C"));
}

TEST_CASE("cold voltage: colder is more, warmer is less, parallel strings change nothing") {
    Trial t;
    double before = 0.0;
    for (const double degc : {20.0, 0.0, -10.0, -25.0, -40.0}) {
        t.site().coldest_air = Celsius{degc};
        const double now = by(t.check("cold-voltage"), ColdMethod::coefficient).value;
        CHECK(now > before);
        before = now;
        CHECK(by(t.wire(1, 4).check("cold-voltage"), ColdMethod::coefficient).value == now);
        t.wire(1, 1);
    }
}

// 90 V ± 3 %: 87.3 … 92.7 V.
TEST_CASE("cold voltage: within, but not at the top of the tolerance") {
    Trial t;
    t.wire(3, 1);
    t.panel().voc_tolerance_ratio = 0.03;
    t.input().max_voltage_v = 92.7;
    CHECK(by(t.check("cold-voltage"), ColdMethod::coefficient).even_at_worst);
    t.input().max_voltage_v = 92.0;
    const Finding f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK(f.spread.lower() == exactly(87.3));
    CHECK_THAT(t.instead("cold-voltage", f), Contains("92.70 V"));
}

// A French training paper: 33.8 V, flat factor 1.15, input of 550 V. 14 fit with 544.18 V, 15 exceed with 583.05 V.
TEST_CASE("V3: fourteen fit by a flat factor of 1.15, fifteen do not") {
    Trial t;
    t.panel().voc_v = 33.8;
    t.site().cold_method = ColdMethod::flat_factor;
    t.site().flat_factor_ratio = 1.15;
    t.input().max_voltage_v = 550.0;
    Finding f = by(t.wire(14, 1).check("cold-voltage"), ColdMethod::flat_factor);
    CHECK(f.decides);
    CHECK(f.value == exactly(544.18));
    CHECK(f.outcome == Outcome::within);
    f = by(t.wire(15, 1).check("cold-voltage"), ColdMethod::flat_factor);
    CHECK(f.value == exactly(583.05));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.because("cold-voltage", f), Contains("flat factor 1.15"));
    CHECK_THAT(t.instead("cold-voltage", f), Contains("at most 14 in series"));
}

// Note of a French equipment distributor for the inspection body: 49.7 V, −0.25 %/K, −20 °C, input of 58 V. The
// coefficient gives 55.29 V, 2.71 V to spare; 1.2 × Voc = 59.64 V would fail.
TEST_CASE("V4: the methods disagree, and the one the site asks for decides") {
    Trial t;
    t.panel().voc_v = 49.7;
    t.panel().voc_coefficient_per_k = -0.0025;
    t.site().coldest_air = Celsius{-20.0};
    t.input().max_voltage_v = 58.0;
    Findings found = t.check("cold-voltage");
    REQUIRE(found.size() == 3);
    const Finding line = by(found, ColdMethod::coefficient);
    CHECK(line.value == Approx(55.29).margin(0.005));
    CHECK(line.margin() == Approx(2.71).margin(0.005));
    CHECK(line.outcome == Outcome::within);
    CHECK(line.decides);
    const Finding flat = by(found, ColdMethod::flat_factor);
    CHECK(flat.value == exactly(59.64));
    CHECK(flat.outcome == Outcome::exceeds);
    CHECK_FALSE(flat.decides);
    // What is only shown for comparison gives no order that contradicts the deciding one.
    CHECK_THAT(t.instead("cold-voltage", flat), Contains("methods differ") && !Contains("Do not connect"));

    t.site().cold_method = ColdMethod::flat_factor;
    found = t.check("cold-voltage");
    CHECK_FALSE(by(found, ColdMethod::coefficient).decides);
    CHECK(by(found, ColdMethod::flat_factor).decides);
    CHECK_THAT(t.instead("cold-voltage", by(found, ColdMethod::flat_factor)),
               Contains("Not even one") && Contains("by the coefficient alone it would stay within"));
}

// A controller maker's manual for self-builders: Voc 37 V, input of 150 V. Four stand at 148 V only at 25 °C: any
// cooling exceeds. Three fit. (−0.3 %/K is ours; the manual gives none.)
TEST_CASE("V11: four panels fit an input of 150 V only as long as it is warm") {
    Trial t;
    t.panel().voc_v = 37.0;
    t.panel().voc_coefficient_per_k = -0.003;
    t.input().max_voltage_v = 150.0;
    t.site().coldest_air = Celsius{25.0};
    CHECK(by(t.wire(4, 1).check("cold-voltage"), ColdMethod::coefficient).value == exactly(148.0));
    CHECK(by(t.check("cold-voltage"), ColdMethod::coefficient).outcome == Outcome::within);
    t.site().coldest_air = Celsius{20.0};
    CHECK(by(t.check("cold-voltage"), ColdMethod::coefficient).outcome == Outcome::exceeds);
    CHECK(by(t.wire(3, 1).check("cold-voltage"), ColdMethod::coefficient).outcome == Outcome::within);
}

// [computed] 3 × 37.0 V against 120 V at −0.30 %/K holds down to −2.0 °C.
TEST_CASE("cold voltage says how cold it may get") {
    Trial t;
    t.panel().voc_v = 37.0;
    t.panel().voc_coefficient_per_k = -0.003;
    t.input().max_voltage_v = 120.0;
    t.wire(3, 1);
    const Finding f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.instead("cold-voltage", f), Contains("down to −2 °C"));
    // 75 V at STC in 82.502 V: 25 + (82.502/75 − 1)/(−0.004) = −0.007 °C, rounded up: a zero without a minus.
    Trial zero;
    zero.wire(3, 1);
    zero.input().max_voltage_v = 82.502;
    CHECK_THAT(zero.instead("cold-voltage", by(zero.check("cold-voltage"), ColdMethod::coefficient)),
               Contains("down to 0 °C"));
    zero.input().max_voltage_v = 74.0;
    CHECK_THAT(zero.instead("cold-voltage", by(zero.check("cold-voltage"), ColdMethod::coefficient)),
               Contains("even at 25 °C"));
}

TEST_CASE("cold voltage: the table is left out where it says nothing, and words own up where it was asked for") {
    Trial t;
    t.panel().technology = Technology::cigs;
    CHECK(t.check("cold-voltage").size() == 2);
    t.site().cold_method = ColdMethod::code_table;
    const Finding f = by(t.check("cold-voltage"), ColdMethod::code_table);
    CHECK(f.decides);
    CHECK(f.value == exactly(30.0));  // the coefficient's
    CHECK_THAT(t.because("cold-voltage", f), Contains("own coefficient") && Contains("does not cover"));

    t.panel().technology = Technology::perc;
    const Finding table = by(t.check("cold-voltage"), ColdMethod::code_table);
    CHECK(table.value == exactly(25.0 * 1.20));
    CHECK_THAT(t.because("cold-voltage", table), Contains("code's table") && !Contains("cover"));
}

TEST_CASE("cold voltage: a coefficient that is not stated is not called the panel's own") {
    Trial t;
    t.panel().voc_coefficient_stated = false;
    t.panel().voc_coefficient_per_k = -0.0035;
    t.site().coldest_air = Celsius{-10.0};
    const Finding f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.value == exactly(25.0 * 1.14));
    CHECK_THAT(t.because("cold-voltage", f), Contains("assumed") && !Contains("own coefficient"));
}

TEST_CASE("cold voltage: unlike strings get advice without a count") {
    Trial t;
    t.wire(3, 1);
    t.plan[0].strings.push_back(string_of({0, 0}));
    t.input().max_voltage_v = 80.0;
    const Finding f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.value == exactly(90.0));
    CHECK_THAT(t.instead("cold-voltage", f), Contains("Shorten the longest string"));
}

TEST_CASE("cold voltage: an input of which nobody knows the maximum is never within") {
    Trial t;
    t.input().max_voltage_v.reset();
    for (const ColdMethod method : {ColdMethod::coefficient, ColdMethod::code_table, ColdMethod::flat_factor}) {
        t.site().cold_method = method;
        const Finding f = t.only("cold-voltage");
        CHECK(f.decides);
        CHECK(f.outcome == Outcome::undecided);
        CHECK_FALSE(f.even_at_worst);
        CHECK_THAT(t.because("cold-voltage", f), Contains("nobody knows"));
        CHECK_THAT(t.instead("cold-voltage", f), Contains("Do not connect it yet") && Contains("max_voltage"));
    }
}
