#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("array power: nothing stated, nothing found") { CHECK(Trial{}.check("array-power-rating").empty()); }

// 2s3p of 100 W: the labels add up to 600 W.
TEST_CASE("array power: the limit itself, a step beyond, and words") {
    Trial t;
    t.wire(2, 3);
    t.input().max_array_power_w = 600.0;
    CHECK(t.only("array-power-rating").outcome == Outcome::within);
    t.input().max_array_power_w = 599.9;
    const Finding f = t.only("array-power-rating");
    CHECK(f.value == exactly(600.0));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK(f.unit == Unit::watt);
    CHECK_THAT(t.because("array-power-rating", f), Contains("600.0 W") && Contains("599.9 W"));
    CHECK_THAT(t.instead("array-power-rating", f), Contains("at most 2 strings") && Contains("0.1 W less"));
    CHECK(t.wire(2, 2).only("array-power-rating").outcome == Outcome::within);
}

TEST_CASE("array power: makers mean the labels, so the power tolerance does not enter") {
    Trial t;
    t.wire(2, 3);
    t.panel().pmax_tolerance_above_ratio = 0.05;
    t.input().max_array_power_w = 600.0;
    CHECK(t.only("array-power-rating").even_at_worst);
}

TEST_CASE("array power: unlike panels add up") {
    Trial t;
    Panel big = round_panel();
    big.pmax_w = 250.0;
    const std::size_t kind = t.add_kind("big", big);
    t.plan[0].strings = {string_of({0, kind}), string_of({kind})};
    t.input().max_array_power_w = 1000.0;
    CHECK(t.only("array-power-rating").value == exactly(600.0));
}
