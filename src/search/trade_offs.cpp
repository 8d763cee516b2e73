#include "trade_offs.hpp"

#include "weighing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>
#include <utility>

namespace plait::search {
namespace {

// Less than this share of the best harvest is no trade-off but a loss.
constexpr double least_harvest_ratio = 0.5;
// A table longer than this is no help; it is thinned by what each row is best at.
constexpr std::size_t most_rows = 8;

/// More is better in each.
using Merits = std::array<double, 6>;

Merits merits_of(const RankedPlan& p, const TradeOff& t) {
    return {p.harvest.european_w, p.cold_margin_v,       t.one_shaded_worst_w,
            t.one_shaded_mean_w,  -p.highest_cold_voc_v, -static_cast<double>(2 * p.joints + p.fuses)};
}

/// As good in everything. Watts and volts that differ in the last digits only are equal.
bool no_worse(const Merits& a, const Merits& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (a[i] < b[i] - 1e-9 * (std::abs(a[i]) + std::abs(b[i]))) return false;
    }
    return true;
}

/// The different ones, each with how often it stands there.
template <class T>
std::vector<std::pair<const T*, double>> counted(const std::vector<T>& all) {
    std::vector<std::pair<const T*, double>> out;
    for (const T& one : all) {
        const auto same = std::find_if(out.begin(), out.end(), [&](const auto& x) { return *x.first == one; });
        if (same == out.end()) {
            out.emplace_back(&one, 1.0);
        } else {
            same->second += 1.0;
        }
    }
    return out;
}

}  // namespace

TradeOff one_panel_shaded(const study::SystemModel& system, const ArrayPlan& plan) {
    std::vector<study::LevelPowers> whole_w(plan.size(), study::LevelPowers{});
    study::LevelPowers sum_w{};
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        whole_w[i] = system.level_powers(i, plan[i]);
        for (std::size_t l = 0; l < sum_w.size(); ++l) sum_w[l] += whole_w[i][l];
    }
    TradeOff t;
    t.one_shaded_worst_w = std::numeric_limits<double>::infinity();
    double panels = 0.0;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        // Equal panels in equal strings do the same: each is solved once.
        for (const auto& [string, times] : counted(plan[i].strings)) {
            const auto at_string = static_cast<std::size_t>(string - plan[i].strings.data());
            for (const auto& [place, count] : counted(string->panels)) {
                InputWiring shaded = plan[i];
                PanelPlace& hit =
                    shaded.strings[at_string].panels[static_cast<std::size_t>(place - string->panels.data())];
                hit.groups.resize(system.group_count(hit.kind));
                for (GroupState& g : hit.groups) g.light_ratio *= shaded_light_ratio;
                study::LevelPowers with_w = system.level_powers(i, shaded);
                for (std::size_t l = 0; l < with_w.size(); ++l) {
                    with_w[l] = study::shared_w(system.setup().controller, sum_w[l] - whole_w[i][l] + with_w[l]);
                }
                const double harvest_w = study::weighted(with_w).european_w;
                t.one_shaded_worst_w = std::min(t.one_shaded_worst_w, harvest_w);
                t.one_shaded_mean_w += times * count * harvest_w;
                panels += times * count;
            }
        }
    }
    t.one_shaded_mean_w /= panels;
    return t;
}

std::vector<TradeOff> trade_offs(const study::SystemModel& system, const Arrangement& a) {
    std::vector<TradeOff> rows;
    std::vector<Merits> merits;
    if (a.plans.empty() || !a.plans.front().verdict.usable()) return rows;
    const double least_w = least_harvest_ratio * a.plans.front().harvest.european_w;
    // Shading is dear to work out, so only the first of the ranking are looked at.
    constexpr std::size_t most_solved = 40;
    for (std::size_t i = 0; i < a.plans.size(); ++i) {
        const RankedPlan& p = a.plans[i];
        // The advised one is what the others are compared with, however far down the list it stands.
        if (rows.size() >= most_solved && (!a.advised || i > *a.advised)) break;
        if (rows.size() >= most_solved && i != *a.advised) continue;
        if (rank_class(p.verdict) != rank_class(a.plans.front().verdict) || p.harvest.european_w < least_w) break;
        TradeOff t = one_panel_shaded(system, written_out(a, p, system.setup().controller.inputs.size()));
        t.plan = i;
        rows.push_back(t);
        merits.push_back(merits_of(p, t));
    }
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        bool beaten = false;
        for (std::size_t j = 0; j < rows.size() && !beaten; ++j) {
            // Of two that are equal in everything the first of the ranking stays.
            beaten = j != i && no_worse(merits[j], merits[i]) && (j < i || !no_worse(merits[i], merits[j]));
        }
        if (!beaten) kept.push_back(i);
    }
    // Too many: the best at each thing first, then the rest by harvest.
    std::set<std::size_t> chosen;
    if (a.advised) {
        for (const std::size_t i : kept) {
            if (rows[i].plan == *a.advised) chosen.insert(i);
        }
    }
    for (std::size_t m = 0; m < Merits{}.size() && !kept.empty(); ++m) {
        chosen.insert(*std::max_element(kept.begin(), kept.end(),
                                        [&](std::size_t x, std::size_t y) { return merits[x][m] < merits[y][m]; }));
    }
    for (const std::size_t i : kept) {
        if (chosen.size() < most_rows) chosen.insert(i);
    }
    std::vector<TradeOff> table;
    for (const std::size_t i : chosen) table.push_back(rows[i]);
    return table;
}

}  // namespace plait::search
