#include <plait/rules/cold_methods.hpp>

#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {

Trial one_panel(double voc_v, double coefficient_per_k, double coldest_degc) {
    Trial t;
    t.panel().voc_v = voc_v;
    t.panel().voc_coefficient_per_k = coefficient_per_k;
    t.site().coldest_air = Celsius{coldest_degc};
    return t;
}

/// By the datasheets alone, as the codes count.
double cold_v(const Trial& t, ColdMethod method) { return array_cold_voc_v({t.setup, {}}, t.plan.front(), method).value; }

}  // namespace

// NEC table 690.7(A), editions 2008 to 2023 [whole table from memory; the lowest factor 1.02 and the ordinary 1.12 and
// 1.14 also seen in public texts].
TEST_CASE("the code's table, both edges of every row") {
    struct Row {
        double warm_degc;
        double cold_degc;
        double factor;
    };
    for (const Row row : {Row{24, 20, 1.02}, Row{19, 15, 1.04}, Row{14, 10, 1.06}, Row{9, 5, 1.08}, Row{4, 0, 1.10},
                          Row{-1, -5, 1.12}, Row{-6, -10, 1.14}, Row{-11, -15, 1.16}, Row{-16, -20, 1.18},
                          Row{-21, -25, 1.20}, Row{-26, -30, 1.21}, Row{-31, -35, 1.23}, Row{-36, -40, 1.25}}) {
        INFO(row.warm_degc << " to " << row.cold_degc << " °C");
        CHECK(code_table_factor(Celsius{row.warm_degc}) == row.factor);
        CHECK(code_table_factor(Celsius{row.cold_degc}) == row.factor);
    }
}

TEST_CASE("outside and between the rows of the code's table") {
    CHECK(code_table_factor(Celsius{25.0}) == 1.0);
    CHECK(code_table_factor(Celsius{40.0}) == 1.0);
    CHECK(code_table_factor(Celsius{-41.0}) == std::nullopt);
    CHECK(code_table_factor(Celsius{-40.001}) == std::nullopt);
    // The table has whole degrees only; in between the colder row counts (convention, no source).
    CHECK(code_table_factor(Celsius{-5.5}) == 1.14);
    CHECK(code_table_factor(Celsius{24.5}) == 1.02);
    CHECK(code_table_factor(Celsius{19.9}) == 1.04);
}

// Arithmetic on the table above [computed, published nowhere]: 40.0 V at 25, 24, 0, −1, −6 and −40 °C.
TEST_CASE("a 40 V panel by the code's table") {
    const auto volts_at = [](double degc) { return cold_v(one_panel(40.0, -0.003, degc), ColdMethod::code_table); };
    CHECK(volts_at(25.0) == exactly(40.0));
    CHECK(volts_at(24.0) == exactly(40.8));
    CHECK(volts_at(0.0) == exactly(44.0));
    CHECK(volts_at(-1.0) == exactly(44.8));
    CHECK(volts_at(-6.0) == exactly(45.6));
    CHECK(volts_at(-40.0) == exactly(50.0));
    // Below its end the table goes on by its own last step: 40 × 1.27, and 40 × 1.29 from below −45 °C.
    CHECK(volts_at(-40.5) == exactly(50.8));
    CHECK(volts_at(-45.0) == exactly(50.8));
    CHECK(volts_at(-45.1) == exactly(51.6));
}

TEST_CASE("the table is for wafer silicon inside its rows only; the others always apply") {
    Panel p = round_panel();
    for (const ColdMethod method : {ColdMethod::coefficient, ColdMethod::flat_factor}) {
        p.technology = Technology::cigs;
        CHECK(method_applies(p, method, Celsius{-50.0}));
    }
    for (const Technology t : {Technology::amorphous, Technology::cigs, Technology::cdte, Technology::gallium_arsenide,
                               Technology::film_silicon, Technology::unknown}) {
        p.technology = t;
        CHECK_FALSE(method_applies(p, ColdMethod::code_table, Celsius{-10.0}));
        // … and the coefficient stands in: 1 + 0.004 × 35.
        CHECK(cold_factor(p, round_site(), ColdMethod::code_table, Celsius{-10.0}).voc_ratio == exactly(1.14));
        p.voc_coefficient_per_k = -0.002;
        CHECK(cold_factor(p, round_site(), ColdMethod::code_table, Celsius{-10.0}).voc_ratio == exactly(1.07));
        p.voc_coefficient_per_k = -0.004;
    }
    for (const Technology t : {Technology::mono_silicon, Technology::poly_silicon, Technology::perc, Technology::topcon,
                               Technology::heterojunction, Technology::back_contact}) {
        p.technology = t;
        CHECK(method_applies(p, ColdMethod::code_table, Celsius{-40.0}));
        CHECK_FALSE(method_applies(p, ColdMethod::code_table, Celsius{-40.1}));
    }
}

TEST_CASE("a coefficient the maker does not state is never trusted alone") {
    Panel p = round_panel();
    p.voc_coefficient_stated = false;
    p.voc_coefficient_per_k = -0.0035;
    const auto factor = [&](double degc) {
        return cold_factor(p, round_site(), ColdMethod::coefficient, Celsius{degc}).voc_ratio;
    };
    // Wafer silicon: line 1 + 0.0035 × 35 = 1.1225 against the table's 1.14 at −10 °C.
    CHECK(factor(-10.0) == exactly(1.14));
    // A steep line of −0.5 %/K passes the table: 1 + 0.005 × 35.
    p.voc_coefficient_per_k = -0.005;
    CHECK(factor(-10.0) == exactly(1.175));
    // Below the table's end its last step goes on, 1.27 at −41 °C and 1.29 at −50 °C, unless the line is above it:
    // 1 + 0.0045 × 75 = 1.3375.
    p.voc_coefficient_per_k = -0.0035;
    CHECK(factor(-41.0) == exactly(1.27));
    CHECK(factor(-50.0) == exactly(1.29));
    p.voc_coefficient_per_k = -0.0045;
    CHECK(factor(-50.0) == exactly(1.3375));
    p.voc_coefficient_per_k = -0.0035;
    // Anything else: 1.25 below 0 °C (judgement; module manuals ask for it), the line from 0 °C up.
    for (const Technology t : {Technology::unknown, Technology::cigs}) {
        p.technology = t;
        CHECK(factor(-0.1) == exactly(1.25));
        CHECK(factor(0.0) == exactly(1.0875));
    }
}

TEST_CASE("colder never gives less") {
    for (const bool stated : {true, false}) {
        for (const Technology t : {Technology::perc, Technology::cigs, Technology::unknown}) {
            Panel p = round_panel();
            p.technology = t;
            p.voc_coefficient_stated = stated;
            p.voc_coefficient_per_k = -0.0035;
            for (const ColdMethod method : cold_methods) {
                double before = 0.0;
                for (int tenth = 300; tenth >= -900; --tenth) {
                    const Celsius air{tenth / 10.0};
                    const double factor = cold_factor(p, round_site(), method, air).voc_ratio;
                    INFO(name_of(method) << " at " << air.degc << " °C");
                    REQUIRE(factor >= before);
                    before = factor;
                }
            }
        }
    }
}

// Note of a French equipment distributor for the inspection body: 49.7 V, −0.25 %/K, −20 °C.
TEST_CASE("coefficient and flat factor for one panel of 49.7 V") {
    Trial t = one_panel(49.7, -0.0025, -20.0);
    CHECK(cold_v(t, ColdMethod::coefficient) == Approx(55.29).margin(0.005));
    CHECK(t.site().flat_factor_ratio == 1.2);  // IEC 60364-7-712:2017 [from memory]
    CHECK(cold_v(t, ColdMethod::flat_factor) == exactly(59.64));
}

// An installers' examination review quiz: 49.0 V, −0.24 %/K, −7.2 °C. Printed 52.79 V; exact 52.787.
TEST_CASE("coefficient at a broken temperature") {
    CHECK(cold_v(one_panel(49.0, -0.0024, -7.2), ColdMethod::coefficient) == Approx(52.79).margin(0.005));
}

// A contractors' practice test publishes the question (44.0 V, −0.30 %/K, −10 °C) without the answer [computed].
TEST_CASE("coefficient and table for 44 V at -10 °C") {
    const Trial t = one_panel(44.0, -0.003, -10.0);
    CHECK(cold_v(t, ColdMethod::coefficient) == exactly(48.62));
    CHECK(cold_v(t, ColdMethod::code_table) == exactly(50.16));
}

// A training blog: 49.5 V, −0.28 %/K, −5 °C, 1000 V. Printed 53.66 V a module; 18 give 965.8 V, 19 give 1019.5 V.
TEST_CASE("the longest string within 1000 V") {
    Trial t = one_panel(49.5, -0.0028, -5.0);
    CHECK(cold_v(t, ColdMethod::coefficient) == Approx(53.66).margin(0.005));
    CHECK(cold_v(t.wire(18, 1), ColdMethod::coefficient) == Approx(965.8).margin(0.05));
    CHECK(cold_v(t.wire(19, 1), ColdMethod::coefficient) == Approx(1019.5).margin(0.05));
}

// A US code-training textbook, 690.7 examples [from memory]: 38.30 V, −0.36 %/K, −7 °C, 12 in series.
TEST_CASE("twelve in series by coefficient and by table") {
    const Trial t = one_panel(38.30, -0.0036, -7.0).wire(12, 1);
    CHECK(cold_v(t, ColdMethod::coefficient) == Approx(512.55).margin(0.005));
    CHECK(cold_v(t, ColdMethod::code_table) == Approx(523.94).margin(0.005));
}

// A French training paper: 33.8 V, flat factor 1.15, 550 V. 14 × 33.8 × 1.15 = 544.18 V; 15 give 583.05 V.
TEST_CASE("the longest string by a flat factor of 1.15") {
    Trial t = one_panel(33.8, -0.003, -10.0);
    t.site().flat_factor_ratio = 1.15;
    t.site().cold_method = ColdMethod::flat_factor;
    CHECK(cold_v(t.wire(14, 1), ColdMethod::flat_factor) == exactly(544.18));
    CHECK(cold_v(t.wire(15, 1), ColdMethod::flat_factor) == exactly(583.05));
}

TEST_CASE("strings in parallel do not add volts; unlike strings count by the highest") {
    // One magazine on the NEC says so in as many words (IAEI magazine, "PV math", January 2009).
    Trial t;
    CHECK(cold_v(t.wire(2, 1), ColdMethod::coefficient) == exactly(60.0));
    CHECK(cold_v(t.wire(2, 3), ColdMethod::coefficient) == exactly(60.0));
    t.plan[0].strings.push_back(string_of({0, 0, 0}));
    CHECK(cold_v(t, ColdMethod::coefficient) == exactly(90.0));
}

TEST_CASE("unlike panels in series add up their own corrected values") {
    Trial t;
    Panel other = round_panel();
    other.voc_v = 40.0;
    other.voc_coefficient_per_k = -0.002;
    const std::size_t kind = t.add_kind("other", other);
    t.plan[0].strings = {string_of({0, kind, 0})};
    // 30 + 40 × 1.1 + 30 = 104 V
    CHECK(cold_v(t, ColdMethod::coefficient) == exactly(104.0));
}
