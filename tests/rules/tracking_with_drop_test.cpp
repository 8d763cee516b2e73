#include "wired.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
// Hot Vmp is 2 × 16 = 32 V; 0.08 Ω at 5 A takes 0.4 V.
Trial hot(double tracking_min_v) {
    Trial t = wired(CableRun::string, metric(4), 10.0);
    t.setup.cables[0].resistance_ohm_per_m = 0.004;
    t.input().tracking_min_v = tracking_min_v;
    t.wire(2, 1);
    return t;
}
}  // namespace

TEST_CASE("tracking with drop: by hand, at the edge and a step beyond") {
    CHECK(hot(31.6).only("tracking-with-drop").value == exactly(31.6));
    CHECK(hot(31.6).only("tracking-with-drop").outcome == Outcome::within);
    const Trial t = hot(31.61);
    const Finding f = t.only("tracking-with-drop");
    CHECK(f.outcome == Outcome::falls_short);
    CHECK_THAT(t.because("tracking-with-drop", f), Contains("31.60 V") && Contains("32.00 V"));
    CHECK_THAT(t.instead("tracking-with-drop", f), Contains("series"));
    CHECK(t.only("tracking-bottom").outcome == Outcome::within);  // the array itself reaches it
}

TEST_CASE("tracking with drop: silent without cables, without a range and at the battery's voltage") {
    Trial t = hot(20.0);
    t.setup.cables.clear();
    CHECK(t.check("tracking-with-drop").empty());
    t = hot(20.0);
    t.input().tracking_min_v.reset();
    CHECK(t.check("tracking-with-drop").empty());
    t = hot(20.0);
    t.controller().type = ControllerType::direct_connect;
    CHECK(t.check("tracking-with-drop").empty());
}

TEST_CASE("tracking with drop: a longer cable never leaves more") {
    double before_v = 1e9;
    for (const double length_m : {1.0, 5.0, 20.0, 80.0}) {
        Trial t = hot(20.0);
        t.setup.cables[0].length_m = length_m;
        const double now_v = t.only("tracking-with-drop").value;
        CHECK(now_v < before_v);
        before_v = now_v;
    }
}
