// Where the watts go between the panels on hand and what a plan harvests.
#pragma once

#include <plait/study/system_model.hpp>

namespace plait::study {

/// Every panel of the set-up, each by itself.
[[nodiscard]] InputWiring all_on_hand(const Setup& setup);

/// European-weighted watts. `on_hand_w` less everything lost is `harvest_w`.
struct HarvestAccount {
    double on_hand_w = 0.0;  ///< every panel of the set-up at its own maximum
    double unused_w = 0.0;  ///< of panels the plan leaves out and of light that shade takes (negative where it asks for
                            ///< more than are on hand)
    double mismatch_w = 0.0;  ///< lost because panels are tied together
    double cables_w = 0.0;    ///< lost in cables, each array at its best behind them
    double inputs_w = 0.0;    ///< lost to the inputs' windows and limits
    double shared_w = 0.0;    ///< lost to the controller's limit on all inputs
    double harvest_w = 0.0;

    /// Of what reaches the inputs, the share that their limits leave.
    [[nodiscard]] double clipped_ratio() const {
        const double left_w = inputs_w + shared_w;
        return left_w > 0.0 ? left_w / (harvest_w + left_w) : 0.0;
    }
};

[[nodiscard]] HarvestAccount harvest_account(const SystemModel& system, const ArrayPlan& plan);

}  // namespace plait::study
