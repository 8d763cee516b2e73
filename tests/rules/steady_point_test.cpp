#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {

Trial without_point(ConditionId id, physics::NoPoint why, double open_circuit_v) {
    Trial t;
    t.input().tracking_min_v = 30.0;
    t.input().tracking_max_v = 80.0;
    ConditionPoint& p = at(t.points[0], id);
    p.operating = {};
    p.operating.none = why;
    p.open_circuit_v = open_circuit_v;
    return t;
}

}  // namespace

TEST_CASE("steady point: held in every weather, nothing found") { CHECK(Trial{}.check("steady-point").empty()); }

TEST_CASE("steady point: an array that never reaches the window") {
    const Trial t = without_point(ConditionId::hot_bright, physics::NoPoint::too_low, 29.0);
    const Finding f = t.only("steady-point");
    CHECK(f.test == 0);
    CHECK(f.outcome == Outcome::falls_short);
    CHECK(f.value == 29.0);
    CHECK(f.limit == 30.0);
    CHECK(f.sense == Sense::at_least);
    CHECK(f.margin() == -1.0);
    CHECK_THAT(t.because("steady-point", f), Contains("hot and bright") && Contains("29.00 V") && Contains("30.00 V"));
    CHECK_THAT(t.instead("steady-point", f), Contains("more panels in series"));
}

TEST_CASE("steady point: an array that is pushed out at the top") {
    const Trial t = without_point(ConditionId::warm_bright, physics::NoPoint::pushed_out, 90.0);
    const Finding f = t.only("steady-point");
    CHECK(f.test == 1);
    CHECK(f.outcome == Outcome::falls_short);
    CHECK(f.value == 90.0);
    CHECK(f.limit == 80.0);
    CHECK(f.margin() == -10.0);
    CHECK_THAT(t.because("steady-point", f), Contains("warm and bright") && Contains("80.00 V"));
    CHECK_THAT(t.instead("steady-point", f), Contains("fewer strings"));
}

TEST_CASE("steady point: the window's bottom includes the battery's, or what a controller pins the array to") {
    Trial t = without_point(ConditionId::stc, physics::NoPoint::too_low, 20.0);
    t.controller().battery = Battery{40.0, 48.0, 57.6, {}};
    t.controller().running_headroom_v = 1.0;
    t.controller().type = ControllerType::step_down;
    CHECK(t.only("steady-point").limit == exactly(58.6));
    t.controller().type = ControllerType::direct_connect;
    t.controller().direct_connect_drop_v = 0.5;
    CHECK(t.only("steady-point").limit == exactly(48.5));
}

TEST_CASE("steady point: the most ordinary weather is told first; darkness and weak light are no fault") {
    Trial t = without_point(ConditionId::cold_bright, physics::NoPoint::too_low, 28.0);
    CHECK(t.only("steady-point").value == 28.0);
    ConditionPoint& warm = at(t.points[0], ConditionId::warm_bright);
    warm.operating.none = physics::NoPoint::too_low;
    warm.open_circuit_v = 27.0;
    ConditionPoint& hot = at(t.points[0], ConditionId::hot_bright);
    hot.operating.none = physics::NoPoint::too_low;
    hot.open_circuit_v = 26.0;
    CHECK(t.only("steady-point").value == 27.0);
    warm.operating.none = physics::NoPoint::held;
    CHECK(t.only("steady-point").value == 26.0);
    CHECK(without_point(ConditionId::stc, physics::NoPoint::dark, 0.0).check("steady-point").empty());
    CHECK(without_point(ConditionId::weak_light, physics::NoPoint::too_low, 20.0).check("steady-point").empty());
}
