// The order of work of every shipped set-up, walked through with a meter.
#include "shipped_setups.hpp"

#include "../support/work_walk.hpp"

using namespace plait;

TEST_CASE("every demo can be wired and taken apart in the order said") {
    const std::vector<test::ShippedSetup> all = test::shipped_setups();
    REQUIRE(all.size() >= 5);
    int walked = 0;
    for (const test::ShippedSetup& one : all) {
        const study::SystemModel system(one.setup);
        for (const ArrayPlan& plan : test::usual_plans(one.setup)) {
            const study::Judgement judgement = study::judge(system, plan);
            if (judgement.verdict.connection == study::Connection::forbidden) continue;
            CAPTURE(one.file);
            ++walked;
            for (const bool disconnect : {true, false}) {
                support::walk_through(one.setup, judgement, {disconnect});
            }
        }
    }
    CHECK(walked > 20);
}
