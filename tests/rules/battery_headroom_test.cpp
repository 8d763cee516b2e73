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

// Voc at 75 °C cells: 25 × 0.8 = 20 V, against the battery's highest voltage and the drop of 0.5 V. Vmp does not
// decide: such a controller pulls the array down to the battery whatever its Vmp.
TEST_CASE("battery headroom: without tracking the open-circuit voltage decides, with the controller's small drop") {
    const Findings at_limit = above_battery(ControllerType::direct_connect, 19.5).check("battery-headroom");
    REQUIRE(at_limit.size() == 2);
    CHECK(at_limit[0].value == exactly(20.0));
    CHECK(at_limit[0].limit == exactly(20.0));
    CHECK(at_limit[0].outcome == Outcome::within);
    CHECK(at_limit[0].decides);
    Trial t = above_battery(ControllerType::direct_connect, 19.51);
    const Finding f = t.check("battery-headroom")[0];
    CHECK(f.outcome == Outcome::falls_short);
    CHECK_THAT(t.because("battery-headroom", f),
               Contains("open-circuit voltage falls to 20.00 V") && Contains("must stand above 20.01 V"));
    CHECK_THAT(t.instead("battery-headroom", f), Contains("more panels in series"));
    CHECK(t.wire(2, 1).check("battery-headroom")[0].outcome == Outcome::within);
}

// Vmp 16 V: a full battery of 15.5 V and 0.5 V is just reached; above that amperes are lost, and nothing else.
TEST_CASE("battery headroom: without tracking a low Vmp costs current and is only shown beside") {
    CHECK(above_battery(ControllerType::direct_connect, 15.5).check("battery-headroom")[1].outcome == Outcome::within);
    const Trial t = above_battery(ControllerType::direct_connect, 15.51);
    const Findings found = t.check("battery-headroom");
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[1].outcome == Outcome::clips);
    CHECK_FALSE(found[1].decides);
    CHECK(found[1].value == exactly(16.0));
    CHECK(found[1].limit == exactly(16.01));
    CHECK_THAT(t.because("battery-headroom", found[1]), Contains("16.00 V") && Contains("fewer amperes"));
    CHECK(t.instead("battery-headroom", found[1]).empty());
}

// 20 V − 3 % = 19.4 V.
TEST_CASE("battery headroom: without tracking, within but not at the bottom of the tolerance") {
    Trial t = above_battery(ControllerType::direct_connect, 18.9);
    t.panel().voc_tolerance_ratio = 0.03;
    CHECK(t.check("battery-headroom")[0].even_at_worst);
    t.controller().battery->max_voltage_v = 19.0;
    const Finding f = t.check("battery-headroom")[0];
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.instead("battery-headroom", f), Contains("19.40 V"));
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
