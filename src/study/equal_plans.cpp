#include "ranking.hpp"

#include <map>
#include <tuple>
#include <utility>
#include <vector>

namespace plait::study {
namespace {

// Beyond this many combinations of inputs, only the best wiring per number of panels of each input goes on.
constexpr double most_plans = 50000.0;

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
        if (combinations > most_plans) thin();
        pick(0);
    }

private:
    void thin() {
        out_.thinned = true;
        for (std::vector<std::size_t>& list : by_input_) {
            std::map<std::pair<std::size_t, int>, std::size_t> best;
            for (const std::size_t i : list) {
                const Candidate& c = out_.candidates[i];
                const auto better = [&](const Candidate& a, const Candidate& b) {
                    return std::make_tuple(-rank_class(a.outcome), weighted(a.level_power_w).european_w) >
                           std::make_tuple(-rank_class(b.outcome), weighted(b.level_power_w).european_w);
                };
                const auto [at, fresh] = best.try_emplace({kind_of(c), panels(c)}, i);
                if (!fresh && better(c, out_.candidates[at->second])) at->second = i;
            }
            list.clear();
            for (const auto& entry : best) list.push_back(entry.second);
        }
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

}  // namespace plait::study
