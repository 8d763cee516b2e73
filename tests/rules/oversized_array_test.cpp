#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

// Makers' limits on the array, standards' section on controller ratings: 1.5 times the rated power, damage above three
// times [both seen in public text]. 6 panels of 100 W.
TEST_CASE("oversized array: half again the rating is ordinary, more is asked about, thrice it is warned of") {
    Trial t;
    t.input().over_current = OverCurrent::only_clips;
    t.wire(2, 3);
    CHECK(t.check("oversized-array").empty());  // no power is stated
    t.input().max_power_w = 400.0;
    CHECK(t.check("oversized-array").empty());
    t.input().max_power_w = 399.9;
    const Finding f = t.only("oversized-array");
    CHECK(f.value == exactly(600.0));
    CHECK(f.limit == exactly(1.5 * 399.9));
    CHECK(f.decides);
    CHECK(f.outcome == Outcome::undecided);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.because("oversized-array", f), Contains("1.5 times") && !Contains("damage"));
    CHECK_THAT(t.instead("oversized-array", f), Contains("max_array_power"));
    t.input().max_power_w = 199.0;
    CHECK_THAT(t.because("oversized-array", t.only("oversized-array")), Contains("3.0 times") && Contains("damage"));
}

TEST_CASE("oversized array: a file that does not say that the input clips is asked from the rating itself on") {
    Trial t;
    t.wire(2, 3);
    t.input().max_power_w = 600.0;
    for (const OverCurrent unsaid : {OverCurrent::unsaid, OverCurrent::not_permitted}) {
        t.input().over_current = unsaid;
        t.input().max_power_w = 600.0;
        CHECK(t.check("oversized-array").empty());
        t.input().max_power_w = 599.9;
        const Finding f = t.only("oversized-array");
        CHECK(f.outcome == Outcome::undecided);
        CHECK_THAT(t.instead("oversized-array", f), Contains("Ask the maker how many watts"));
    }
}

TEST_CASE("oversized array: a maker who says how many watts may be connected has answered") {
    Trial t;
    t.wire(2, 3);
    t.input().max_power_w = 100.0;
    t.input().max_array_power_w = 600.0;
    CHECK(t.check("oversized-array").empty());
}

// 600 W against 10 A × 24 V ÷ 0.96 = 250 W.
TEST_CASE("oversized array: the charge current and the shared limit are ratings as well") {
    Trial t;
    t.input().over_current = OverCurrent::only_clips;
    t.wire(2, 3);
    t.controller().battery = Battery{20.0, 24.0, 28.8, 10.0};
    t.controller().efficiency_ratio = 0.96;
    CHECK(t.only("oversized-array").limit == exactly(375.0));
    t.controller().max_total_power_w = 200.0;
    CHECK(t.only("oversized-array").limit == exactly(300.0));
    t.controller().type = ControllerType::direct_connect;
    CHECK(t.check("oversized-array").empty());
}
