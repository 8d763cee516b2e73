#include "wired.hpp"

#include <plait/rules/connector_figures.hpp>

using namespace plait;
using namespace plait::rules;

TEST_CASE("connectors: silent where nothing is stated and the class is enough") {
    CHECK(Trial().check("connector-rating").empty());
    CHECK(Trial().wire(2, 3).check("connector-rating").empty());  // 22.5 A behind the joint, class 30 A
}

// Three 12 A strings: 36 A, × 1.25 = 45 A on the common leg, 15 A on each; 30 A more than the class [branch ratings
// from memory].
TEST_CASE("connectors: a three-way joint of 12 A strings") {
    Trial t;
    t.panel().isc_a = 12.0;
    t.wire(2, 3);
    const Findings assumed = t.check("connector-rating");
    REQUIRE(assumed.size() == 1);
    CHECK(assumed[0].test == 1);
    CHECK(assumed[0].value == exactly(45.0));
    CHECK(assumed[0].limit == 30.0);
    CHECK(assumed[0].outcome == Outcome::needs);
    CHECK_THAT(t.because("connector-rating", assumed[0]), Contains("3 strings") && Contains("class"));
    t.setup.fittings.branch_a = 45.0;
    CHECK(t.only("connector-rating").outcome == Outcome::within);
    t.setup.fittings.branch_a = 44.0;
    CHECK(t.only("connector-rating").outcome == Outcome::exceeds);
    const auto c = t.with_situation([](const Situation& s) { return connector_figures(s); });
    CHECK(c.leg.current_a == exactly(15.0));
    CHECK(c.leg_reverse_a == exactly(30.0));
}

// 22 A at 2.5 mm² or unknown, 30 A at 4 mm², 40 A at 6 mm² [from memory].
TEST_CASE("connectors: the class goes by the cable") {
    const auto class_a = [](const Trial& t) {
        return t.with_situation([](const Situation& s) { return connector_figures(s).leg.rating_a; });
    };
    CHECK(class_a(Trial()) == 22.0);
    CHECK(class_a(wired(CableRun::string, metric(2.5), 1.0)) == 22.0);
    CHECK(class_a(wired(CableRun::string, awg(14), 1.0)) == 22.0);
    CHECK(class_a(wired(CableRun::string, metric(4), 1.0)) == 30.0);
    CHECK(class_a(wired(CableRun::string, awg(12), 1.0)) == 30.0);
    CHECK(class_a(wired(CableRun::string, metric(6), 1.0)) == 40.0);
    CHECK(class_a(wired(CableRun::trunk, metric(6), 1.0)) == 22.0);
    Trial t;
    t.setup.fittings.connector_a = 7.5;
    CHECK(class_a(t) == 7.5);
    CHECK(t.only("connector-rating").outcome == Outcome::within);
    t.setup.fittings.connector_a = 7.4;
    CHECK(t.only("connector-rating").outcome == Outcome::exceeds);
}

TEST_CASE("connectors: the plug carries what the input draws; a fault is shown beside it") {
    Trial t;
    t.input().plug_rating_a = 10.0;
    t.wire(1, 2);  // 15 A
    Findings found = t.check("connector-rating");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == exactly(15.0));
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK(found[0].decides);
    t.one_limit_a(9.0);
    t.input().over_current = OverCurrent::only_clips;
    found = t.check("connector-rating");
    CHECK(found[0].value == 9.0);
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[1].value == exactly(15.0));
    CHECK_FALSE(found[1].decides);
    t.controller().type = ControllerType::direct_connect;
    CHECK(t.check("connector-rating")[0].value == exactly(15.0));
}
