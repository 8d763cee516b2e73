#include <plait/study/arrangement.hpp>

#include "weighing.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <tuple>

namespace plait::study {
namespace {

using rules::Outcome;

// Beyond this many combinations of inputs, only the best wiring per number of panels of each input goes on.
constexpr double most_plans = 50000.0;

int panels(const Candidate& c) { return static_cast<int>(c.wiring.panel_count()); }
std::size_t kind_of(const Candidate& c) { return c.wiring.strings.front().panels.front().kind; }

class Combiner {
public:
    Combiner(const Bench& bench, const std::vector<Weighed>& weighed, Arrangement& arrangement)
        : bench_(bench), weighed_(weighed), out_(arrangement) {
        for (const PanelKind& kind : bench.setup().kinds) left_.push_back(kind.count);
        by_input_.resize(bench.setup().controller.inputs.size());
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
            if (!chosen_.empty()) add();
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

    void add() {
        RankedPlan plan;
        plan.candidates = chosen_;
        plan.cold_margin_v = std::numeric_limits<double>::infinity();
        LevelPowers sum_w{};
        double free_w = 0.0;
        for (const std::size_t i : chosen_) {
            const Candidate& c = out_.candidates[i];
            plan.panels_used += panels(c);
            plan.strings += static_cast<int>(c.wiring.strings.size());
            plan.cold_margin_v = std::min(plan.cold_margin_v, c.cold_margin_v);
            free_w += c.free_european_w;
            for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += c.level_power_w[l];
        }
        const Tally tally = tally_of_chosen();
        plan.outcome = tally.outcome();
        plan.proven = tally.proven();
        for (double& w : sum_w) w = shared_w(bench_.setup().controller, w);
        plan.harvest = weighted(sum_w);
        // Nothing gives more than its panels one by one; what rounding leaves below zero is zero.
        plan.lost_ratio = free_w > 0.0 ? std::max(0.0, 1.0 - plan.harvest.european_w / free_w) : 0.0;
        out_.plans.push_back(std::move(plan));
    }

    // The inputs' own findings with those about all of them together.
    Tally tally_of_chosen() {
        Tally tally;
        wired_.clear();
        for (const std::size_t i : chosen_) {
            tally.merge(weighed_[i].tally);
            wired_.push_back({out_.candidates[i].input, &out_.candidates[i].wiring, &weighed_[i].points});
        }
        tally.merge(plan_tally(bench_, wired_));
        return tally;
    }

    const Bench& bench_;
    const std::vector<Weighed>& weighed_;
    Arrangement& out_;
    std::vector<rules::WiredInput> wired_;
    std::vector<int> left_;
    std::vector<std::vector<std::size_t>> by_input_;
    std::vector<std::size_t> chosen_;
};

}  // namespace

Arrangement arrange(const Bench& bench) {
    Arrangement a;
    std::vector<Weighed> weighed;
    const Setup& setup = bench.setup();
    for (std::size_t input = 0; input < setup.controller.inputs.size(); ++input) {
        for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
            const int count = setup.kinds[kind].count;
            for (int in_series = 1; in_series <= count; ++in_series) {
                for (int in_parallel = 1; in_series * in_parallel <= count; ++in_parallel) {
                    a.candidates.push_back(weigh(bench, input, plait::written_out({kind, in_series, in_parallel}), weighed.emplace_back()));
                    fill_harvest(bench, a.candidates.back());
                }
            }
        }
    }
    Combiner(bench, weighed, a).run();
    std::sort(a.plans.begin(), a.plans.end(), [](const RankedPlan& x, const RankedPlan& y) {
        const auto key = [](const RankedPlan& p) {
            return std::make_tuple(rank_class(p.outcome), -p.harvest.european_w, p.panels_used, p.strings,
                                   -p.cold_margin_v, p.candidates);
        };
        return key(x) < key(y);
    });
    return a;
}

ArrayPlan written_out(const Arrangement& arrangement, const RankedPlan& plan, std::size_t inputs) {
    ArrayPlan written(inputs);
    for (const std::size_t i : plan.candidates) {
        const Candidate& c = arrangement.candidates[i];
        written[c.input] = c.wiring;
    }
    return written;
}

}  // namespace plait::study
