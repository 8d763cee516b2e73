#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("current limit: where the file states none, nobody knows, but for a charge current that limits as well") {
    Trial t;
    const Finding f = t.only("current-limit");
    CHECK(f.outcome == Outcome::undecided);
    CHECK_FALSE(f.even_at_worst);
    CHECK(f.test == 2);
    CHECK_THAT(t.because("current-limit", f), Contains("5.00 A") && Contains("no current limit"));
    CHECK_THAT(t.instead("current-limit", f), Contains("Ask the maker"));
    t.controller().battery = Battery{20.0, 24.0, 28.8, {}};
    CHECK(t.only("current-limit").outcome == Outcome::undecided);
    t.controller().battery->max_charge_current_a = 30.0;
    CHECK(t.check("current-limit").empty());
}

TEST_CASE("current limit: without tracking the current is a rating, so nothing is found here") {
    Trial t;
    t.one_limit_a(1.0).controller().type = ControllerType::direct_connect;
    CHECK(t.check("current-limit").empty());
}

TEST_CASE("current limit: the limit itself, a step beyond, and words") {
    Trial t;
    t.points[0] = same_points(40.0, 10.0);
    CHECK(t.one_limit_a(10.0).only("current-limit").outcome == Outcome::within);
    t.one_limit_a(8.0);
    for (ConditionPoint& p : t.points[0]) {
        p.operating.point = {44.0, 8.0};       // 352 W
        p.operating.hand_rule_w = 40.0 * 8.0;  // 320 W
    }
    const Finding f = t.only("current-limit");
    CHECK(f.value == 10.0);
    CHECK(f.limit == 8.0);
    CHECK(f.outcome == Outcome::clips);  // never "exceeds": a tracking input takes no more than it wants
    CHECK_THAT(t.because("current-limit", f), Contains("10.00 A") && Contains("8.00 A") && Contains("44.00 V"));
    CHECK_THAT(t.because("current-limit", f), Contains("352.0 W of 400.0 W") && Contains("320.0 W by the hand rule"));
    CHECK(f.test == 1);  // nobody said that it clips
    CHECK_THAT(t.instead("current-limit", f), Contains("Ask the maker") && Contains("8.00 A"));
    t.input().over_current = OverCurrent::only_clips;
    CHECK(t.only("current-limit").test == 0);
    CHECK_THAT(t.instead("current-limit", t.only("current-limit")), Contains("Nothing breaks, says the maker"));
    CHECK(t.one_limit_a(9.999).only("current-limit").outcome == Outcome::clips);
}

TEST_CASE("current limit: the worst bright weather counts, weak light does not") {
    Trial t;
    t.one_limit_a(6.0);
    at(t.points[0], ConditionId::hot_bright).operating.free_maximum.current_a = 7.0;
    at(t.points[0], ConditionId::weak_light).operating.free_maximum.current_a = 9.0;
    const Finding f = t.only("current-limit");
    CHECK(f.value == 7.0);
    CHECK_THAT(t.because("current-limit", f), Contains("hot and bright"));
}

TEST_CASE("current limit: each weather is held against the limit at its own voltage") {
    Trial t;
    t.input().bands = {{10.0, 30.0, 8.0}, {30.0, 60.0, 4.0}};
    for (ConditionPoint& p : t.points[0]) p.operating.free_maximum = {20.0, 6.0};
    CHECK(t.only("current-limit").outcome == Outcome::within);
    at(t.points[0], ConditionId::cold_bright).operating.free_maximum = {31.0, 5.0};
    const Finding f = t.only("current-limit");
    CHECK(f.value == 5.0);
    CHECK(f.limit == 4.0);
    // At a shared edge the more generous band counts.
    at(t.points[0], ConditionId::cold_bright).operating.free_maximum = {30.0, 5.0};
    CHECK(t.only("current-limit").outcome == Outcome::within);
    // Outside the tracking range the limit at its edge counts.
    t.input().tracking_max_v = 25.0;
    at(t.points[0], ConditionId::cold_bright).operating.free_maximum = {31.0, 5.0};
    CHECK(t.only("current-limit").limit == 8.0);
}

// 5 A + 4 % = 5.2 A.
TEST_CASE("current limit: within, but not at the top of the tolerance") {
    Trial t;
    t.panel().isc_tolerance_ratio = 0.04;
    CHECK(t.one_limit_a(5.2).only("current-limit").even_at_worst);
    CHECK(t.one_limit_a(5.1).only("current-limit").outcome == Outcome::within);
    CHECK_FALSE(t.only("current-limit").even_at_worst);
}
