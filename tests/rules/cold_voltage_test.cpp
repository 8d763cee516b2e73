#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {

Finding deciding(const Findings& found) {
    for (const Finding& f : found) {
        if (f.decides) return f;
    }
    FAIL("no deciding finding");
    return {};
}

// The finding of one method, of all that are shown, where the method itself speaks.
Finding by(const Findings& found, ColdMethod method) {
    for (const Finding& f : found) {
        if (f.test == static_cast<int>(method)) return f;
    }
    FAIL("no finding by " << name_of(method));
    return {};
}

std::string_view basis_of(const Finding& f) { return rule_named("cold-voltage")->tests[static_cast<std::size_t>(f.test)]; }

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
    CHECK_THAT(w.instead, Contains("Do not connect") && Contains("at most 2 panels in series"));
    // Nobody is told to wait for warmer days.
    CHECK_THAT(w.instead, !Contains("°C"));
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
TEST_CASE("fourteen fit by a flat factor of 1.15, fifteen do not") {
    Trial t;
    t.panel().voc_v = 33.8;
    t.site().coldest_air = Celsius{-10.0};  // ours; by the coefficient 1.14, which is less
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
    CHECK_THAT(t.because("cold-voltage", f), Contains("Voc × 1.15, the site's flat factor"));
    CHECK_THAT(t.instead("cold-voltage", f), Contains("at most 14 panels in series"));
}

// Note of a French equipment distributor for the inspection body: 49.7 V, −0.25 %/K, −20 °C, input of 58 V. The
// coefficient gives 55.29 V, 2.71 V to spare; 1.2 × Voc = 59.64 V would fail.
TEST_CASE("the methods disagree, and the one the site asks for decides") {
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

    // Whoever reads the deciding one is told of it.
    CHECK_THAT(t.because("cold-voltage", line), Contains("methods disagree") && Contains("59.64 V, outside"));

    t.site().cold_method = ColdMethod::flat_factor;
    found = t.check("cold-voltage");
    CHECK_FALSE(by(found, ColdMethod::coefficient).decides);
    CHECK(by(found, ColdMethod::flat_factor).decides);
    CHECK_THAT(t.because("cold-voltage", by(found, ColdMethod::flat_factor)),
               Contains("methods disagree: by the panels' coefficient it would be 55.2") && Contains("within"));
    CHECK_THAT(t.instead("cold-voltage", by(found, ColdMethod::flat_factor)), Contains("Not even one"));
}

// A controller maker's manual for self-builders: Voc 37 V, input of 150 V. Four stand at 148 V only at 25 °C: any
// cooling exceeds. Three fit. (−0.3 %/K is ours; the manual gives none.)
TEST_CASE("four panels fit an input of 150 V only as long as it is warm") {
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

TEST_CASE("cold voltage: the table is left out where it says nothing, and words own up where it was asked for") {
    Trial t;
    t.panel().technology = Technology::cigs;
    CHECK(t.check("cold-voltage").size() == 2);
    t.site().cold_method = ColdMethod::code_table;
    const Finding f = deciding(t.check("cold-voltage"));
    CHECK(basis_of(f) == "coefficient");
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
    Finding f = deciding(t.check("cold-voltage"));
    CHECK(f.value == exactly(25.0 * 1.14));
    CHECK(basis_of(f) == "table-for-want");
    CHECK_THAT(t.because("cold-voltage", f), Contains("× 1.14") && Contains("not printed") && Contains("steps of 5 K"));
    // Its own authority, not that of a stated coefficient.
    CHECK_THAT(std::string(rule_named("cold-voltage")->sources[static_cast<std::size_t>(f.test)]),
               Contains("in place of") && !Contains("690.7(A)(1)"));
    t.panel().voc_coefficient_per_k = -0.005;
    f = deciding(t.check("cold-voltage"));
    CHECK(basis_of(f) == "assumed-coefficient");
    CHECK_THAT(t.because("cold-voltage", f), Contains("× 1.175") && Contains("assumed coefficient of −0.5 %/K"));
    t.panel().voc_coefficient_per_k = -0.0035;
    t.site().coldest_air = Celsius{-41.0};
    CHECK(basis_of(deciding(t.check("cold-voltage"))) == "beyond-the-table");
}

// 25 V at 0 °C × 1.0875 by the assumed −0.35 %/K, and half a kelvin colder × 1.25: 4 V more, with a reason.
TEST_CASE("cold voltage: the step at 0 °C says where it is from") {
    Trial t;
    t.panel().technology = Technology::unknown;
    t.panel().voc_coefficient_stated = false;
    t.panel().voc_coefficient_per_k = -0.0035;
    t.site().coldest_air = Celsius{0.0};
    Finding f = deciding(t.check("cold-voltage"));
    CHECK(f.value == exactly(25.0 * 1.0875));
    CHECK(basis_of(f) == "assumed-coefficient");
    t.site().coldest_air = Celsius{-0.5};
    f = deciding(t.check("cold-voltage"));
    CHECK(f.value == exactly(25.0 * 1.25));
    CHECK(basis_of(f) == "usual-factor");
    CHECK_THAT(t.because("cold-voltage", f), Contains("Voc × 1.25, the usual factor below 0 °C"));
}

// 25 V × 1.2 by the coefficient at −25 °C, against a flat 1.1.
TEST_CASE("cold voltage: a flat factor below what the coefficient gives is not believed") {
    Trial t;
    t.site().cold_method = ColdMethod::flat_factor;
    t.site().flat_factor_ratio = 1.1;
    const Finding f = deciding(t.check("cold-voltage"));
    CHECK(f.value == exactly(30.0));
    CHECK(basis_of(f) == "coefficient");
    CHECK_THAT(t.because("cold-voltage", f), Contains("flat factor 1.1 gives less"));
}

// A limit for the input of 90 V allows three; panels marked for 65 V allow two, and three more volts at the top of a
// tolerance of 10 % (66 V) only one.
TEST_CASE("cold voltage: the count that is advised keeps every limit, at the top of every tolerance") {
    Trial t;
    t.wire(4, 1);
    t.input().max_voltage_v = 90.0;
    const auto advised = [&] {
        const Cures cures = t.cures("cold-voltage", deciding(t.check("cold-voltage")));
        REQUIRE(cures.size() == 1);
        CHECK(cures[0].kind == CureKind::fewer_in_series);
        return cures[0].count;
    };
    CHECK(advised() == 3);
    t.panel().max_system_voltage_v = 65.0;
    CHECK(advised() == 2);
    t.panel().voc_tolerance_ratio = 0.1;
    CHECK(advised() == 1);
    t.panel().max_system_voltage_v = 1000.0;
    t.setup.fittings.disconnect_v = 60.0;
    CHECK(advised() == 1);
    t.panel().voc_tolerance_ratio = 0.0;
    CHECK(advised() == 2);
}

TEST_CASE("cold voltage: unlike strings are cut to one length") {
    Trial t;
    t.wire(3, 1);
    t.plan[0].strings.push_back(string_of({0, 0}));
    t.input().max_voltage_v = 80.0;
    const Finding f = by(t.check("cold-voltage"), ColdMethod::coefficient);
    CHECK(f.value == exactly(90.0));
    CHECK_THAT(t.instead("cold-voltage", f), Contains("at most 2 panels in series"));
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
