#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
Trial above_battery(ControllerType type, double battery_max_v) {
    Trial t;
    t.controller().type = type;
    t.controller().battery = Battery{10.0, 12.0, battery_max_v, {}};
    t.controller().running_headroom_v = 1.0;
    t.controller().direct_connect_drop_v = 0.5;
    return t;
}
}  // namespace

TEST_CASE("battery headroom: only where the array must stand above the battery") {
    Trial t = above_battery(ControllerType::step_up, 14.4);
    CHECK(t.check("battery-headroom").empty());
    t.controller().type = ControllerType::wide_range;
    CHECK(t.check("battery-headroom").empty());
    t.controller().type = ControllerType::step_down;
    t.controller().battery.reset();
    CHECK(t.check("battery-headroom").empty());
}

// Vmp at 75 °C cells: 20 × 0.8 = 16 V, against the battery's highest charging voltage and 1 V (common practice, no
// source).
TEST_CASE("battery headroom: the limit itself, a step beyond, and words") {
    CHECK(above_battery(ControllerType::step_down, 15.0).check("battery-headroom")[0].outcome == Outcome::within);
    Trial t = above_battery(ControllerType::step_down, 15.01);
    const Finding f = t.check("battery-headroom")[0];
    CHECK(f.value == exactly(16.0));
    CHECK(f.limit == exactly(16.01));
    CHECK(f.outcome == Outcome::falls_short);
    CHECK_THAT(t.because("battery-headroom", f), Contains("16.00 V") && Contains("16.01 V"));
    CHECK_THAT(t.instead("battery-headroom", f), Contains("more panels in series"));
    CHECK(t.wire(2, 1).check("battery-headroom")[0].outcome == Outcome::within);
}

TEST_CASE("battery headroom: a controller without tracking needs its small drop, and no rule of thumb") {
    CHECK(above_battery(ControllerType::direct_connect, 15.5).only("battery-headroom").outcome == Outcome::within);
    CHECK(above_battery(ControllerType::direct_connect, 15.51).only("battery-headroom").outcome ==
          Outcome::falls_short);
}

// A controller maker's manual for self-builders: Voc 37 V, highest charging voltage 61 V. 133 % of 61 V is 81.13 V: 2s
// (74 V) is too low, 3s (111 V) is not.
TEST_CASE("V11: Voc at STC against 133 % of the highest charging voltage") {
    Trial t = above_battery(ControllerType::step_down, 61.0);
    t.panel().voc_v = 37.0;
    const Findings two = t.wire(2, 1).check("battery-headroom");
    REQUIRE(two.size() == 2);
    CHECK(two[1].value == exactly(74.0));
    CHECK(two[1].limit == exactly(81.13));
    CHECK(two[1].outcome == Outcome::falls_short);
    CHECK_FALSE(two[1].decides);
    CHECK_THAT(t.because("battery-headroom", two[1]), Contains("74.00 V") && Contains("81.13 V"));
    const Findings three = t.wire(3, 1).check("battery-headroom");
    CHECK(three[1].value == exactly(111.0));
    CHECK(three[1].outcome == Outcome::within);
    // The lowest of unlike strings counts.
    t.plan[0].strings.push_back(string_of({0, 0}));
    CHECK(t.check("battery-headroom")[1].value == exactly(74.0));
}

// 16 V − 3 % = 15.52 V.
TEST_CASE("battery headroom: within, but not at the bottom of the tolerance") {
    Trial t = above_battery(ControllerType::step_down, 14.8);
    t.panel().voc_tolerance_ratio = 0.03;
    const Finding f = t.check("battery-headroom")[0];
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.instead("battery-headroom", f), Contains("15.52 V"));
    t.controller().battery->max_voltage_v = 14.52;
    CHECK(t.check("battery-headroom")[0].even_at_worst);
}
