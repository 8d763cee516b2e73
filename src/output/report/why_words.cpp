#include "why_words.hpp"

#include "arrange_words.hpp"
#include "render/style.hpp"

#include <plait/base/names.hpp>
#include <plait/search/plan_gap.hpp>

namespace plait::output {
namespace {

constexpr double least_shown_w = 0.05;

std::string_view words_of(search::AccountLoss loss) {
    using search::AccountLoss;
    static constexpr Names names{Name{AccountLoss::unused, "more are left in panels it does not use"},
                                 Name{AccountLoss::mismatch, "more are lost between unlike panels tied together"},
                                 Name{AccountLoss::cables, "more stay in the cables"},
                                 Name{AccountLoss::inputs, "more are cut off by the inputs' own limits"},
                                 Name{AccountLoss::shared, "more are cut off by the limit on all inputs together"}};
    return name_in(names, loss);
}

}  // namespace

std::vector<std::string> why_reasons(const study::SystemModel& system, const search::Arrangement& a,
                                     const study::Judgement& judged, const ArrayPlan& plan) {
    const Setup& setup = system.setup();
    std::vector<std::string> reasons;
    if (!judged.verdict.usable()) {
        for (const study::PlacedFinding& found : study::headline_findings(judged)) {
            const rules::Outcome outcome = found.verdict->finding.outcome;
            if (outcome != rules::Outcome::exceeds && outcome != rules::Outcome::falls_short) continue;
            const std::string where = found.input ? setup.controller.inputs[*found.input].name + ": " : std::string();
            reasons.push_back(fmt::format("{}{} ({})", where, found.verdict->words.because, found.verdict->rule->id));
        }
        reasons.emplace_back("A search never builds it: only wirings that can be used are compared by what they take.");
        return reasons;
    }
    for (const rules::Condition& c : judged.verdict.conditions) {
        reasons.push_back("It needs " + words_of(c, setup) + ".");
    }
    if (!judged.verdict.holds() && a.advised && a.plans[*a.advised].verdict.holds()) {
        reasons.emplace_back("A tolerance or an unknown limit may carry it past what protects the input; those that hold come "
                             "first, whatever they take.");
    }
    if (a.plans.empty() || !a.plans.front().verdict.usable()) return reasons;
    const search::PlanGap gap = search::plan_gap(system, a, judged, plan);
    if (gap.as_good) {
        reasons.push_back("It takes as much as the first on the list.");
    } else {
        reasons.push_back(fmt::format("It takes {}; the first on the list, {}, {} ({}) more.",
                                      watts(judged.harvest.european_w), plan_label(setup, a, a.plans.front()),
                                      watts(gap.behind_w), per_cent(gap.of_own_ratio)));
        for (const search::MoreLost& one : gap.more) {
            if (one.more_w >= least_shown_w) reasons.push_back(fmt::format("{} {}.", watts(one.more_w), words_of(one.loss)));
        }
    }
    const search::RankedPlan& advised = a.plans[*a.advised];
    const bool is_advised = search::written_out(a, advised, setup.controller.inputs.size()) == plan;
    if (gap.near_tie && !is_advised) {
        const std::string because = simpler_because(advised, gap.own);
        if (!because.empty()) {
            reasons.push_back(fmt::format("Within 1 % the simpler wiring is advised: {} ({}).",
                                          plan_label(setup, a, advised), because));
        }
    }
    if (is_advised) reasons.push_back("It is the one advised.");
    return reasons;
}

}  // namespace plait::output
