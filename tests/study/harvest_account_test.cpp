#include "trial.hpp"

#include <plait/study/harvest_account.hpp>

using namespace plait;
using namespace plait::study;

TEST_CASE("harvest account: adds up to the last watt, and each loss has its cause") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 4;
    Panel weak = rules::round_panel();
    weak.imp_a = 2.5;
    weak.isc_a = 3.0;
    weak.pmax_w = 50.0;
    t.setup.kinds[t.add_kind("weak", weak)].count = 1;
    const auto account_of = [&](const ArrayPlan& plan) {
        const SystemModel system(t.setup);
        const HarvestAccount a = harvest_account(system, plan);
        CHECK(a.harvest_w == Approx(judge(system, plan).harvest.european_w).epsilon(1e-12));
        CHECK(a.on_hand_w - a.unused_w - a.mismatch_w - a.cables_w - a.inputs_w - a.shared_w ==
              Approx(a.harvest_w).epsilon(1e-12));
        return a;
    };
    const HarvestAccount equal = account_of({plait::written_out({0, 2, 2})});
    CHECK(equal.mismatch_w == Approx(0.0).margin(1e-6));
    CHECK(equal.inputs_w == Approx(0.0).margin(1e-6));
    // The weak panel stays in the shed: 50 W of 450 W on the label.
    CHECK(equal.unused_w / equal.on_hand_w == Approx(50.0 / 450.0).epsilon(0.02));

    const SeriesString tied{{PanelPlace{0, {}}, PanelPlace{0, {}}, PanelPlace{1, {}}}, false};
    const HarvestAccount mixed = account_of({{{tied}}});
    CHECK(mixed.mismatch_w > 0.1 * mixed.on_hand_w);
    CHECK(mixed.inputs_w == Approx(0.0).margin(1e-6));

    t.input().max_power_w = 100.0;
    CHECK(account_of({plait::written_out({0, 2, 2})}).inputs_w > 50.0);
    t.input().max_power_w = 5000.0;
    t.controller().max_total_power_w = 100.0;
    CHECK(account_of({plait::written_out({0, 2, 2})}).shared_w > 50.0);
}
