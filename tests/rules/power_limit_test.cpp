#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("power limit: nothing stated, nothing found") { CHECK(Trial{}.check("power-limit").empty()); }

// 20 V × 5 A = 100 W.
TEST_CASE("power limit: the limit itself, a step beyond, and words") {
    Trial t;
    t.input().max_power_w = 100.0;
    CHECK(t.only("power-limit").outcome == Outcome::within);
    t.input().max_power_w = 99.9;
    const Finding f = t.only("power-limit");
    CHECK(f.value == 100.0);
    CHECK(f.unit == Unit::watt);
    CHECK(f.outcome == Outcome::clips);  // never "exceeds"
    CHECK_THAT(t.because("power-limit", f), Contains("100.0 W") && Contains("99.9 W"));
    CHECK(f.test == 1);  // nobody said that it clips
    CHECK_THAT(t.instead("power-limit", f), Contains("Ask the maker how many watts"));
    t.input().over_current = OverCurrent::only_clips;
    CHECK_THAT(t.instead("power-limit", t.only("power-limit")), Contains("Nothing breaks, says the maker"));
}

TEST_CASE("power limit: a maker who says how many watts may be connected has said that more than the limit do no harm") {
    Trial t;
    t.input().max_power_w = 90.0;
    t.input().over_current = OverCurrent::not_permitted;
    CHECK(t.only("power-limit").test == 1);
    t.input().max_array_power_w = 120.0;
    CHECK(t.only("power-limit").test == 0);
}

TEST_CASE("power limit: a controller without tracking cannot take less, so the limit is a rating at the battery's voltage") {
    Trial t;
    t.controller().type = ControllerType::direct_connect;
    t.input().max_power_w = 70.0;
    for (ConditionPoint& p : t.points[0]) p.operating.point = {13.0, 5.4};  // 70.2 W
    const Finding f = t.only("power-limit");
    CHECK(f.value == exactly(70.2));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.instead("power-limit", f), Contains("fewer panels"));
    t.input().max_power_w = 70.2;
    CHECK(t.only("power-limit").outcome == Outcome::within);
}

TEST_CASE("power limit: the strongest weather counts, by what the array could give, not by what was taken") {
    Trial t;
    t.input().max_power_w = 110.0;
    ConditionPoint& strongest = at(t.points[0], ConditionId::warm_bright);
    strongest.operating.free_maximum = {24.0, 5.0};
    strongest.operating.point = {30.0, 3.0};  // 90 W, less than in any other weather
    const Finding f = t.only("power-limit");
    CHECK(f.value == 120.0);
    CHECK(f.outcome == Outcome::clips);
    CHECK_THAT(t.because("power-limit", f), Contains("warm and bright"));
}

// Label 0/+5 %: 100 … 105 W.
TEST_CASE("power limit: the label's tolerance carries over") {
    Trial t;
    t.panel().pmax_tolerance_above_ratio = 0.05;
    t.input().max_power_w = 105.0;
    CHECK(t.only("power-limit").spread.lower() == exactly(100.0));
    CHECK(t.only("power-limit").spread.upper() == exactly(105.0));
    CHECK(t.only("power-limit").even_at_worst);
    t.input().max_power_w = 104.0;
    CHECK(t.only("power-limit").outcome == Outcome::within);
    CHECK_FALSE(t.only("power-limit").even_at_worst);
}
