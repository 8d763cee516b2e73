// One pair of a catalogue: its bound, and its answer by `arrange`.
#include <plait/search/matching.hpp>

#include <plait/physics/acceptance_window.hpp>
#include <plait/rules/catalogue.hpp>
#include <plait/study/harvest_account.hpp>

#include "weighing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <string>
#include <tuple>
#include <utility>

namespace plait::search {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// Sums in another order differ by less.
constexpr double room_for_rounding = 1.0 + 1e-9;

/// The most an input takes at any voltage.
double most_taken_w(const Controller& controller, const Input& input) {
    if (physics::pinned_voltage_v(controller)) return infinity;
    const physics::AcceptanceWindow window = physics::window_of(controller, input);
    if (window.bands.empty()) return window.power_w;
    double most_w = 0.0;
    for (const CurrentBand& band : window.bands) {
        const double top_v = std::min(band.to_v, window.high_v);
        if (top_v >= window.low_v) most_w = std::max(most_w, std::min(window.power_w, band.limit_a * top_v));
    }
    return most_w;
}

double most_taken_w(const Controller& controller) {
    double sum_w = 0.0;
    for (const Input& input : controller.inputs) sum_w += most_taken_w(controller, input);
    return study::shared_w(controller, sum_w);
}

/// Whether a string by itself breaks a limit that neither further strings nor a tolerance mends.
bool broken(const Setup& setup, std::span<const physics::FittedPanel> curves, std::size_t input, const InputWiring& wiring,
            rules::Findings& findings) {
    const rules::WiredInput wired{input, &wiring, nullptr};
    const rules::Situation s{setup, wired, std::span(&wired, 1), curves};
    findings.clear();
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->stays_broken) rule->check(s, findings);
    }
    return std::any_of(findings.begin(), findings.end(), [](const rules::Finding& f) {
        return f.decides && (f.outcome == rules::Outcome::exceeds || f.outcome == rules::Outcome::falls_short);
    });
}

/// Files of one name in two folders are named by their whole paths.
template <class Item>
void tell_apart(std::vector<Item>& items) {
    std::map<std::string, std::size_t> seen;
    for (const Item& item : items) ++seen[item.name];
    for (Item& item : items) {
        if (seen[item.name] > 1) item.name = item.file;
    }
}

RankClass class_of(const PairAnswer& a) { return a.usable ? rank_class(a.verdict) : RankClass::exceeds; }

}  // namespace

bool PairAnswer::listed(MatchOnly only) const {
    if (!usable) return false;
    switch (only) {
        case MatchOnly::usable:
            return true;
        case MatchOnly::ready:
            return verdict.ready();
        case MatchOnly::fits:
            return verdict.ready() && verdict.intake == study::Intake::all;
        case MatchOnly::proven:
            return verdict.holds() && verdict.proven();
    }
    return false;
}

std::optional<double> PairAnswer::harvest_per_100_w() const {
    if (!usable || !price || !(*price > 0.0)) return std::nullopt;
    return 100.0 * gained_w.value_or(harvest_w) / *price;
}

std::optional<double> PairAnswer::value(MatchBy by) const {
    if (!usable) return std::nullopt;
    switch (by) {
        case MatchBy::harvest:
            return harvest_w;
        case MatchBy::cost:
            return harvest_per_100_w();
        case MatchBy::fill:
            return size_fit_ratio;
    }
    return std::nullopt;
}

bool ranks_before(const PairAnswer& a, const PairAnswer& b, MatchBy by) {
    const auto key = [&](const PairAnswer& p) {
        const std::optional<double> value = p.value(by);
        return std::make_tuple(class_of(p), value ? 0 : 1, -value.value_or(0.0), p.wasted_w, p.price.value_or(infinity),
                               p.panels_used, p.pair);
    };
    return key(a) < key(b);
}

MatchStudy::MatchStudy(std::vector<CataloguePanel> panels, std::vector<CatalogueController> controllers, CatalogueSite site,
                       std::string currency, std::vector<std::pair<CataloguePanel, int>> kept, const MatchRequest& request)
    : panels_(std::move(panels)),
      controllers_(std::move(controllers)),
      site_(std::move(site)),
      currency_(std::move(currency)),
      kept_(std::move(kept)),
      request_(request) {
    assert(!panels_.empty() && !controllers_.empty() && request_.panels >= 1 && request_.top >= 1);
    tell_apart(panels_);
    tell_apart(controllers_);
    for (const CataloguePanel& p : panels_) counted_.push_back(counted(p));
    for (const auto& [panel, count] : kept_) counted_kept_.push_back(counted(panel));
    panels_cost_ = panels_.size() > 1 || panels_.front().price;
    controllers_cost_ = controllers_.size() > 1 || controllers_.front().controller.price;
    for (const CatalogueController& c : controllers_) inputs_w_.push_back(most_taken_w(c.controller));
    if (kept_.empty()) return;
    std::vector<PanelsOfKind> stay;
    for (const auto& [panel, count] : kept_) stay.push_back({&panel, count});
    for (const CatalogueController& c : controllers_) {
        const Setup alone = setup_of(stay, c, site_, currency_);
        const study::SystemModel system(alone);
        const Arrangement a = arrange(system, {1, false, {}});
        kept_alone_w_.push_back(a.advised ? a.plans[*a.advised].harvest.european_w : 0.0);
    }
}

MatchStudy::Counted MatchStudy::counted(const CataloguePanel& panel) const {
    Setup one;
    one.kinds.push_back({panel.id, panel.panel, 1, std::nullopt, std::nullopt});
    one.site = site_.site;
    const study::SystemModel system(one);
    return {system.fitted(0), system.free_powers({{SeriesString{{PanelPlace{0, {}}}}}})};
}

Setup MatchStudy::setup(std::size_t pair, int panels) const {
    std::vector<PanelsOfKind> kinds;
    for (const auto& [panel, count] : kept_) kinds.push_back({&panel, count});
    kinds.push_back({&panels_[panel_of(pair)], panels});
    return setup_of(kinds, controllers_[controller_of(pair)], site_, currency_);
}

std::optional<double> MatchStudy::price_of(std::size_t pair, int panels) const {
    const std::optional<double>& panel = panels_[panel_of(pair)].price;
    const std::optional<double>& controller = controllers_[controller_of(pair)].controller.price;
    if ((panels_cost_ && !panel) || (controllers_cost_ && !controller) || (!panels_cost_ && !controllers_cost_)) return std::nullopt;
    return panel.value_or(0.0) * panels + controller.value_or(0.0);
}

PairBound MatchStudy::bound_with(std::size_t pair, int panels) const {
    const std::size_t c = controller_of(pair);
    study::LevelPowers most_w = counted_[panel_of(pair)].free_w;
    for (std::size_t l = 0; l < most_w.size(); ++l) {
        most_w[l] *= panels;
        for (std::size_t k = 0; k < kept_.size(); ++k) most_w[l] += counted_kept_[k].free_w[l] * kept_[k].second;
    }
    const double full_w = most_w.back();
    for (double& w : most_w) w = std::min(w, inputs_w_[c]);
    PairBound bound;
    bound.harvest_w = study::weighted(most_w).european_w * room_for_rounding;
    if (request_.by == MatchBy::harvest) bound.value = bound.harvest_w;
    if (request_.by == MatchBy::cost) {
        const std::optional<double> price = price_of(pair, panels);
        const double gained_w = kept_.empty() ? bound.harvest_w : bound.harvest_w - kept_alone_w_[c];
        if (price && *price > 0.0) bound.value = 100.0 * std::max(0.0, gained_w) / *price;
    }
    if (request_.by == MatchBy::fill && std::isfinite(inputs_w_[c]) && full_w > 0.0) {
        // Of panels that stay, some may be left out to suit the input's size.
        const double larger_w = kept_.empty() ? std::max(full_w, inputs_w_[c]) : inputs_w_[c];
        bound.value = std::min(full_w, inputs_w_[c]) / larger_w * room_for_rounding;
    }
    return bound;
}

PairBound MatchStudy::bound(std::size_t pair) const {
    PairBound most = bound_with(pair, request_.panels);
    // Fewer panels harvest less; for money or for the size of the inputs they may be more.
    for (int n = 1; n < request_.panels && request_.by != MatchBy::harvest; ++n) {
        most.value = std::max(most.value, bound_with(pair, n).value);
    }
    return most;
}

bool MatchStudy::no_string(std::size_t pair) const {
    if (!kept_.empty()) return false;
    // Rules ask for nothing else of a string.
    Setup plain;
    plain.kinds.push_back({"", panels_[panel_of(pair)].panel, request_.panels, std::nullopt, std::nullopt});
    plain.controller = controllers_[controller_of(pair)].controller;
    plain.site = site_.site;
    const std::span<const physics::FittedPanel> curves(&counted_[panel_of(pair)].curve, 1);
    InputWiring wiring{{SeriesString{}}};
    rules::Findings findings;
    for (int n = 1; n <= request_.panels; ++n) {
        wiring.strings.front().panels.push_back({0, {}});
        for (std::size_t input = 0; input < plain.controller.inputs.size(); ++input) {
            if (!broken(plain, curves, input, wiring, findings)) return false;
        }
    }
    return true;
}

PairAnswer MatchStudy::solve_with(std::size_t pair, int panels, const KeepGoing& keep_going) const {
    const Setup both = setup(pair, panels);
    const study::SystemModel system(both);
    ArrangeRequest request;
    request.top = 1;
    request.keep_going = keep_going;
    const Arrangement a = arrange(system, request);
    PairAnswer answer;
    answer.pair = pair;
    answer.bound = bound(pair);
    answer.panels = panels;
    answer.complete = a.searched.possible && (a.searched.finished || a.searched.at_label) && a.searched.simplest_finished;
    if (!a.advised) return answer;
    const RankedPlan& p = a.plans[*a.advised];
    answer.usable = true;
    answer.plan = written_out(a, p, both.controller.inputs.size());
    answer.verdict = p.verdict;
    answer.deciding = p.deciding;
    answer.harvest_w = p.harvest.european_w;
    answer.most_w = a.plans.front().harvest.european_w;
    answer.panels_used = p.panels_used;
    answer.cold_margin_v = p.cold_margin_v;
    answer.cold_margin_ratio = p.cold_margin_ratio;
    double free_w = 0.0;
    for (const std::size_t i : p.candidates) {
        const Candidate& c = a.candidates[i];
        for (const rules::Condition& condition : c.conditions) study::add_condition(answer.conditions, condition);
        free_w += c.free_european_w;
        answer.full_sun_w += c.level_power_w.back();
    }
    for (const rules::Condition& condition : p.conditions) study::add_condition(answer.conditions, condition);
    answer.full_sun_w = study::shared_w(both.controller, answer.full_sun_w);
    answer.wasted_w = std::max(0.0, free_w - answer.harvest_w);
    const std::size_t own = both.kinds.size() > kept_.size() ? kept_.size() : [&] {
        std::size_t k = 0;
        while (kept_[k].first.file != panels_[panel_of(pair)].file) ++k;
        return k;
    }();
    double full_free_w = 0.0;
    for (std::size_t k = 0; k < both.kinds.size(); ++k) {
        std::size_t used = 0;
        for (const InputWiring& w : answer.plan) used += w.panel_count(k);
        const Counted& one = k < kept_.size() ? counted_kept_[k] : counted_[panel_of(pair)];
        full_free_w += one.free_w.back() * static_cast<double>(used);
        if (k != own) continue;
        answer.candidates_used = static_cast<int>(used);
        if (own < kept_.size()) answer.candidates_used = std::max(0, answer.candidates_used - kept_[own].second);
    }
    const double inputs_w = inputs_w_[controller_of(pair)];
    if (std::isfinite(inputs_w) && inputs_w > 0.0) {
        answer.fill_ratio = answer.full_sun_w / inputs_w;
        answer.size_fit_ratio = answer.full_sun_w / std::max(inputs_w, full_free_w);
    }
    answer.price = price_of(pair, answer.candidates_used);
    if (!kept_.empty()) answer.gained_w = answer.harvest_w - kept_alone_w_[controller_of(pair)];
    return answer;
}

PairAnswer MatchStudy::solve(std::size_t pair, const KeepGoing& keep_going) const {
    if (request_.on_hand) return solve_with(pair, request_.panels, keep_going);
    return request_.by == MatchBy::harvest ? fewest_near_the_most(pair, keep_going) : best_count(pair, keep_going);
}

/// The fewest panels that take within 1 % of what all that were asked for take: more of them bring next to nothing.
PairAnswer MatchStudy::fewest_near_the_most(std::size_t pair, const KeepGoing& keep_going) const {
    PairAnswer best = solve_with(pair, request_.panels, keep_going);
    if (!best.usable) return best;
    const double most_w = best.most_w;
    const double enough_w = (1.0 - near_tie_ratio) * most_w;
    // The panels that the wiring leaves out are not missed.
    if (best.candidates_used < best.panels && best.candidates_used > 0) {
        PairAnswer fewer = solve_with(pair, best.candidates_used, keep_going);
        if (fewer.usable && class_of(fewer) == class_of(best) && fewer.harvest_w >= enough_w) best = std::move(fewer);
    }
    while (best.panels > 1 && bound_with(pair, best.panels - 1).harvest_w >= enough_w) {
        PairAnswer fewer = solve_with(pair, best.panels - 1, keep_going);
        if (!fewer.usable || class_of(fewer) != class_of(best) || fewer.harvest_w < enough_w) break;
        best = std::move(fewer);
    }
    best.most_w = most_w;
    return best;
}

/// The number of panels of the greatest value. A number of which the best wiring leaves some out is passed over: the smaller
/// number is looked at by itself.
PairAnswer MatchStudy::best_count(std::size_t pair, const KeepGoing& keep_going) const {
    const PairAnswer all = solve_with(pair, request_.panels, keep_going);
    // What all of them cannot, fewer cannot either.
    if (!all.usable || class_of(all) != RankClass::holds) return all;
    if (!all.value(request_.by)) return fewest_near_the_most(pair, keep_going);
    std::vector<int> counts(static_cast<std::size_t>(request_.panels));
    std::iota(counts.begin(), counts.end(), 1);
    std::vector<double> most;
    for (const int n : counts) most.push_back(bound_with(pair, n).value);
    std::stable_sort(counts.begin(), counts.end(), [&](int a, int b) {
        return most[static_cast<std::size_t>(a - 1)] > most[static_cast<std::size_t>(b - 1)];
    });
    std::optional<PairAnswer> best;
    for (const int n : counts) {
        if (best && most[static_cast<std::size_t>(n - 1)] <= *best->value(request_.by)) break;
        PairAnswer one = n == request_.panels ? all : solve_with(pair, n, keep_going);
        if (!one.usable || class_of(one) != RankClass::holds || one.candidates_used != n || !one.value(request_.by)) continue;
        const bool better = !best || *one.value(request_.by) > *best->value(request_.by) ||
                            (*one.value(request_.by) == *best->value(request_.by) && n < best->panels);
        if (better) best = std::move(one);
    }
    if (!best) return all;
    best->most_w = all.most_w;
    return *std::move(best);
}

}  // namespace plait::search
