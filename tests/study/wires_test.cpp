#include "trial.hpp"

#include <plait/physics/conductor.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/study/fuses_wanted.hpp>

using namespace plait;
using namespace plait::study;

namespace {

Cable cable(CableRun run, double ohm_per_m, double length_m) {
    Cable c;
    c.name = "cable";
    c.run = run;
    c.length_m = length_m;
    c.size = {4.0, std::nullopt};
    c.resistance_ohm_per_m = ohm_per_m;
    return c;
}

/// 0.2 Ω in each string, 0.1 Ω behind the joint.
Trial wired_trial() {
    Trial t = roomy_trial();
    t.setup.cables = {cable(CableRun::string, 0.005, 20.0), cable(CableRun::trunk, 0.005, 10.0)};
    return t;
}

InputJudgement first(const Trial& t) { return judged(t).inputs.at(0); }

}  // namespace

TEST_CASE("wires: at the operating point the array's own curve, less I·R, is what the input sees") {
    Trial t = wired_trial();
    t.wire(3, 2);
    const SystemModel system(t.setup);
    const rules::ConditionPoints points = system.points(0, t.plan[0]);
    Trial bare = t;
    bare.setup.cables.clear();
    const SystemModel without(bare.setup);
    for (const rules::ConditionPoint& p : points) {
        CAPTURE(rules::name_of(p.id));
        REQUIRE(p.operating.held());
        REQUIRE(p.cable);
        const double i = p.operating.point.current_a;
        const double ohm = 0.2 / 2 + 0.1;
        CHECK(p.cable->drop_v == Approx(ohm * i).epsilon(1e-12));
        CHECK(p.cable->loss_w == Approx(ohm * i * i).epsilon(1e-12));
        const physics::DiodeCurve array = system.fitted(0).model.at(p.condition).scaled(3, 2);
        CHECK(array.voltage_v(i) - ohm * i == Approx(p.operating.point.voltage_v).epsilon(1e-10));
        CHECK(p.operating.point.power_w() < p.cable->without.point.power_w());
        CHECK(p.open_circuit_v == Approx(array.open_circuit_v()).epsilon(1e-12));
        // Moving along the array's flat top, the input loses less than the copper at its own best point would take.
        const physics::PowerPoint best = array.maximum_power();
        CHECK(p.cable->without.point.power_w() - p.operating.point.power_w() <=
              ohm * best.current_a * best.current_a * (1.0 + 1e-9));
    }
    const rules::ConditionPoints bare_points = without.points(0, t.plan[0]);
    for (std::size_t c = 0; c < points.size(); ++c) {
        CHECK_FALSE(bare_points[c].cable);
        CHECK(points[c].cable->without.point.power_w() == bare_points[c].operating.point.power_w());
    }
}

TEST_CASE("wires: an array written out with its light, and the short form, agree behind a cable") {
    Trial t = wired_trial();
    t.wire(3, 2);
    const SystemModel system(t.setup);
    InputWiring written = t.plan[0];
    written.strings[0].panels[0].groups.resize(2);  // full light, said panel by panel: no longer the short form
    REQUIRE_FALSE(as_equal_strings(written));
    const rules::ConditionPoints equal = system.points(0, t.plan[0]);
    const rules::ConditionPoints mixed = system.points(0, written);
    for (std::size_t c = 0; c < equal.size(); ++c) {
        CHECK(mixed[c].operating.point.power_w() == Approx(equal[c].operating.point.power_w()).epsilon(1e-6));
        CHECK(mixed[c].cable->loss_w == Approx(equal[c].cable->loss_w).epsilon(1e-4));
    }
}

TEST_CASE("law: a cable never raises the harvest, a longer one takes more, and none touches the cold voltage") {
    Trial t = roomy_trial();
    t.wire(3, 2);
    double before_w = judged(t).harvest.european_w;
    const double cold_v = first(t).facts.cold_voc_v[0];
    CHECK(judged(t).wireless_harvest.european_w == before_w);
    const double without_w = before_w;
    for (const double length_m : {1.0, 10.0, 50.0, 200.0}) {
        for (const CableRun run : {CableRun::panel_leads, CableRun::string, CableRun::trunk}) {
            CAPTURE(length_m, plait::name_of(run));
            t.setup.cables.push_back(cable(run, 0.003, length_m));
            const Judgement j = judged(t);
            CHECK(j.harvest.european_w < before_w);
            CHECK(j.wireless_harvest.european_w == Approx(without_w).epsilon(1e-12));
            CHECK(j.inputs[0].facts.cold_voc_v[0] == cold_v);
            before_w = j.harvest.european_w;
        }
    }
}

TEST_CASE("wires: a long cable can push the working point out of the tracking range") {
    Trial t = roomy_trial();
    t.wire(2, 1);  // 32 V at work on the hottest day, 30 V wanted
    CHECK(deciding(judged(t), "tracking-bottom").finding.outcome == Outcome::within);
    t.setup.cables = {cable(CableRun::string, 0.005, 100.0)};  // 1 Ω: 5 V
    const Judgement j = judged(t);
    CHECK(deciding(j, "tracking-bottom").finding.outcome == Outcome::within);
    CHECK(deciding(j, "tracking-with-drop").finding.outcome == Outcome::falls_short);
    CHECK(j.verdict.intake == Intake::falls_short);
    const auto& hot = j.inputs[0].points[static_cast<std::size_t>(rules::ConditionId::hot_bright)];
    CHECK(hot.operating.binding == physics::Binding::window_bottom);
    CHECK(j.inputs[0].help.shortest_string == 3);
}

TEST_CASE("wires: behind a direct-connect controller the battery's cable is in the circuit") {
    Trial t = roomy_trial();
    t.controller().type = ControllerType::direct_connect;
    t.controller().battery = Battery{10.5, 12.5, 14.6, std::nullopt};
    t.wire(1, 2);
    t.setup.cables = {cable(CableRun::battery, 0.01, 10.0)};  // 0.2 Ω
    const SystemModel system(t.setup);
    CHECK(system.wires(0, t.plan[0]).trunk_ohm == exactly(0.2));
    const rules::ConditionPoint stc = system.points(0, t.plan[0])[static_cast<std::size_t>(rules::ConditionId::stc)];
    CHECK(stc.operating.point.voltage_v == exactly(12.5));
    const physics::DiodeCurve array = system.fitted(0).model.at({}).scaled(1, 2);
    CHECK(array.current_a(12.5 + 0.2 * stc.operating.point.current_a) ==
          Approx(stc.operating.point.current_a).epsilon(1e-10));
    t.controller().type = ControllerType::step_down;
    CHECK(SystemModel(t.setup).wires(0, t.plan[0]).trunk_ohm == 0.0);
}

TEST_CASE("wires: the fuse to buy is the smallest by the code in force, or by both; one that is fitted stays") {
    Setup setup = roomy_trial().setup;
    rules::StringFuse fuse;
    fuse.nec.sizes = {10.0, 15.0};
    fuse.iec.sizes = {8.0, 12.0, 15.0};
    fuse.both = {15.0};
    for (const auto& [code, wanted_a] : {std::pair{Code::nec, 10.0}, std::pair{Code::iec, 8.0}, std::pair{Code::both, 15.0}}) {
        setup.site.code = code;
        CHECK(chosen_fuse_a(setup, fuse) == wanted_a);
    }
    fuse.both.clear();
    CHECK_FALSE(chosen_fuse_a(setup, fuse));
    fuse.fitted_a = 20.0;
    CHECK(chosen_fuse_a(setup, fuse) == 20.0);
}

TEST_CASE("wires: a cable of one input is not in another's way") {
    Trial t = wired_trial();
    t.setup.cables[0].input = 1;
    const SystemModel system(t.setup);
    CHECK(system.wires(0, t.plan[0]).string_ohm.empty());
    CHECK(system.wires(1, t.plan[0]).string_ohm == std::vector<double>{0.2});
}
