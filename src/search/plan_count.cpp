// How many plans there are, by generating functions: no plan is written out.
#include <plait/search/plan_search.hpp>

#include "search_tables.hpp"

namespace plait::search {

double PlanSearch::count(const std::function<bool()>& go_on) const {
    if (!tables_) return 0.0;
    constexpr double most_steps = 3e8;
    const SearchTables& t = *tables_;
    const PanelCounts& counts = t.counts;
    Patience patience(go_on);
    double steps = 0.0;
    const auto affordable = [&](std::size_t more) {
        steps += static_cast<double>(more);
        return steps < most_steps && patience.lasts(more);
    };
    // By panels used: the wirings of each class of inputs, and the plans of the inputs so far.
    std::vector<std::vector<double>> of_class;
    for (const auto& table : t.classes) {
        std::vector<double>& wirings = of_class.emplace_back(counts.size(), 0.0);
        wirings[0] = 1.0;
        for (const StringType& type : table->types()) {
            std::size_t seen = 0;
            counts.for_each_whole(type.number, [&](std::size_t c) {
                ++seen;
                wirings[c] += wirings[c - type.number];
            });
            if (!affordable(seen)) return 0.0;
        }
    }
    std::vector<double> plans(counts.size(), 0.0);
    plans[0] = 1.0;
    for (std::size_t place = 0; place + 1 < t.order.size(); ++place) {
        const std::vector<double>& wirings = of_class[t.class_of[t.order[place]]];
        if (place == 0) {
            plans = wirings;
            continue;
        }
        std::vector<double> next(counts.size(), 0.0);
        for (std::size_t c = 0; c < counts.size(); ++c) {
            double sum = 0.0;
            std::size_t parts = 0;
            counts.for_each_part(c, [&](std::size_t own) {
                ++parts;
                sum += wirings[own] * plans[c - own];
            });
            next[c] = sum;
            if (!affordable(parts)) return 0.0;
        }
        plans = std::move(next);
    }
    // The last input takes any part of what is left: the plans of at most so many panels are wanted.
    counts.over_parts(plans, [](double& whole, double part) { whole += part; });
    const std::vector<double>& last = of_class[t.class_of[t.order.back()]];
    double total = 0.0;
    for (std::size_t own = 0; own < counts.size(); ++own) total += last[own] * plans[counts.size() - 1 - own];
    return total - 1.0;
}

}  // namespace plait::search
