#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
// One string of two panels beside one of `other` panels, the kind's Voc set to 20 V.
Findings beside_two(std::size_t other, bool blocked) {
    Trial t;
    t.panel().voc_v = 20.0;
    t.wire(2, 2);
    t.plan[0].strings[1].panels.resize(other, t.plan[0].strings[0].panels.front());
    for (SeriesString& s : t.plan[0].strings) s.blocking_diode = blocked;
    return t.check("unlike-strings");
}
}  // namespace

TEST_CASE("unlike strings: equal strings and single ones are no case for the rule") {
    CHECK(beside_two(2, false).empty());
    Trial t;
    t.wire(3, 1);
    CHECK(t.check("unlike-strings").empty());
}

// 2 × 20 V beside 1 × 20 V: 20 V apart, 5 % of 40 V is 2 V.
TEST_CASE("unlike strings: a shorter string loses output, as a rule of thumb beside the exact answer") {
    const Findings found = beside_two(1, false);
    REQUIRE(found.size() == 1);
    CHECK(found[0].value == exactly(20.0));
    CHECK(found[0].limit == exactly(2.0));
    CHECK(found[0].outcome == Outcome::clips);
    CHECK_FALSE(found[0].decides);
    CHECK(beside_two(1, true).empty());
}
