#include "wired.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("cable drop: without cables on the way the rule is silent") {
    CHECK(Trial().check("cable-drop").empty());
    CHECK(wired(CableRun::battery, metric(4), 1.0).check("cable-drop").empty());
}

// 20 V at work, 5 A: 2 % are 0.4 V. A maker's 4 Ω/km over 10 m and back is 0.08 Ω: 0.4 V, at the target.
TEST_CASE("cable drop: by hand, at the target and a step beyond") {
    Trial t = wired(CableRun::string, metric(4), 10.0);
    t.setup.cables[0].resistance_ohm_per_m = 0.004;
    Finding f = t.only("cable-drop");
    CHECK(f.value == exactly(0.4));
    CHECK(f.limit == exactly(0.4));
    CHECK(f.outcome == Outcome::within);
    t.setup.cables[0].length_m = 10.01;
    f = t.only("cable-drop");
    CHECK(f.outcome == Outcome::clips);
    CHECK_THAT(t.because("cable-drop", f), Contains("0.40 V") && Contains("4 mm²"));
    CHECK_FALSE(t.instead("cable-drop", f).empty());
}

TEST_CASE("cable drop: cables one after the other add up, each with its own current") {
    Trial t = wired(CableRun::string, metric(4), 10.0);
    t.setup.cables[0].resistance_ohm_per_m = 0.004;
    t.setup.cables.push_back(t.setup.cables[0]);
    t.setup.cables[1].run = CableRun::trunk;
    t.wire(2, 3);
    CHECK(t.only("cable-drop").value == exactly(0.4 + 3 * 0.4));
    CHECK(t.only("cable-drop").limit == exactly(0.8));
}

TEST_CASE("cable drop: thicker never drops more") {
    double before_v = 1e9;
    for (const CableSize& size : physics::metric_sizes()) {
        const double now_v = wired(CableRun::string, size, 10.0).only("cable-drop").value;
        CHECK(now_v < before_v);
        before_v = now_v;
    }
}

TEST_CASE("cable drop: it never touches the cold voltage") {
    Trial t = wired(CableRun::string, metric(1.5), 500.0);
    const Trial bare;
    CHECK(t.check("cold-voltage").front().value == bare.check("cold-voltage").front().value);
}
