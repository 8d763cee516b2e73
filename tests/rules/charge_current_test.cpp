#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
Trial charging(double charge_a) {
    Trial t;
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{20.0, 24.0, 28.8, charge_a};
    t.wire(2, 5);
    return t;
}
}  // namespace

TEST_CASE("charge current: needs a stated charge current and a tracking controller") {
    Trial t = charging(10.0);
    t.controller().type = ControllerType::direct_connect;
    CHECK(t.check("charge-current").empty());
    t.controller().type = ControllerType::step_down;
    t.controller().battery->max_charge_current_a.reset();
    CHECK(t.check("charge-current").empty());
    t.controller().battery.reset();
    CHECK(t.check("charge-current").empty());
}

// A retailer's guide: 1000 W at 24 V is 41.7 A; × 1.25 = 52.1 A, so a unit of the 60 A class never clips.
TEST_CASE("a kilowatt into 24 V") {
    Trial t = charging(50.0);
    const Findings fifty = t.check("charge-current");
    REQUIRE(fifty.size() == 2);
    CHECK(fifty[0].value == Approx(41.7).margin(0.05));
    CHECK(fifty[0].outcome == Outcome::within);
    CHECK(fifty[0].decides);
    CHECK(fifty[1].value == Approx(52.1).margin(0.05));
    CHECK(fifty[1].outcome == Outcome::clips);
    CHECK_FALSE(fifty[1].decides);
    CHECK_THAT(t.because("charge-current", fifty[1]), Contains("52.08 A") && Contains("50.00 A"));
    CHECK(charging(60.0).check("charge-current")[1].outcome == Outcome::within);
}

// 1000 W × 0.96 ÷ 24 V = 40 A.
TEST_CASE("charge current: the limit itself, a step beyond, and words") {
    Trial t = charging(40.0);
    t.controller().efficiency_ratio = 0.96;
    CHECK(t.check("charge-current")[0].outcome == Outcome::within);
    t.controller().battery->max_charge_current_a = 39.99;
    const Finding f = t.check("charge-current")[0];
    CHECK(f.value == exactly(40.0));
    CHECK(f.outcome == Outcome::clips);
    CHECK_THAT(t.because("charge-current", f), Contains("40.00 A") && Contains("39.99 A"));
    CHECK(f.test == 2);  // nobody said that it clips
    CHECK_THAT(t.instead("charge-current", f), Contains("Ask the maker"));
    t.input().over_current = OverCurrent::only_clips;
    CHECK(t.check("charge-current")[0].test == 0);
    CHECK_THAT(t.instead("charge-current", t.check("charge-current")[0]), Contains("Nothing breaks, says the maker"));
}

TEST_CASE("charge current: all inputs of the plan charge the one battery") {
    Trial t = charging(60.0);
    t.add_input(same_points(20.0, 5.0));
    CHECK(t.check("charge-current")[0].value == exactly(2000.0 / 24.0));
    CHECK(t.check("charge-current")[0].outcome == Outcome::clips);
}

// 1000 W + 5 % at 24 V: 43.75 A.
TEST_CASE("charge current: within, but not at the top of the tolerance") {
    Trial t = charging(43.0);
    t.panel().pmax_tolerance_above_ratio = 0.05;
    const Finding f = t.check("charge-current")[0];
    CHECK(f.outcome == Outcome::within);
    CHECK(f.spread.upper() == exactly(43.75));
    CHECK_FALSE(f.even_at_worst);
    t.controller().battery->max_charge_current_a = 43.75;
    CHECK(t.check("charge-current")[0].even_at_worst);
}
