#include <plait/search/match_why.hpp>

#include "weighing.hpp"

#include <algorithm>
#include <utility>

namespace plait::search {
namespace {

/// Whether one answer is worth telling beside another.
bool helps(const PairAnswer& other, const PairAnswer& now, MatchBy by) {
    if (!other.usable) return false;
    if (!now.usable || rank_class(other.verdict) < rank_class(now.verdict)) return true;
    if (rank_class(other.verdict) > rank_class(now.verdict)) return false;
    const std::optional<double> value = other.value(by);
    return value && (!now.value(by) || *value > (1.0 + near_tie_ratio) * *now.value(by));
}

/// The first that falls short, or where all exceed, the one of fewest panels: it says what even that breaks.
const RankedPlan& least_bad(const Arrangement& a) {
    if (rank_class(a.plans.front().verdict) != RankClass::exceeds) return a.plans.front();
    return *std::min_element(a.plans.begin(), a.plans.end(), [](const RankedPlan& x, const RankedPlan& y) { return x.panels_used < y.panels_used; });
}

MatchStudy one_class(const CataloguePanel& usual, const CatalogueController& controller, const CatalogueSite& site, int most_panels) {
    MatchRequest request;
    request.by = MatchBy::fill;
    request.panels = most_panels;
    return {{usual}, {controller}, site, "", {}, request};
}

}  // namespace

JudgedPair judged_pair(const MatchStudy& study, PairAnswer answer) {
    JudgedPair out;
    const std::size_t pair = answer.pair;
    out.setup = std::make_unique<const Setup>(study.setup(pair, answer.panels));
    out.system = std::make_unique<const study::SystemModel>(*out.setup);
    out.plan = answer.plan;
    if (!answer.usable) {
        const Arrangement a = arrange(*out.system, {1, false, {}});
        if (!a.plans.empty()) out.plan = written_out(a, least_bad(a), out.setup->controller.inputs.size());
    }
    if (!out.plan.empty()) out.judged = study::judge_and_look_up(*out.system, out.plan);
    out.answer = std::move(answer);
    return out;
}

PairWhy why_pair(const MatchStudy& study, const MatchOutcome& outcome, std::size_t pair, const KeepGoing& keep_going) {
    const MatchRequest& request = study.request();
    PairWhy why;
    PairAnswer own = study.solve(pair, keep_going);
    why.passes = own.listed(request.only);
    const auto listed = std::find_if(outcome.best.begin(), outcome.best.end(), [&](const PairAnswer& a) { return a.pair == pair; });
    if (listed != outcome.best.end()) why.place = static_cast<std::size_t>(listed - outcome.best.begin());
    const bool first = why.place == std::size_t{0};
    if (!first) {
        PairAnswer more = study.solve_with(pair, std::max(request.panels, own.panels) + 1, keep_going);
        if (helps(more, own, request.by)) why.one_more = std::move(more);
        if (own.panels > 1) {
            PairAnswer less = study.solve_with(pair, own.panels - 1, keep_going);
            if (helps(less, own, request.by)) why.one_less = std::move(less);
        }
    }
    if (!own.usable) {
        const CatalogueController& controller = study.controllers()[study.controller_of(pair)];
        const std::vector<UsualPanel>& usual = usual_panels();
        for (std::size_t u = 0; u < usual.size(); ++u) {
            PairAnswer a = one_class(usual[u].panel, controller, study.site(), request.panels).solve(0, keep_going);
            if (!a.usable || (why.with_class && !ranks_before(a, *why.with_class, MatchBy::fill))) continue;
            why.better_class = u;
            why.with_class = std::move(a);
        }
    }
    why.pair = judged_pair(study, std::move(own));
    return why;
}

std::vector<ClassAnswer> class_answers(const CatalogueController& controller, const CatalogueSite& site, int most_panels) {
    std::vector<ClassAnswer> out;
    const std::vector<UsualPanel>& usual = usual_panels();
    for (std::size_t u = 0; u < usual.size(); ++u) {
        const MatchStudy study = one_class(usual[u].panel, controller, site, most_panels);
        ClassAnswer one;
        one.usual = u;
        one.pair = judged_pair(study, study.solve(0));
        const Setup all = study.setup(0, most_panels);
        const study::SystemModel system(all);
        for (std::size_t input = 0; input < all.controller.inputs.size(); ++input) {
            for (int n = 1; n <= most_panels; ++n) {
                Weighed weighed;
                const Candidate c = weigh(system, input, plait::written_out({0, n, 1}), weighed);
                if (rank_class(c.verdict) != RankClass::holds) continue;
                one.shortest_string = std::min(one.shortest_string.value_or(n), n);
                one.longest_string = std::max(one.longest_string.value_or(n), n);
            }
        }
        out.push_back(std::move(one));
    }
    return out;
}

}  // namespace plait::search
