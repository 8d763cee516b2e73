#include "search_tables.hpp"

#include <plait/study/judgement.hpp>

#include <algorithm>
#include <limits>

namespace plait::search {
namespace {

// Equal in every limit: what one can take the other can take.
bool same_limits(const Input& a, const Input& b) {
    const auto same_bands = [&] {
        return std::equal(a.bands.begin(), a.bands.end(), b.bands.begin(), b.bands.end(),
                          [](const CurrentBand& x, const CurrentBand& y) {
                              return x.from_v == y.from_v && x.to_v == y.to_v && x.limit_a == y.limit_a;
                          });
    };
    return a.max_voltage_v == b.max_voltage_v && a.tracking_min_v == b.tracking_min_v &&
           a.tracking_max_v == b.tracking_max_v && a.start_voltage_v == b.start_voltage_v && same_bands() &&
           a.max_power_w == b.max_power_w && a.max_short_circuit_a == b.max_short_circuit_a &&
           a.max_array_power_w == b.max_array_power_w && a.plug_rating_a == b.plug_rating_a &&
           a.over_current == b.over_current;
}

// No cable leads to one of the two alone.
bool same_way(const Setup& setup, std::size_t i, std::size_t j) {
    return i == j || std::none_of(setup.cables.begin(), setup.cables.end(),
                                  [&](const Cable& c) { return c.input == i || c.input == j; });
}

std::vector<int> on_hand(const Setup& setup) {
    std::vector<int> counts;
    for (const PanelKind& kind : setup.kinds) counts.push_back(kind.count);
    return counts;
}

}  // namespace

double counts_of(const Setup& setup) {
    double n = 1.0;
    for (const PanelKind& kind : setup.kinds) n *= static_cast<double>(kind.count) + 1.0;
    return n;
}

SearchTables::SearchTables(const study::SystemModel& b, const study::LevelPowers& likely_w, Accept accepted,
                           Patience& patience)
    : system(b), accept(accepted), counts(on_hand(b.setup())) {
    split_levels(likely_w);
    const std::vector<Input>& inputs = system.setup().controller.inputs;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        std::size_t first = 0;
        while (!same_limits(inputs[first], inputs[i]) || !same_way(system.setup(), first, i)) ++first;
        if (first < i) {
            class_of.push_back(class_of[first]);
        } else {
            class_of.push_back(classes.size());
            classes.push_back(std::make_unique<InputTable>(system, i, counts, levels, accept, patience));
            driven_back.push_back(std::make_unique<ReverseTable>(*classes.back()));
        }
    }
    // Equal inputs stand side by side, so that each follows the one it must not repeat.
    for (std::size_t i = 0; i < inputs.size(); ++i) order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t x, std::size_t y) { return class_of[x] < class_of[y]; });
    const Controller& c = system.setup().controller;
    shared = c.max_total_power_w.has_value() || physics::charging_power_limit_w(c).has_value();
}

// Where the controller's shared limit binds, a plan brings that limit and no more: min(limit, Σ) ≤ limit. Taking
// the limit itself for those levels keeps the bound a sum over the inputs, and tight.
void SearchTables::split_levels(const study::LevelPowers& likely_w) {
    const double limit_w = study::shared_w(system.setup().controller, std::numeric_limits<double>::infinity());
    for (const WeightedLevel& level : european_levels()) {
        if (likely_w[level.level] >= limit_w) {
            full_w += level.weight * limit_w;
            full_levels.push_back(level.level);
        } else {
            levels.push_back(level);
        }
    }
}

}  // namespace plait::search
