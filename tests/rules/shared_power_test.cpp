#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
// Two inputs, 100 W and 60 W in every weather.
Trial two_inputs(double total_w) {
    Trial t;
    t.add_input(same_points(20.0, 3.0));
    t.controller().max_total_power_w = total_w;
    return t;
}
}  // namespace

TEST_CASE("shared power: nothing stated, nothing found") { CHECK(Trial{}.check("shared-power").empty()); }

TEST_CASE("shared power: the limit itself, a step beyond, and words") {
    CHECK(two_inputs(160.0).only("shared-power").outcome == Outcome::within);
    const Trial t = two_inputs(159.9);
    const Finding f = t.only("shared-power");
    CHECK(f.value == exactly(160.0));
    CHECK(f.outcome == Outcome::clips);
    CHECK_THAT(t.because("shared-power", f), Contains("160.0 W") && Contains("159.9 W"));
    CHECK_THAT(t.instead("shared-power", f), Contains("Ask the maker"));
    Trial said = two_inputs(159.9);
    said.input(0).over_current = OverCurrent::only_clips;
    CHECK(said.only("shared-power").test == 1);  // the other input's manual is silent
    said.input(1).over_current = OverCurrent::only_clips;
    CHECK_THAT(said.instead("shared-power", said.only("shared-power")), Contains("Nothing breaks, says the maker"));
}

TEST_CASE("shared power: what the inputs take counts, and in one and the same weather") {
    Trial t = two_inputs(500.0);
    // The second input gives its most when the first gives nothing: the sums are 160 and 150 W, not 250 W.
    at(t.points[0], ConditionId::weak_light).operating.point = {};
    at(t.points[1], ConditionId::weak_light).operating.point = {30.0, 5.0};
    CHECK(t.only("shared-power").value == exactly(160.0));
    // The array could give more than the input takes: that does not load the charger.
    for (ConditionPoint& p : t.points[1]) p.operating.free_maximum = {40.0, 40.0};
    CHECK(t.only("shared-power").value == exactly(160.0));
}

// Two panels on the label, 0/+5 %: 160 … 168 W.
TEST_CASE("shared power: the label's tolerance carries over") {
    Trial t = two_inputs(165.0);
    t.panel().pmax_tolerance_above_ratio = 0.05;
    const Finding f = t.only("shared-power");
    CHECK(f.spread.upper() == exactly(168.0));
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
}
