#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
Trial step_up(double battery_min_v) {
    Trial t;
    t.controller().type = ControllerType::step_up;
    t.controller().battery = Battery{battery_min_v, battery_min_v + 6.0, battery_min_v + 16.0, {}};
    return t;
}
}  // namespace

TEST_CASE("step-up ceiling: for step-up controllers with a battery only") {
    Trial t = step_up(30.0);
    for (const ControllerType other :
         {ControllerType::step_down, ControllerType::wide_range, ControllerType::direct_connect}) {
        t.controller().type = other;
        CHECK(t.check("step-up-ceiling").empty());
    }
    t.controller().type = ControllerType::step_up;
    t.controller().battery.reset();
    CHECK(t.check("step-up-ceiling").empty());
}

// One panel reaches 25 × 1.2 = 30 V in the cold.
TEST_CASE("step-up ceiling: the limit itself, a step beyond, and words") {
    CHECK(step_up(30.0).only("step-up-ceiling").outcome == Outcome::within);
    Trial t = step_up(29.99);
    const Finding f = t.only("step-up-ceiling");
    CHECK(f.value == exactly(30.0));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.because("step-up-ceiling", f), Contains("30.00 V") && Contains("29.99 V"));
    CHECK_THAT(t.instead("step-up-ceiling", f), Contains("Not even one"));
    CHECK(step_up(40.0).wire(2, 1).only("step-up-ceiling").outcome == Outcome::exceeds);
    CHECK_THAT(step_up(40.0).wire(2, 1).instead("step-up-ceiling", step_up(40.0).wire(2, 1).only("step-up-ceiling")),
               Contains("at most 1 panel in series") && !Contains("on input"));  // there is one input only
    CHECK(step_up(40.0).wire(1, 2).only("step-up-ceiling").outcome == Outcome::within);
}

// 30 V + 3 % = 30.9 V.
TEST_CASE("step-up ceiling: within, but not at the top of the tolerance") {
    Trial t = step_up(30.5);
    t.panel().voc_tolerance_ratio = 0.03;
    const Finding f = t.only("step-up-ceiling");
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.instead("step-up-ceiling", f), Contains("30.90 V"));
    t.controller().battery->min_voltage_v = 30.9;
    CHECK(t.only("step-up-ceiling").even_at_worst);
}
