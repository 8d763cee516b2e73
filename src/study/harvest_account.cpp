#include <plait/study/harvest_account.hpp>

#include <plait/study/judgement.hpp>

namespace plait::study {
namespace {

double european(const LevelPowers& w) { return weighted(w).european_w; }

}  // namespace

InputWiring all_on_hand(const Setup& setup) {
    InputWiring all;
    for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
        for (int i = 0; i < setup.kinds[kind].count; ++i) all.strings.push_back({{PanelPlace{kind, {}}}, false});
    }
    return all;
}

HarvestAccount harvest_account(const SystemModel& system, const ArrayPlan& plan) {
    HarvestAccount account;
    account.on_hand_w = european(system.free_powers(all_on_hand(system.setup())));
    double used_w = 0.0;
    double arrays_w = 0.0;
    double wired_w = 0.0;
    LevelPowers sum_w{};
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        used_w += european(system.free_powers(plan[i]));
        LevelPowers array_w{};
        LevelPowers behind_cables_w{};
        const physics::WireResistance wires = system.wires(i, plan[i]);
        const LevelPowers taken_w = system.level_powers(i, plan[i]);
        for (std::size_t l = 0; l < sum_w.size(); ++l) {
            array_w[l] = system.level_curve(plan[i], l).maximum_power().power_w();
            behind_cables_w[l] = system.setup().cables.empty()
                                     ? array_w[l]
                                     : system.level_curve(plan[i], l, wires).maximum_power().power_w();
            sum_w[l] += taken_w[l];
        }
        arrays_w += european(array_w);
        wired_w += european(behind_cables_w);
    }
    const double inputs_w = european(sum_w);
    for (double& w : sum_w) w = shared_w(system.setup().controller, w);
    account.harvest_w = european(sum_w);
    account.unused_w = account.on_hand_w - used_w;
    account.mismatch_w = used_w - arrays_w;
    account.cables_w = arrays_w - wired_w;
    account.inputs_w = wired_w - inputs_w;
    account.shared_w = inputs_w - account.harvest_w;
    return account;
}

}  // namespace plait::study
