#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("disconnect: silent where no rating is given") { CHECK(Trial().check("disconnect-rating").empty()); }

// Two in series are 60 V on the coldest morning; three strings of 6 A × 1.25 are 22.5 A.
TEST_CASE("disconnect: at each rating and a step beyond") {
    Trial t;
    t.wire(2, 3);
    t.setup.fittings.disconnect_v = 60.0;
    t.setup.fittings.disconnect_a = 22.5;
    Findings found = t.check("disconnect-rating");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == exactly(60.0));
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[1].value == exactly(22.5));
    CHECK(found[1].outcome == Outcome::within);
    t.setup.fittings.disconnect_v = 59.9;
    t.setup.fittings.disconnect_a = 22.4;
    found = t.check("disconnect-rating");
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK(found[1].outcome == Outcome::exceeds);
    CHECK_THAT(t.because("disconnect-rating", found[0]), Contains("−25 °C") && Contains("60.00 V"));
    CHECK_THAT(t.instead("disconnect-rating", found[0]), Contains("AC switch"));
    CHECK_FALSE(t.instead("disconnect-rating", found[1]).empty());
}

// The same voltage as the input's, tolerance included: 60 V by the label, up to 61.8 V.
TEST_CASE("disconnect: what the Voc tolerance may turn is not proven, and the advice names the rating that is") {
    Trial t;
    t.wire(2, 1);
    t.panel().voc_tolerance_ratio = 0.03;
    t.setup.fittings.disconnect_v = 61.8;
    CHECK(t.only("disconnect-rating").even_at_worst);
    t.setup.fittings.disconnect_v = 61.0;
    const Finding thin = t.only("disconnect-rating");
    CHECK(thin.outcome == Outcome::within);
    CHECK_FALSE(thin.even_at_worst);
    CHECK_THAT(t.instead("disconnect-rating", thin), Contains("61.80 V"));
    t.setup.fittings.disconnect_v = 50.0;
    CHECK_THAT(t.instead("disconnect-rating", t.only("disconnect-rating")), Contains("61.80 V"));
}

TEST_CASE("disconnect: more strings never need less current") {
    double before_a = 0.0;
    for (int n = 1; n < 6; ++n) {
        Trial t;
        t.setup.fittings.disconnect_a = 100.0;
        const double now_a = t.wire(1, n).only("disconnect-rating").value;
        CHECK(now_a > before_a);
        before_a = now_a;
    }
}
