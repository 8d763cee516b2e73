#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("current rating: no limit stated, or a maker who says it only clips, is no rating") {
    Trial t;
    CHECK(t.check("current-rating").empty());
    t.one_limit_a(1.0);
    t.input().over_current = OverCurrent::only_clips;
    CHECK(t.check("current-rating").empty());
}

// A retailer's guide: three panels of 5.5 A in parallel: 16.5 A × 1.25 = 20.6 A, so a controller above 20 A.
TEST_CASE("three panels on a controller without tracking") {
    Trial t;
    t.controller().type = ControllerType::direct_connect;
    t.panel().isc_a = 5.5;
    t.wire(1, 3).one_limit_a(20.0);
    const Finding f = t.only("current-rating");
    CHECK(f.test == 0);
    CHECK(f.decides);
    CHECK(f.value == Approx(20.6).margin(0.05));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.because("current-rating", f), Contains("20.62 A") && Contains("20.00 A"));
    CHECK_THAT(t.instead("current-rating", f),
               Contains("at most 2 strings in parallel") && Contains("whole current"));
    CHECK(t.one_limit_a(20.625).only("current-rating").outcome == Outcome::within);
    CHECK(t.one_limit_a(30.0).only("current-rating").outcome == Outcome::within);
    // Without tracking, "it only clips" would be no help: it passes what the array gives.
    t.input().over_current = OverCurrent::only_clips;
    CHECK(t.one_limit_a(20.0).only("current-rating").outcome == Outcome::exceeds);
}

// 2 × 6 A × 1.25 = 15 A.
TEST_CASE("current rating: where the maker forbids more, the limit itself is within") {
    Trial t;
    t.input().over_current = OverCurrent::not_permitted;
    t.wire(1, 2).one_limit_a(15.0);
    CHECK(t.only("current-rating").outcome == Outcome::within);
    t.one_limit_a(14.99);
    const Finding f = t.only("current-rating");
    CHECK(f.test == 1);
    CHECK(f.decides);
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.instead("current-rating", f), Contains("maker forbids") && Contains("at most 1 string"));
    CHECK(t.wire(1, 1).only("current-rating").outcome == Outcome::within);
}

TEST_CASE("current rating: what a silent manual means nobody knows, which is said only where it would matter") {
    Trial t;
    t.wire(1, 2).one_limit_a(15.0);
    CHECK(t.check("current-rating").empty());
    const Finding f = t.one_limit_a(14.99).only("current-rating");
    CHECK(f.test == 2);
    CHECK(f.decides);
    CHECK(f.outcome == Outcome::undecided);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.because("current-rating", f), Contains("15.00 A") && Contains("14.99 A") && Contains("does not say"));
    CHECK_THAT(t.instead("current-rating", f), Contains("Ask the maker"));
}

// 3 × 6 A × 1.25 = 22.5 A, all of which a controller without tracking passes on to the battery.
TEST_CASE("current rating: without tracking the charge current is a limit too, and none at all leaves it open") {
    Trial t;
    t.controller().type = ControllerType::direct_connect;
    t.controller().battery = Battery{10.8, 12.4, 14.7, {}};
    t.wire(1, 3);
    const Finding open = t.only("current-rating");
    CHECK(open.outcome == Outcome::undecided);
    CHECK_FALSE(open.even_at_worst);
    CHECK_THAT(t.instead("current-rating", open), Contains("Ask the maker"));
    t.controller().battery->max_charge_current_a = 22.5;
    CHECK(t.only("current-rating").outcome == Outcome::within);
    t.controller().battery->max_charge_current_a = 22.4;
    CHECK(t.only("current-rating").outcome == Outcome::exceeds);
}

// One panel stands between 16 V (Vmp in the heat) and 30 V (Voc in the cold), two between 32 V and 60 V.
TEST_CASE("current rating: of several bands the strictest the array can stand in counts") {
    Trial t;
    t.input().over_current = OverCurrent::not_permitted;
    t.input().bands = {{10.0, 31.0, 10.0}, {31.0, 100.0, 20.0}};
    t.wire(1, 2);  // 15 A at 16 … 30 V
    Finding f = t.only("current-rating");
    CHECK(f.limit == 10.0);
    CHECK(f.outcome == Outcome::exceeds);
    t.wire(2, 2);  // 15 A at 32 … 60 V
    f = t.only("current-rating");
    CHECK(f.limit == 20.0);
    CHECK(f.outcome == Outcome::within);
    t.input().bands = {{10.0, 40.0, 10.0}, {40.0, 100.0, 20.0}};  // the edge inside its span
    CHECK(t.only("current-rating").limit == 10.0);
    t.input().bands = {{70.0, 80.0, 30.0}, {80.0, 90.0, 40.0}};  // none of them met
    CHECK(t.only("current-rating").limit == 30.0);
}
