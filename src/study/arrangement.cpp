#include <plait/study/arrangement.hpp>

#include <plait/rules/catalogue.hpp>
#include <plait/rules/cold_methods.hpp>

#include <algorithm>
#include <limits>
#include <map>
#include <tuple>

namespace plait::study {
namespace {

using rules::Outcome;

// Beyond this many combinations of inputs, only the best wiring per number of panels of each input goes on.
constexpr double most_plans = 50000.0;

bool any_assumed(const rules::Rule& rule, const Setup& setup, std::size_t kind, std::size_t input) {
    for (const Assumption& a : setup.assumptions) {
        if (a.kind && *a.kind != kind) continue;
        if (a.input && *a.input != input) continue;
        if (std::find(rule.rests_on.begin(), rule.rests_on.end(), a.quantity) != rule.rests_on.end()) return true;
    }
    return false;
}

Candidate weigh(const Bench& bench, std::size_t input, const EqualStrings& equal) {
    const InputWiring wiring = plait::written_out(equal);
    const rules::ConditionPoints points = bench.points(input, wiring);
    const rules::WiredInput wired{input, &wiring, &points};
    const rules::Situation s{bench.setup(), wired, std::span(&wired, 1)};
    Candidate c;
    c.input = input;
    c.equal = equal;
    c.outcome = Outcome::within;
    c.proven = true;
    rules::Findings findings;
    bool doubtful = false;
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->scope != rules::Scope::input) continue;
        findings.clear();
        rule->check(s, findings);
        for (const rules::Finding& f : findings) {
            if (!f.decides) continue;
            const bool proven = f.even_at_worst && !any_assumed(*rule, bench.setup(), equal.kind, input);
            if (f.outcome > c.outcome) {
                c.outcome = f.outcome;
                c.worst_rule = rule;
                if (f.outcome >= Outcome::falls_short) doubtful = false;
            }
            if (!proven && (c.outcome < Outcome::falls_short || f.outcome == c.outcome)) doubtful = true;
        }
    }
    c.proven = !doubtful;
    c.cold_voc_v = rules::array_cold_voc_v(bench.setup(), wiring, bench.setup().site.cold_method);
    c.cold_margin_v = bench.setup().controller.inputs[input].max_voltage_v - c.cold_voc_v;
    c.level_power_w = bench.level_powers(input, wiring);
    c.free_european_w = weighted(bench.free_powers(wiring)).european_w;
    return c;
}

int panels(const Candidate& c) { return c.equal.in_series * c.equal.in_parallel; }

// Usable first, then what falls short, then what exceeds.
int rank_class(Outcome outcome) { return outcome == Outcome::exceeds ? 2 : outcome == Outcome::falls_short ? 1 : 0; }

class Combiner {
public:
    Combiner(const Bench& bench, Arrangement& arrangement) : bench_(bench), out_(arrangement) {
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
                const auto [at, fresh] = best.try_emplace({c.equal.kind, panels(c)}, i);
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
            if (panels(c) > left_[c.equal.kind]) continue;
            left_[c.equal.kind] -= panels(c);
            chosen_.push_back(i);
            pick(input + 1);
            chosen_.pop_back();
            left_[c.equal.kind] += panels(c);
        }
    }

    void add() {
        RankedPlan plan;
        plan.candidates = chosen_;
        plan.outcome = Outcome::within;
        plan.proven = true;
        plan.cold_margin_v = std::numeric_limits<double>::infinity();
        LevelPowers sum_w{};
        double free_w = 0.0;
        for (const std::size_t i : chosen_) {
            const Candidate& c = out_.candidates[i];
            plan.outcome = graver(plan.outcome, c.outcome);
            plan.panels_used += panels(c);
            plan.strings += c.equal.in_parallel;
            plan.cold_margin_v = std::min(plan.cold_margin_v, c.cold_margin_v);
            free_w += c.free_european_w;
            for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += c.level_power_w[l];
        }
        for (const std::size_t i : chosen_) {
            const Candidate& c = out_.candidates[i];
            if (!c.proven && (plan.outcome < Outcome::falls_short || c.outcome == plan.outcome)) plan.proven = false;
        }
        for (double& w : sum_w) {
            const double cut_w = shared_w(bench_.setup().controller, w);
            if (cut_w < w) plan.outcome = graver(plan.outcome, Outcome::clips);
            w = cut_w;
        }
        plan.harvest = weighted(sum_w);
        plan.lost_ratio = free_w > 0.0 ? 1.0 - plan.harvest.european_w / free_w : 0.0;
        out_.plans.push_back(std::move(plan));
    }

    const Bench& bench_;
    Arrangement& out_;
    std::vector<int> left_;
    std::vector<std::vector<std::size_t>> by_input_;
    std::vector<std::size_t> chosen_;
};

}  // namespace

Arrangement arrange(const Bench& bench) {
    Arrangement a;
    const Setup& setup = bench.setup();
    for (std::size_t input = 0; input < setup.controller.inputs.size(); ++input) {
        for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
            const int count = setup.kinds[kind].count;
            for (int in_series = 1; in_series <= count; ++in_series) {
                for (int in_parallel = 1; in_series * in_parallel <= count; ++in_parallel) {
                    a.candidates.push_back(weigh(bench, input, {kind, in_series, in_parallel}));
                }
            }
        }
    }
    Combiner(bench, a).run();
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
        written[c.input] = plait::written_out(c.equal);
    }
    return written;
}

}  // namespace plait::study
