#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("start voltage: nothing to reach, nothing found") {
    Trial t;
    CHECK(t.check("start-voltage").empty());
    t.input().start_voltage_v = 0.0;
    CHECK(t.check("start-voltage").empty());
}

// 2 × 25 V × (1 − 0.004 × 50) = 40 V with cells at 75 °C.
TEST_CASE("start voltage: the limit itself, a step beyond, and words") {
    Trial t;
    t.wire(2, 1);
    t.input().start_voltage_v = 40.0;
    CHECK(t.only("start-voltage").outcome == Outcome::within);
    t.input().start_voltage_v = 40.01;
    const Finding f = t.only("start-voltage");
    CHECK(f.value == exactly(40.0));
    CHECK(f.sense == Sense::at_least);
    CHECK(f.outcome == Outcome::falls_short);
    CHECK_THAT(t.because("start-voltage", f), Contains("40.00 V") && Contains("40.01 V") && Contains("40 °C"));
    CHECK_THAT(t.instead("start-voltage", f), Contains("3 or more panels in series"));
    CHECK(t.wire(3, 1).only("start-voltage").outcome == Outcome::within);
    CHECK(t.wire(1, 2).only("start-voltage").outcome == Outcome::falls_short);
}

// Common practice, no source: a step-down controller starts 5 V above the battery. 14.4 + 5 = 19.4 V.
TEST_CASE("start voltage: a step-down controller also starts above its battery") {
    Trial t;
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{10.0, 12.0, 14.4, {}};
    t.controller().starting_headroom_v = 5.0;
    CHECK(t.only("start-voltage").limit == exactly(19.4));
    CHECK(t.only("start-voltage").outcome == Outcome::within);  // 20 V
    t.input().start_voltage_v = 18.0;
    CHECK(t.only("start-voltage").limit == exactly(19.4));
    t.input().start_voltage_v = 22.0;
    CHECK(t.only("start-voltage").limit == 22.0);
    t.controller().type = ControllerType::wide_range;
    t.input().start_voltage_v = 18.0;
    CHECK(t.only("start-voltage").limit == 18.0);
}

// 40 V − 3 % = 38.8 V.
TEST_CASE("start voltage: within, but not at the bottom of the tolerance") {
    Trial t;
    t.wire(2, 1);
    t.panel().voc_tolerance_ratio = 0.03;
    t.input().start_voltage_v = 38.8;
    CHECK(t.only("start-voltage").even_at_worst);
    t.input().start_voltage_v = 39.0;
    const Finding f = t.only("start-voltage");
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.instead("start-voltage", f), Contains("38.80 V"));
}

// String 1: 40 V, no tolerance. String 2: one panel of 51.25 V, hot 41 V, ± 5 %: 38.95 V at worst.
TEST_CASE("start voltage: the string that is lowest at worst counts for the worst case") {
    Trial t;
    Panel loose = round_panel();
    loose.voc_v = 51.25;
    loose.voc_tolerance_ratio = 0.05;
    const std::size_t kind = t.add_kind("loose", loose);
    t.plan[0].strings = {string_of({0, 0}), string_of({kind})};
    t.input().start_voltage_v = 39.0;
    const Finding f = t.only("start-voltage");
    CHECK(f.value == exactly(40.0));
    CHECK(f.spread.lower() == exactly(38.95));
    CHECK(f.spread.upper() == exactly(40.0));
    CHECK_FALSE(f.even_at_worst);
}

TEST_CASE("start voltage: hotter air and a closer mounting lower it") {
    Trial t;
    t.input().start_voltage_v = 10.0;
    const double propped_v = t.only("start-voltage").value;
    t.site().mounting = Mounting::flat_on_ground;
    CHECK(t.only("start-voltage").value < propped_v);
    t.site().mounting = Mounting::propped_up;
    t.site().hottest_air = Celsius{45.0};
    CHECK(t.only("start-voltage").value < propped_v);
}
