#include <plait/search/harvest_gains.hpp>

#include <plait/physics/conductor.hpp>
#include <plait/search/energy_order.hpp>
#include <plait/study/look_up.hpp>

#include <algorithm>
#include <limits>

namespace plait::search {
namespace {

// Plans are counted by watts, the most first: more never led, and one of unlike strings takes as long as hundreds of equal
// ones.
constexpr std::size_t most_counted = 24;
constexpr std::size_t most_unlike = 4;

bool is_equal(const Arrangement& a, const RankedPlan& plan) {
    return std::all_of(plan.candidates.begin(), plan.candidates.end(),
                       [&](std::size_t c) { return as_equal_strings(a.candidates[c].wiring).has_value(); });
}

/// Leaves the plans that hold, and of those the ones worth counting.
void thin(Arrangement& a) {
    std::size_t equal = 0;
    std::size_t unlike = 0;
    std::vector<RankedPlan> kept;
    std::optional<std::size_t> advised;
    for (std::size_t i = 0; i < a.plans.size(); ++i) {
        if (!a.plans[i].verdict.holds()) continue;
        const bool is_advised = a.advised == i;
        std::size_t& count = is_equal(a, a.plans[i]) ? equal : unlike;
        if (!is_advised && count >= (&count == &equal ? most_counted : most_unlike)) continue;
        ++count;
        if (is_advised) advised = kept.size();
        kept.push_back(a.plans[i]);
    }
    a.plans = std::move(kept);
    a.advised = a.plans.empty() ? std::nullopt : std::optional(advised.value_or(0));
    a.trade_offs.clear();
}

struct Best {
    std::optional<GainedPlan> gained;
    std::size_t tried = 0;
    bool finished = true;
};

/// The wiring of a set-up that is advised by energy.
Best best_of(const study::SystemModel& system, const study::LightSeries& light, const KeepGoing& keep_going) {
    ArrangeRequest request;
    request.top = most_counted;
    request.keep_going = keep_going;
    Arrangement found = arrange(system, request);
    Best best;
    thin(found);
    if (found.plans.empty()) return best;
    order_by_energy(system, light, keep_going, found);
    const std::vector<std::optional<double>>& counted = found.by_energy->delivered_wh;
    best.tried = static_cast<std::size_t>(
        std::count_if(counted.begin(), counted.end(), [](const std::optional<double>& wh) { return wh.has_value(); }));
    best.finished = found.searched.possible && found.searched.finished && found.by_energy->finished;
    if (!found.advised || !counted[*found.advised]) return best;
    GainedPlan gained;
    gained.plan = written_out(found, found.plans[*found.advised], system.setup().controller.inputs.size());
    gained.verdict = study::judge_and_look_up(system, gained.plan).judgement.verdict;
    gained.delivered_wh = *counted[*found.advised];
    if (gained.verdict.holds() && !gained.verdict.could_exceed) best.gained = std::move(gained);
    return best;
}

std::size_t used_of(const ArrayPlan& plan, std::size_t kind) {
    std::size_t used = 0;
    for (const InputWiring& w : plan) used += w.panel_count(kind);
    return used;
}

void add_one_more(const study::SystemModel& system, const study::LightSeries& light, const ArrayPlan& plan,
                  const KeepGoing& keep_going, HarvestGains& gains) {
    const Setup& setup = system.setup();
    for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
        const auto used = static_cast<int>(used_of(plan, kind));
        if (used < setup.kinds[kind].count) continue;  // there is one in the shed: that is another wiring
        Setup more = setup;
        more.kinds[kind].count = used + 1;
        const study::SystemModel with(more);
        Best best = best_of(with, light, keep_going);
        gains.finished = gains.finished && best.finished;
        // A wiring that leaves the new panel unused says nothing about it.
        if (best.gained && static_cast<int>(used_of(best.gained->plan, kind)) <= used) best.gained.reset();
        gains.one_more.push_back({kind, std::move(best.gained)});
    }
}

/// A cable as thick as the next size of its table; the same resistance for a metre of cross-section where its maker's
/// figure counts.
std::optional<Cable> one_size_up(Cable cable) {
    for (const CableSize& size : physics::sizes_like(cable.size)) {
        if (size.area_mm2 <= cable.size.area_mm2) continue;
        if (cable.resistance_ohm_per_m) *cable.resistance_ohm_per_m *= cable.size.area_mm2 / size.area_mm2;
        cable.size = size;
        return cable;
    }
    return std::nullopt;
}

void add_cables(const study::SystemModel& system, const study::LightSeries& light, const ArrayPlan& plan,
                const KeepGoing& keep_going, HarvestGains& gains) {
    const Setup& setup = system.setup();
    for (std::size_t i = 0; i < setup.cables.size(); ++i) {
        const std::optional<Cable> larger = one_size_up(setup.cables[i]);
        if (!larger) continue;
        if (keep_going && !keep_going({gains.tried, 0.0, 0.0})) {
            gains.finished = false;
            return;
        }
        Setup with = setup;
        with.cables[i] = *larger;
        const study::SystemModel thicker(with);
        gains.cables.push_back({i, larger->size, study::HarvestStudy(thicker, light).run(plan).total.delivered_wh});
    }
}

}  // namespace

Gain HarvestGains::gain(double delivered_wh) const {
    const double more_wh = delivered_wh - now_wh;
    return {more_wh, now_wh > 0.0 ? more_wh / now_wh : std::numeric_limits<double>::infinity()};
}

const LargerCable* HarvestGains::best_cable() const {
    const auto most = std::max_element(cables.begin(), cables.end(), [](const LargerCable& a, const LargerCable& b) {
        return a.delivered_wh < b.delivered_wh;
    });
    return most == cables.end() ? nullptr : &*most;
}

HarvestGains harvest_gains(const study::SystemModel& system, const study::LightSeries& light, const ArrayPlan& plan,
                           const study::Verdict& verdict, double now_wh, const KeepGoing& keep_going) {
    HarvestGains gains;
    gains.now_wh = now_wh;
    Best best = best_of(system, light, keep_going);
    gains.tried = best.tried;
    gains.finished = best.finished;
    gains.best = std::move(best.gained);
    gains.best_is_this = gains.best && gains.best->plan == plan;
    if (!verdict.usable()) return gains;
    add_one_more(system, light, plan, keep_going, gains);
    add_cables(system, light, plan, keep_going, gains);
    return gains;
}

}  // namespace plait::search
