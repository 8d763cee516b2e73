#include "ranking.hpp"

#include <plait/search/plan_search.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>

namespace plait::search {
namespace {

// As a set of strings: neither the order of the strings nor that of a string's panels matters.
InputWiring in_order(InputWiring wiring) {
    const auto by_kind = [](const PanelPlace& a, const PanelPlace& b) { return a.kind < b.kind; };
    for (SeriesString& s : wiring.strings) std::stable_sort(s.panels.begin(), s.panels.end(), by_kind);
    std::stable_sort(wiring.strings.begin(), wiring.strings.end(), [&](const SeriesString& a, const SeriesString& b) {
        if (a.panels.size() != b.panels.size()) return a.panels.size() > b.panels.size();
        return std::lexicographical_compare(a.panels.begin(), a.panels.end(), b.panels.begin(), b.panels.end(),
                                            by_kind);
    });
    return wiring;
}

}  // namespace

bool simpler(const RankedPlan& a, const RankedPlan& b) {
    // Shares of the limits, in steps of a thousandth: volts of unlike inputs cannot be compared, and less is no matter.
    const auto room = [](const RankedPlan& p) { return std::round(1000.0 * p.cold_margin_ratio); };
    return std::make_tuple(a.joints, a.unlike, -room(a)) < std::make_tuple(b.joints, b.unlike, -room(b));
}

std::size_t Ranking::add_candidate(std::size_t input, InputWiring wiring) {
    out_.candidates.push_back(weigh(system_, input, std::move(wiring), weighed_.emplace_back()));
    fill_harvest(system_, out_.candidates.back());
    return out_.candidates.size() - 1;
}

double cold_margin_ratio(const std::optional<double>& max_voltage_v, double cold_voc_v) {
    return max_voltage_v ? (*max_voltage_v - cold_voc_v) / *max_voltage_v : unknown_margin_ratio;
}

std::size_t Ranking::add_plan(const std::vector<std::size_t>& candidates) {
    RankedPlan plan;
    plan.candidates = candidates;
    plan.cold_margin_v = std::numeric_limits<double>::infinity();
    plan.cold_margin_ratio = 1.0;
    study::LevelPowers sum_w{};
    double free_w = 0.0;
    for (const std::size_t i : candidates) {
        const Candidate& c = out_.candidates[i];
        plan.panels_used += static_cast<int>(c.wiring.panel_count());
        plan.strings += static_cast<int>(c.wiring.strings.size());
        plan.cold_margin_v = std::min(plan.cold_margin_v, c.cold_margin_v);
        const std::optional<double>& limit_v = system_.setup().controller.inputs[c.input].max_voltage_v;
        plan.cold_margin_ratio = std::min(plan.cold_margin_ratio, cold_margin_ratio(limit_v, c.cold_voc_v));
        plan.highest_cold_voc_v = std::max(plan.highest_cold_voc_v, c.cold_voc_v);
        plan.joints += static_cast<int>(c.wiring.strings.size()) - 1;
        plan.unlike += unlike_panels(c.wiring);
        if (c.wants_fuses) plan.fuses += static_cast<int>(c.wiring.strings.size());
        free_w += c.free_european_w;
        for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += c.level_power_w[l];
    }
    plan.verdict = tally_of(candidates, plan).answers();
    for (double& w : sum_w) w = study::shared_w(system_.setup().controller, w);
    plan.harvest = study::weighted(sum_w);
    // Nothing gives more than its panels one by one; what rounding leaves below zero is zero.
    plan.lost_ratio = free_w > 0.0 ? std::max(0.0, 1.0 - plan.harvest.european_w / free_w) : 0.0;
    out_.plans.push_back(std::move(plan));
    return out_.plans.size() - 1;
}

std::size_t Ranking::add_written_out(const ArrayPlan& plan) {
    ArrayPlan wanted;
    std::size_t used = 0;
    for (const InputWiring& w : plan) {
        wanted.push_back(in_order(w));
        used += w.empty() ? 0U : 1U;
    }
    // Counts first: few plans have the same, and only those are put in order.
    const auto same = [&](std::size_t c) {
        const Candidate& known = out_.candidates[c];
        const InputWiring& w = wanted[known.input];
        return known.wiring.strings.size() == w.strings.size() && known.wiring.panel_count() == w.panel_count() &&
               in_order(known.wiring) == w;
    };
    for (std::size_t p = 0; p < out_.plans.size(); ++p) {
        const std::vector<std::size_t>& known = out_.plans[p].candidates;
        if (known.size() == used && std::all_of(known.begin(), known.end(), same)) return p;
    }
    std::vector<std::size_t> candidates;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (!plan[i].empty()) candidates.push_back(add_candidate(i, plan[i]));
    }
    return add_plan(candidates);
}

// The inputs' own findings with those about all of them together.
study::Tally Ranking::tally_of(const std::vector<std::size_t>& candidates, RankedPlan& plan) {
    study::Tally tally;
    wired_.clear();
    together_.clear();
    for (const std::size_t i : candidates) {
        tally.merge(weighed_[i].tally);
        if (out_.candidates[i].deciding.share < plan.deciding.share) plan.deciding = out_.candidates[i].deciding;
        wired_.push_back({out_.candidates[i].input, &out_.candidates[i].wiring, &weighed_[i].points});
        together_.push_back(&weighed_[i]);
    }
    tally.merge(plan_tally(system_, wired_, together_, &plan));
    return tally;
}

}  // namespace plait::search
