#include <plait/search/arrangement.hpp>

#include <plait/study/harvest_account.hpp>

#include "ranking.hpp"
#include "trade_offs.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace plait::search {
namespace {

constexpr double equal_ratio = 1e-9;


void sort_plans(Arrangement& a) {
    std::vector<std::size_t> order(a.plans.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto key = [&](std::size_t i) {
        const RankedPlan& p = a.plans[i];
        return std::make_tuple(rank_class(p.verdict), -p.harvest.european_w, p.panels_used, p.strings,
                               -p.cold_margin_v);
    };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) {
        return key(x) != key(y) ? key(x) < key(y) : a.plans[x].candidates < a.plans[y].candidates;
    });
    std::vector<RankedPlan> sorted;
    sorted.reserve(order.size());
    for (const std::size_t i : order) sorted.push_back(std::move(a.plans[i]));
    a.plans = std::move(sorted);
}

study::LevelPowers level_sums(const Arrangement& a, const RankedPlan& p) {
    study::LevelPowers sum_w{};
    for (const std::size_t c : p.candidates) {
        for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += a.candidates[c].level_power_w[l];
    }
    return sum_w;
}

/// What all panels on hand would give one by one, or all inputs take: no wiring harvests more.
double plain_bound_w(const study::SystemModel& system) {
    double inputs_w = 0.0;
    for (std::size_t i = 0; i < system.setup().controller.inputs.size(); ++i) inputs_w += system.window(i).power_w;
    study::LevelPowers most_w = system.free_powers(study::all_on_hand(system.setup()));
    for (double& w : most_w) w = study::shared_w(system.setup().controller, std::min(w, inputs_w));
    return study::weighted(most_w).european_w;
}

class Arranger {
public:
    Arranger(const study::SystemModel& system, const ArrangeRequest& request)
        : system_(system), request_(request), ranking_(system, arrangement_) {}

    Arrangement run() {
        Arrangement& a = arrangement_;
        add_equal_plans(system_.setup(), ranking_);
        sort_plans(a);
        look_for_the_best();
        if (a.plans.empty() || !usable(a.plans.front())) {
            // Nothing holds, so that one of those that may exceed is the best there is.
            accepted_ = RankClass::may_exceed;
            a.searched = {};
            look_for_the_best();
        }
        if (!a.plans.empty() && usable(a.plans.front())) a.advised = simplest();
        if (request_.trade_offs) a.trade_offs = trade_offs(system_, a);
        return std::move(a);
    }

private:
    [[nodiscard]] bool usable(const RankedPlan& p) const { return rank_class(p.verdict) == accepted_; }

    void look_for_the_best() {
        Arrangement& a = arrangement_;
        const double plain_w = plain_bound_w(system_);
        a.searched.bound_w = plain_w;
        a.searched.at_label = !a.plans.empty() && usable(a.plans.front()) &&
                              a.plans.front().harvest.european_w >= plain_w * (1.0 - equal_ratio);
        const bool settled = a.searched.at_label && !simplest_may_be_missing();
        if (!settled || request_.trade_offs) search();
        sort_plans(a);
    }

    [[nodiscard]] std::size_t usable_count() const {
        return static_cast<std::size_t>(std::count_if(arrangement_.plans.begin(), arrangement_.plans.end(),
                                                      [&](const RankedPlan& p) { return usable(p); }));
    }

    /// Among the plans met so far that come within 1 % of the best.
    [[nodiscard]] std::size_t simplest() const {
        const std::vector<RankedPlan>& plans = arrangement_.plans;
        std::size_t best = 0;
        for (std::size_t i = 1; i < plans.size() && usable(plans[i]); ++i) {
            if (plans[i].harvest.european_w < (1.0 - near_tie_ratio) * plans.front().harvest.european_w) break;
            if (simpler(plans[i], plans[best])) best = i;
        }
        return best;
    }

    /// Equal strings are never unlike, and without joints nothing is simpler.
    [[nodiscard]] bool simplest_may_be_missing() const { return arrangement_.plans[simplest()].joints > 0; }

    void search() {
        Arrangement& a = arrangement_;
        study::LevelPowers likely_w{};
        if (usable_count() > 0) likely_w = level_sums(a, a.plans.front());
        const double best_w = usable_count() > 0 ? a.plans.front().harvest.european_w : 0.0;
        const auto go_on = [&] { return !request_.keep_going || request_.keep_going({0, best_w, a.searched.bound_w}); };
        PlanSearch search(system_, likely_w, go_on, accepted_ == RankClass::may_exceed ? Accept::may_exceed : Accept::holds);
        a.searched.possible = search.possible();
        if (!search.possible()) return;
        a.searched.count = search.count(go_on);
        if (!a.searched.at_label || request_.trade_offs) best_plans(search);
        if (usable_count() > 0) simpler_plans(search);
    }

    SearchResult run(PlanSearch& search, SearchRequest request) {
        request.keep_going = request_.keep_going;
        const SearchResult result = search.run(request);
        arrangement_.searched.solved += result.solved;
        for (const FoundPlan& f : result.plans) ranking_.add_written_out(f.plan);
        sort_plans(arrangement_);
        return result;
    }

    void best_plans(PlanSearch& search) {
        const std::vector<RankedPlan>& plans = arrangement_.plans;
        SearchRequest request;
        request.keep = std::max<std::size_t>(request_.top, 1);
        if (usable_count() >= request.keep)
            request.above_w = plans[request.keep - 1].harvest.european_w * (1.0 - equal_ratio);
        const SearchResult result = run(search, request);
        arrangement_.searched.finished = result.finished;
        arrangement_.searched.bound_w = std::min(result.bound_w, arrangement_.searched.bound_w);
    }

    /// Is there a simpler one nearly as good? First with fewer joints, then with fewer unlike panels in a string.
    void simpler_plans(PlanSearch& search) {
        bool& finished = arrangement_.searched.simplest_finished;
        const auto look = [&](int most_joints, bool like_strings_only) {
            SearchRequest request;
            request.most_joints = most_joints;
            request.like_strings_only = like_strings_only;
            request.above_w = (1.0 - near_tie_ratio) * arrangement_.plans.front().harvest.european_w;
            const SearchResult result = run(search, request);
            finished = finished && result.finished;
            return !result.plans.empty();
        };
        for (int most = 0; finished && most < arrangement_.plans[simplest()].joints; ++most) {
            if (look(most, false)) break;
        }
        const RankedPlan& now = arrangement_.plans[simplest()];
        if (finished && now.unlike > 0) look(now.joints, true);
    }

    const study::SystemModel& system_;
    const ArrangeRequest& request_;
    Arrangement arrangement_;
    Ranking ranking_;
    RankClass accepted_ = RankClass::holds;
};

}  // namespace

Arrangement arrange(const study::SystemModel& system, const ArrangeRequest& request) { return Arranger(system, request).run(); }

ArrayPlan written_out(const Arrangement& arrangement, const RankedPlan& plan, std::size_t inputs) {
    ArrayPlan written(inputs);
    for (const std::size_t i : plan.candidates) {
        const Candidate& c = arrangement.candidates[i];
        written[c.input] = c.wiring;
    }
    return written;
}

}  // namespace plait::search
