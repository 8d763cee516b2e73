#include "trial.hpp"

#include <plait/study/shared_limit.hpp>

using namespace plait;
using namespace plait::study;

// Four round panels: 400 W. Into 20 V that is 20 A.
TEST_CASE("the limit behind a plan that clips as a whole is the one that clips") {
    Trial t = roomy_trial();
    t.wire(2, 2);
    t.controller().max_total_power_w = 300.0;
    CHECK(shared_limit(t.setup, t.plan).id == "shared-power");
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{18.0, 20.0, 22.0, 20.0};
    CHECK(shared_limit(t.setup, t.plan).id == "shared-power");
    t.controller().battery->max_charge_current_a = 19.9;
    CHECK(shared_limit(t.setup, t.plan).id == "charge-current");
}
