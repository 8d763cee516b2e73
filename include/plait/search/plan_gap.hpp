// How far a wiring is behind the first on an arrangement's list, and by what.
#pragma once

#include <plait/base/names.hpp>
#include <plait/search/arrangement.hpp>

#include <vector>

namespace plait::search {

/// The losses of a harvest account.
enum class AccountLoss { unused, mismatch, cables, inputs, shared };

/// More of one loss than the first on the list has; never negative.
struct MoreLost {
    AccountLoss loss = AccountLoss::unused;
    double more_w = 0.0;
};

struct PlanGap {
    double behind_w = 0.0;
    double of_best_ratio = 0.0;
    double of_own_ratio = 0.0;
    bool as_good = false;        ///< what is between them is rounding
    bool near_tie = false;       ///< within `near_tie_ratio`, where the simpler plan is advised
    std::vector<MoreLost> more;  ///< the largest first
    RankedPlan own;              ///< what decides between plans that take the same: joints, unlike panels, room in the cold
};

/// `judged` is of `plan`, which is usable; so is the first of the arrangement.
[[nodiscard]] PlanGap plan_gap(const study::SystemModel& system, const Arrangement& arrangement,
                               const study::Judgement& judged, const ArrayPlan& plan);

}  // namespace plait::search
