#include <plait/search/energy_order.hpp>

#include "ranking.hpp"
#include "weighing.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>
#include <utility>

namespace plait::search {
namespace {

/// What every usable plan delivers, the most watts first, as long as there is time.
EnergyOrder counted(const study::SystemModel& system, const study::LightSeries& light, const KeepGoing& keep_going,
                    const Arrangement& a) {
    EnergyOrder order;
    order.delivered_wh.resize(a.plans.size());
    order.advised_by_watts = a.advised;
    study::HarvestStudy harvest(system, light);
    const std::size_t inputs = system.setup().controller.inputs.size();
    const double best_w = a.plans.empty() ? 0.0 : a.plans.front().harvest.european_w;
    for (std::size_t i = 0; i < a.plans.size(); ++i) {
        if (!a.plans[i].verdict.usable()) continue;
        if (keep_going && !keep_going({i, best_w, a.searched.bound_w})) {
            order.finished = false;
            break;
        }
        order.delivered_wh[i] = harvest.run(written_out(a, a.plans[i], inputs)).total.delivered_wh;
    }
    return order;
}

template <class T>
std::vector<T> in_order(std::vector<T> values, const std::vector<std::size_t>& order) {
    std::vector<T> out;
    out.reserve(values.size());
    for (const std::size_t i : order) out.push_back(std::move(values[i]));
    return out;
}

}  // namespace

bool EnergyOrder::ahead_of_next(std::size_t plan) const {
    constexpr double least_ratio = 1e-3;
    const std::size_t next = plan + 1;
    return next >= delivered_wh.size() || !delivered_wh[next] || *delivered_wh[next] < (1.0 - least_ratio) * *delivered_wh[plan];
}

double compared_wh(double energy_wh) { return std::round(1000.0 * energy_wh) / 1000.0; }

void order_by_energy(const study::SystemModel& system, const study::LightSeries& light, const KeepGoing& keep_going,
                     Arrangement& a) {
    EnergyOrder energy = counted(system, light, keep_going, a);
    std::vector<std::size_t> order(a.plans.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto key = [&](std::size_t i) {
        const std::optional<double>& wh = energy.delivered_wh[i];
        return std::make_tuple(rank_class(a.plans[i].verdict), wh ? 0 : 1, -compared_wh(wh.value_or(0.0)));
    };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) { return key(x) < key(y); });
    std::vector<std::size_t> now(order.size());
    for (std::size_t k = 0; k < order.size(); ++k) now[order[k]] = k;
    a.plans = in_order(std::move(a.plans), order);
    energy.delivered_wh = in_order(std::move(energy.delivered_wh), order);
    energy.place_by_watts = order;
    for (TradeOff& t : a.trade_offs) t.plan = now[t.plan];
    if (a.advised) {
        energy.advised_by_watts = now[*a.advised];
        const RankClass best_class = rank_class(a.plans.front().verdict);
        std::size_t best = 0;
        for (std::size_t i = 1; i < a.plans.size() && rank_class(a.plans[i].verdict) == best_class && energy.delivered_wh[i]; ++i) {
            if (*energy.delivered_wh[i] < (1.0 - near_tie_ratio) * *energy.delivered_wh.front()) break;
            if (simpler(a.plans[i], a.plans[best])) best = i;
        }
        a.advised = energy.delivered_wh.front() ? best : *energy.advised_by_watts;
    }
    a.by_energy = std::move(energy);
}

}  // namespace plait::search
