#include "panel_counts.hpp"
#include "ranking.hpp"

#include <plait/search/plan_search.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

namespace plait::search {
namespace {

// Beyond this many combinations of inputs, only the best wiring per number of panels of each input goes on.
constexpr double most_plans = 50000.0;
// Where even those are too many, so many of the best combinations are kept.
constexpr std::size_t most_kept = 2000;
// And so many tried at most, the best wirings of each input first.
constexpr std::size_t most_tried = 3000000;

int panels(const Candidate& c) { return static_cast<int>(c.wiring.panel_count()); }
std::size_t kind_of(const Candidate& c) { return c.wiring.strings.front().panels.front().kind; }

class Combiner {
public:
    Combiner(const Setup& setup, Ranking& ranking) : ranking_(ranking), out_(ranking.arrangement()) {
        for (const PanelKind& kind : setup.kinds) left_.push_back(kind.count);
        by_input_.resize(setup.controller.inputs.size());
    }

    void run() {
        double combinations = 1.0;
        for (std::size_t input = 0; input < by_input_.size(); ++input) {
            for (std::size_t i = 0; i < out_.candidates.size(); ++i) {
                if (out_.candidates[i].input == input) by_input_[input].push_back(i);
            }
            combinations *= static_cast<double>(by_input_[input].size() + 1);
        }
        if (combinations > most_plans) {
            thin();
            combinations = 1.0;
            for (const std::vector<std::size_t>& list : by_input_) combinations *= static_cast<double>(list.size() + 1);
        }
        if (combinations > most_plans) {
            best_only();
        } else {
            pick(0);
        }
    }

private:
    void thin() {
        out_.thinned = true;
        for (std::vector<std::size_t>& list : by_input_) {
            std::map<std::pair<std::size_t, int>, std::size_t> best;
            for (const std::size_t i : list) {
                const Candidate& c = out_.candidates[i];
                const auto better = [&](const Candidate& a, const Candidate& b) {
                    return std::make_tuple(-static_cast<int>(rank_class(a.verdict)), study::weighted(a.level_power_w).european_w) >
                           std::make_tuple(-static_cast<int>(rank_class(b.verdict)), study::weighted(b.level_power_w).european_w);
                };
                const auto [at, fresh] = best.try_emplace({kind_of(c), panels(c)}, i);
                if (!fresh && better(c, out_.candidates[at->second])) at->second = i;
            }
            list.clear();
            for (const auto& entry : best) list.push_back(entry.second);
        }
    }

    // The combinations that harvest most, before any limit on all inputs together; what cannot be used stands alone.
    void best_only() {
        for (const Candidate& c : out_.candidates) harvest_w_.push_back(study::weighted(c.level_power_w).european_w);
        for (std::vector<std::size_t>& list : by_input_) {
            std::vector<std::size_t> usable;
            for (const std::size_t i : list) {
                if (out_.candidates[i].verdict.usable()) {
                    usable.push_back(i);
                } else {
                    ranking_.add_plan({i});
                }
            }
            list = std::move(usable);
            std::stable_sort(list.begin(), list.end(),
                             [&](std::size_t x, std::size_t y) { return harvest_w_[x] > harvest_w_[y]; });
        }
        double counts = 1.0;
        for (const int n : left_) counts *= n + 1.0;
        // Without the table the stock counts for nothing in the bound: it still holds, and cuts less.
        if (counts <= static_cast<double>(PlanSearch::most_counts)) counts_.emplace(left_);
        find_most_after();
        try_best(0, 0.0);
        for (const auto& [sum_w, plan] : kept_) ranking_.add_plan(plan);
    }

    [[nodiscard]] std::size_t taken(std::size_t candidate) const {
        const Candidate& c = out_.candidates[candidate];
        return counts_ ? static_cast<std::size_t>(panels(c)) * counts_->one_of(kind_of(c)) : 0;
    }

    // What the inputs from each on bring at most of what is left.
    void find_most_after() {
        const std::size_t n = counts_ ? counts_->size() : 1;
        most_after_w_.assign(by_input_.size() + 1, std::vector<double>(n, 0.0));
        for (std::size_t input = by_input_.size(); input-- > 0;) {
            const std::vector<double>& after_w = most_after_w_[input + 1];
            std::vector<double>& here_w = most_after_w_[input];
            here_w = after_w;
            for (const std::size_t i : by_input_[input]) {
                const std::size_t part = taken(i);
                const double own_w = harvest_w_[i];
                const auto take = [&](std::size_t c) { here_w[c] = std::max(here_w[c], own_w + after_w[c - part]); };
                if (counts_) {
                    counts_->for_each_whole(part, take);
                } else {
                    take(0);
                }
            }
        }
    }

    void try_best(std::size_t input, double sum_w) {
        if (input == by_input_.size()) {
            if (chosen_.empty()) return;
            kept_.emplace(sum_w, chosen_);
            if (kept_.size() > most_kept) kept_.erase(kept_.begin());
            return;
        }
        const auto hopeless = [&](double with_own_w, std::size_t left) {
            return kept_.size() == most_kept && with_own_w + most_after_w_[input + 1][left] <= kept_.begin()->first;
        };
        const std::size_t left = counts_ ? counts_->number(left_) : 0;
        for (const std::size_t i : by_input_[input]) {
            const Candidate& c = out_.candidates[i];
            if (panels(c) > left_[kind_of(c)]) continue;
            if (++tried_ > most_tried) return;
            if (hopeless(sum_w + harvest_w_[i], left - taken(i))) continue;
            left_[kind_of(c)] -= panels(c);
            chosen_.push_back(i);
            try_best(input + 1, sum_w + harvest_w_[i]);
            chosen_.pop_back();
            left_[kind_of(c)] += panels(c);
        }
        if (!hopeless(sum_w, left)) try_best(input + 1, sum_w);
    }

    void pick(std::size_t input) {
        if (input == by_input_.size()) {
            if (!chosen_.empty()) ranking_.add_plan(chosen_);
            return;
        }
        pick(input + 1);
        for (const std::size_t i : by_input_[input]) {
            const Candidate& c = out_.candidates[i];
            if (panels(c) > left_[kind_of(c)]) continue;
            left_[kind_of(c)] -= panels(c);
            chosen_.push_back(i);
            pick(input + 1);
            chosen_.pop_back();
            left_[kind_of(c)] += panels(c);
        }
    }

    Ranking& ranking_;
    Arrangement& out_;
    std::vector<int> left_;
    std::vector<std::vector<std::size_t>> by_input_;
    std::vector<std::size_t> chosen_;
    std::vector<double> harvest_w_;                         // by candidate
    std::optional<PanelCounts> counts_;                     // of what is on hand
    std::vector<std::vector<double>> most_after_w_;         // by input and panels left
    std::multimap<double, std::vector<std::size_t>> kept_;  // by harvest, the least first
    std::size_t tried_ = 0;
};

}  // namespace

void add_equal_plans(const Setup& setup, Ranking& ranking) {
    for (std::size_t input = 0; input < setup.controller.inputs.size(); ++input) {
        for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
            const int count = setup.kinds[kind].count;
            for (int in_series = 1; in_series <= count; ++in_series) {
                for (int in_parallel = 1; in_series * in_parallel <= count; ++in_parallel) {
                    ranking.add_candidate(input, plait::written_out({kind, in_series, in_parallel}));
                }
            }
        }
    }
    Combiner(setup, ranking).run();
}

}  // namespace plait::search
