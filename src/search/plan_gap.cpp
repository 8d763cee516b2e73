#include <plait/search/plan_gap.hpp>

#include "ranking.hpp"

#include <plait/study/harvest_account.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace plait::search {
namespace {

using study::HarvestAccount;

std::vector<MoreLost> more_lost(const HarvestAccount& own, const HarvestAccount& best) {
    static constexpr std::array losses{std::pair{AccountLoss::unused, &HarvestAccount::unused_w},
                                       std::pair{AccountLoss::mismatch, &HarvestAccount::mismatch_w},
                                       std::pair{AccountLoss::cables, &HarvestAccount::cables_w},
                                       std::pair{AccountLoss::inputs, &HarvestAccount::inputs_w},
                                       std::pair{AccountLoss::shared, &HarvestAccount::shared_w}};
    std::vector<MoreLost> more;
    for (const auto& [loss, watts] : losses) {
        if (own.*watts > best.*watts) more.push_back({loss, own.*watts - best.*watts});
    }
    std::stable_sort(more.begin(), more.end(), [](const MoreLost& a, const MoreLost& b) { return a.more_w > b.more_w; });
    return more;
}

RankedPlan simplicity(const Setup& setup, const study::Judgement& judged, const ArrayPlan& plan) {
    RankedPlan own;
    own.joints = joints(plan);
    own.unlike = unlike_panels(plan);
    own.cold_margin_ratio = 1.0;
    const auto method = static_cast<std::size_t>(setup.site.cold_method);
    for (const study::InputJudgement& one : judged.inputs) {
        const std::optional<double>& limit_v = setup.controller.inputs[one.input].max_voltage_v;
        own.cold_margin_ratio = std::min(own.cold_margin_ratio, cold_margin_ratio(limit_v, one.facts.cold_voc_v[method]));
    }
    return own;
}

}  // namespace

PlanGap plan_gap(const study::SystemModel& system, const Arrangement& arrangement, const study::Judgement& judged,
                 const ArrayPlan& plan) {
    const Setup& setup = system.setup();
    const RankedPlan& best = arrangement.plans.front();
    PlanGap gap;
    gap.behind_w = best.harvest.european_w - judged.harvest.european_w;
    gap.of_best_ratio = gap.behind_w / best.harvest.european_w;
    gap.of_own_ratio = gap.behind_w / judged.harvest.european_w;
    gap.as_good = gap.of_best_ratio <= 1e-9;
    gap.near_tie = gap.of_best_ratio <= near_tie_ratio;
    gap.own = simplicity(setup, judged, plan);
    if (!gap.as_good) {
        const ArrayPlan best_plan = written_out(arrangement, best, setup.controller.inputs.size());
        gap.more = more_lost(study::harvest_account(system, plan), study::harvest_account(system, best_plan));
    }
    return gap;
}

}  // namespace plait::search
