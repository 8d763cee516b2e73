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
    CHECK_THAT(t.because("panels-on-hand", f), Contains("6 panels of kind 'round'") && Contains("on hand: 5"));
    CHECK_THAT(t.instead("panels-on-hand", f), Contains("Get 1 more 'round'"));
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
    CHECK_THAT(t.because("panels-on-hand", found[0]), Contains("1 panel of kind 'other'"));
    // Two kinds short by the same numbers are still told apart.
    t.plan[0].strings = {string_of({0}), string_of({other})};
    t.plan[1].strings = {string_of({0, other})};
    t.setup.kinds[0].count = t.setup.kinds[other].count = 1;
    const Findings both = t.check("panels-on-hand");
    REQUIRE(both.size() == 2);
    CHECK(both[0].value == both[1].value);
    CHECK_THAT(t.because("panels-on-hand", both[0]), Contains("'round'"));
    CHECK_THAT(t.because("panels-on-hand", both[1]), Contains("'other'"));
}
