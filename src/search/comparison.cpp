#include <plait/search/comparison.hpp>

#include "ranking.hpp"

#include <plait/rules/cold_methods.hpp>
#include <plait/search/energy_order.hpp>
#include <plait/study/look_up.hpp>

#include <algorithm>
#include <limits>
#include <utility>

namespace plait::search {
namespace {

bool has_prices(const Setup& setup) {
    return setup.controller.price.has_value() ||
           std::any_of(setup.kinds.begin(), setup.kinds.end(), [](const PanelKind& k) { return k.price.has_value(); });
}

void add_cost(const Setup& setup, ComparedPlan& out) {
    if (!has_prices(setup)) return;
    Cost cost;
    cost.currency = setup.currency;
    for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
        std::size_t used = 0;
        for (const InputWiring& w : out.plan) used += w.panel_count(kind);
        // A kind that stays in the shed needs no price.
        if (used == 0) continue;
        const PanelKind& k = setup.kinds[kind];
        if (k.price) {
            cost.panels_price += *k.price * static_cast<double>(used);
        } else {
            out.unpriced.push_back("panel '" + k.id + "'");
        }
    }
    if (setup.controller.price) {
        cost.controller_price = *setup.controller.price;
    } else {
        out.unpriced.emplace_back("the controller");
    }
    if (out.unpriced.empty()) out.cost = std::move(cost);
}

int fuses_of(const Setup& setup, const study::Judgement& judgement) {
    int fuses = 0;
    for (const study::InputJudgement& one : judgement.inputs) {
        if (study::fuses_wanted(setup, one.wires)) fuses += static_cast<int>(one.wiring.strings.size());
    }
    return fuses;
}

/// Those of `among` whose value is at most `slack(best)` below the best.
template <class Value, class Slack>
std::vector<std::size_t> leaders(const std::vector<std::size_t>& among, Value value, Slack slack) {
    double best = -std::numeric_limits<double>::infinity();
    for (const std::size_t i : among) best = std::max(best, value(i));
    std::vector<std::size_t> out;
    for (const std::size_t i : among) {
        if (value(i) >= best - slack(best)) out.push_back(i);
    }
    return out;
}

ComparedSetup without_plan(const Setup& setup) {
    ComparedSetup out;
    out.priced = has_prices(setup);
    for (const PanelKind& kind : setup.kinds) out.panels_on_hand += kind.count;
    return out;
}

}  // namespace

double ComparedPlan::harvest_per_100_w() const { return 100.0 * judgement.harvest.european_w / cost->total_price(); }

ComparedPlan compared_plan(const study::SystemModel& system, const ArrayPlan& plan) {
    const Setup& setup = system.setup();
    ComparedPlan out;
    out.plan = plan;
    out.judgement = study::judge_and_look_up(system, plan).judgement;
    out.account = study::harvest_account(system, plan);
    out.cold_margin_ratio = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        const std::optional<double>& limit_v = setup.controller.inputs[i].max_voltage_v;
        const double cold_v = rules::array_cold_voc_v(system.stated(), plan[i]).value;
        const double left_v = limit_v ? *limit_v - cold_v : unknown_margin_v;
        const double left_ratio = cold_margin_ratio(limit_v, cold_v);
        if (left_ratio < out.cold_margin_ratio) {
            out.cold_margin_ratio = left_ratio;
            out.cold_margin_v = left_v;
            out.cold_input = i;
        }
        out.highest_cold_voc_v = std::max(out.highest_cold_voc_v, cold_v);
        out.panels_used += static_cast<int>(plan[i].panel_count());
    }
    out.joints = joints(plan);
    out.fuses = fuses_of(setup, out.judgement);
    add_cost(setup, out);
    return out;
}

ComparedSetup advised_setup(const study::SystemModel& system, const KeepGoing& keep_going, const study::LightSeries* light) {
    ComparedSetup out = without_plan(system.setup());
    constexpr std::size_t worth_counting = 10;
    ArrangeRequest request;
    request.top = light == nullptr ? 1 : worth_counting;
    request.keep_going = keep_going;
    Arrangement found = arrange(system, request);
    out.searched = found.searched;
    if (!found.advised) return out;
    const auto plan_at = [&](std::size_t i) { return written_out(found, found.plans[i], system.setup().controller.inputs.size()); };
    if (light != nullptr) {
        order_by_energy(system, *light, keep_going, found);
        if (found.by_energy->advised_by_watts != found.advised) out.by_watts = plan_at(*found.by_energy->advised_by_watts);
    }
    out.plan = compared_plan(system, plan_at(*found.advised));
    if (light != nullptr) out.plan->delivered_wh = found.by_energy->delivered_wh[*found.advised];
    return out;
}

ComparedSetup setup_as_wired(const study::SystemModel& system, const ArrayPlan& plan, const study::LightSeries* light) {
    ComparedSetup out = without_plan(system.setup());
    out.plan = compared_plan(system, plan);
    if (light != nullptr && out.plan->usable()) {
        out.plan->delivered_wh = study::HarvestStudy(system, *light).run(plan).total.delivered_wh;
    }
    return out;
}

Comparison compare(std::vector<ComparedSetup> setups) {
    Comparison c;
    c.setups = std::move(setups);
    const auto plan = [&](std::size_t i) -> const ComparedPlan& { return *c.setups[i].plan; };
    const auto one_per_cent = [](double best) { return near_tie_ratio * best; };
    for (std::size_t i = 0; i < c.setups.size(); ++i) {
        if (c.setups[i].usable()) c.usable.push_back(i);
    }
    c.most_harvest = leaders(
        c.usable, [&](std::size_t i) { return plan(i).judgement.harvest.european_w; }, one_per_cent);
    std::vector<std::size_t> counted;
    for (const std::size_t i : c.usable) {
        if (plan(i).delivered_wh) counted.push_back(i);
    }
    c.most_energy = leaders(
        counted, [&](std::size_t i) { return *plan(i).delivered_wh; }, one_per_cent);
    c.most_room = leaders(
        c.usable, [&](std::size_t i) { return plan(i).cold_margin_ratio; }, [](double) { return room_tie_ratio; });
    for (const std::size_t i : c.usable) {
        if (!plan(i).cost) continue;
        const std::string& currency = plan(i).cost->currency;
        auto group =
            std::find_if(c.money.begin(), c.money.end(), [&](const MoneyGroup& g) { return g.currency == currency; });
        if (group == c.money.end()) group = c.money.insert(group, MoneyGroup{currency, {}, {}});
        group->setups.push_back(i);
    }
    for (MoneyGroup& g : c.money) {
        g.best = leaders(
            g.setups, [&](std::size_t i) { return plan(i).harvest_per_100_w(); }, one_per_cent);
    }
    return c;
}

}  // namespace plait::search
