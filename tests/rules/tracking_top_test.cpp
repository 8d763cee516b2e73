#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("tracking top: no range, or no tracking, nothing found") {
    Trial t;
    CHECK(t.check("tracking-top").empty());
    t.input().tracking_max_v = 30.0;
    t.controller().type = ControllerType::direct_connect;
    CHECK(t.check("tracking-top").empty());
}

// 2 × 20 V × (1 + 0.004 × 50) = 48 V at −25 °C.
TEST_CASE("tracking top: the limit itself, a step beyond, and words") {
    Trial t;
    t.wire(2, 1);
    t.input().tracking_max_v = 48.0;
    CHECK(t.only("tracking-top").outcome == Outcome::within);
    t.input().tracking_max_v = 47.99;
    const Finding f = t.only("tracking-top");
    CHECK(f.value == exactly(48.0));
    CHECK(f.outcome == Outcome::clips);  // never "exceeds": nothing breaks
    CHECK_THAT(t.because("tracking-top", f), Contains("48.00 V") && Contains("47.99 V") && Contains("−25 °C"));
    CHECK_THAT(t.instead("tracking-top", f), Contains("Below its absolute maximum nothing breaks"));
    const double maximum_v = *t.input().max_voltage_v;
    t.input().max_voltage_v.reset();  // then nobody knows
    CHECK_THAT(t.instead("tracking-top", f), !Contains("breaks"));
    t.input().max_voltage_v = maximum_v;
    CHECK(t.wire(1, 2).only("tracking-top").outcome == Outcome::within);
    t.wire(2, 1).site().coldest_air = Celsius{-24.0};
    CHECK(t.only("tracking-top").outcome == Outcome::within);
}

// 48 V + 3 % = 49.44 V.
TEST_CASE("tracking top: within, but not at the top of the tolerance") {
    Trial t;
    t.wire(2, 1);
    t.panel().voc_tolerance_ratio = 0.03;
    t.input().tracking_max_v = 49.44;
    CHECK(t.only("tracking-top").even_at_worst);
    t.input().tracking_max_v = 49.0;
    CHECK(t.only("tracking-top").outcome == Outcome::within);
    CHECK_FALSE(t.only("tracking-top").even_at_worst);
}

// String 1: 48 V. String 2: one panel of 39 V, cold 46.8 V, ± 5 %: 49.14 V at worst.
TEST_CASE("tracking top: the highest string counts, and the highest at worst for the worst") {
    Trial t;
    Panel loose = round_panel();
    loose.vmp_v = 39.0;
    loose.voc_tolerance_ratio = 0.05;
    const std::size_t kind = t.add_kind("loose", loose);
    t.plan[0].strings = {string_of({0, 0}), string_of({kind})};
    t.input().tracking_max_v = 49.0;
    const Finding f = t.only("tracking-top");
    CHECK(f.value == exactly(48.0));
    CHECK(f.spread.upper() == exactly(49.14));
    CHECK(f.spread.lower() == exactly(48.0));
    CHECK_FALSE(f.even_at_worst);
}
