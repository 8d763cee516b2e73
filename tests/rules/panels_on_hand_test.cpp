#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("panels on hand: enough, just enough, one too few") {
    Trial t;
    t.wire(2, 3);
    CHECK(t.check("panels-on-hand").empty());
    t.setup.kinds[0].count = 6;
    CHECK(t.check("panels-on-hand").empty());
    t.setup.kinds[0].count = 5;
    const Finding f = t.only("panels-on-hand");
    CHECK(f.value == 6.0);
    CHECK(f.limit == 5.0);
    CHECK(f.unit == Unit::panel);
    CHECK(f.outcome == Outcome::needs);
    CHECK_THAT(t.because("panels-on-hand", f), Contains("6 panels") && Contains("5 are on hand"));
    CHECK_THAT(t.instead("panels-on-hand", f), Contains("Get 1 more"));
}

TEST_CASE("panels on hand: all inputs together, each kind by itself") {
    Trial t;
    t.wire(2, 2);
    t.add_input(same_points(20.0, 5.0));
    t.setup.kinds[0].count = 7;
    CHECK(t.only("panels-on-hand").value == 8.0);
    const std::size_t other = t.add_kind("other", round_panel());
    t.setup.kinds[other].count = 0;
    CHECK(t.check("panels-on-hand").size() == 1);
    t.plan[1].strings = {string_of({other, 0})};
    const Findings found = t.check("panels-on-hand");
    REQUIRE(found.size() == 1);
    CHECK(found[0].value == 1.0);
    CHECK(found[0].limit == 0.0);
}
