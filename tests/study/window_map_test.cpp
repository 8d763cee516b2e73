// How far the map of an input reaches.
#include "trial.hpp"

#include <plait/study/window_map.hpp>

using namespace plait;
using namespace plait::study;

namespace {

WindowMap map_of(const Trial& t) {
    return window_map(SystemModel(t.setup), 0, {{t.plan[0], judged(t).verdict}});
}

}  // namespace

TEST_CASE("window map: its top is above the maximum, or above the window where nobody states a maximum") {
    Trial t = roomy_trial();
    t.wire(1, 1);  // 30 V on the coldest morning: in nobody's way
    t.input().tracking_max_v = 80.0;
    CHECK(map_of(t).top_v == exactly(108.0));
    t.input().max_voltage_v.reset();
    CHECK(map_of(t).top_v == exactly(86.4));
    // Without an upper end of the window either, the array's own volts are all there is.
    t.input().tracking_max_v.reset();
    CHECK(map_of(t).top_v == exactly(1.05 * 30.0));
    CHECK_FALSE(map_of(t).max_voltage_v);
}

TEST_CASE("window map: a string that is too long on a cold morning is on it all the same") {
    Trial t = roomy_trial();
    t.wire(4, 1);
    CHECK(map_of(t).top_v == exactly(1.05 * 120.0));
}
