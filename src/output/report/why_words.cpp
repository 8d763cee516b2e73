#include "why_words.hpp"

#include "arrange_words.hpp"
#include "render/style.hpp"

#include <plait/study/harvest_account.hpp>

#include <algorithm>

namespace plait::output {
namespace {

void loss(std::vector<std::string>& reasons, double more_w, std::string_view words) {
    if (more_w >= 0.05) reasons.push_back(fmt::format("{} {}.", watts(more_w), words));
}

/// Why it harvests less than the best: the difference of the two accounts, largest first.
std::vector<std::string> losses(const study::HarvestAccount& own, const study::HarvestAccount& best) {
    struct Item {
        double more_w;
        std::string_view words;
    };
    std::vector<Item> items{{own.unused_w - best.unused_w, "more are left in panels it does not use"},
                            {own.mismatch_w - best.mismatch_w, "more are lost between unlike panels tied together"},
                            {own.cables_w - best.cables_w, "more stay in the cables"},
                            {own.inputs_w - best.inputs_w, "more are cut off by the inputs' own limits"},
                            {own.shared_w - best.shared_w, "more are cut off by the limit on all inputs together"}};
    std::stable_sort(items.begin(), items.end(), [](const Item& a, const Item& b) { return a.more_w > b.more_w; });
    std::vector<std::string> reasons;
    for (const Item& i : items) loss(reasons, i.more_w, i.words);
    return reasons;
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
    const search::RankedPlan& best = a.plans.front();
    const ArrayPlan best_plan = search::written_out(a, best, setup.controller.inputs.size());
    const double behind_w = best.harvest.european_w - judged.harvest.european_w;
    const double behind_ratio = behind_w / best.harvest.european_w;
    search::RankedPlan own;
    own.joints = search::joints(plan);
    own.unlike = search::unlike_panels(plan);
    own.cold_margin_ratio = 1.0;
    for (const study::InputJudgement& one : judged.inputs) {
        const auto method = static_cast<std::size_t>(setup.site.cold_method);
        const std::optional<double>& limit_v = setup.controller.inputs[one.input].max_voltage_v;
        own.cold_margin_ratio = std::min(own.cold_margin_ratio, limit_v ? 1.0 - one.facts.cold_voc_v[method] / *limit_v
                                                                        : search::unknown_margin_ratio);
    }
    if (behind_ratio <= 1e-9) {
        reasons.push_back("It takes as much as the first on the list.");
    } else {
        reasons.push_back(fmt::format("It takes {}; the first on the list, {}, {} ({}) more.",
                                      watts(judged.harvest.european_w), plan_label(setup, best_plan), watts(behind_w),
                                      per_cent(behind_w / judged.harvest.european_w)));
        for (std::string& r : losses(study::harvest_account(system, plan), study::harvest_account(system, best_plan))) {
            reasons.push_back(std::move(r));
        }
    }
    const search::RankedPlan& advised = a.plans[*a.advised];
    const bool is_advised = search::written_out(a, advised, setup.controller.inputs.size()) == plan;
    if (behind_ratio <= search::near_tie_ratio && !is_advised) {
        const std::string because = simpler_because(advised, own);
        if (!because.empty()) {
            reasons.push_back(fmt::format("Within 1 % the simpler wiring is advised: {} ({}).",
                                          plan_label(setup, a, advised), because));
        }
    }
    if (is_advised) reasons.push_back("It is the one advised.");
    return reasons;
}

}  // namespace plait::output
