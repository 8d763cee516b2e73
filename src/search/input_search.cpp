#include "input_search.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace plait::search {
namespace {

constexpr std::size_t steps_between_questions = 256;
constexpr double nothing_w = -std::numeric_limits<double>::infinity();

std::uint64_t list_key(std::size_t panels, int most_strings) {
    return (static_cast<std::uint64_t>(panels) << 16U) | static_cast<std::uint64_t>(most_strings);
}

}  // namespace

InputSearch::InputSearch(InputTable& table, ReverseTable& driven_back, const PanelCounts& counts,
                         std::function<bool()> keep_going)
    : table_(&table), driven_back_(&driven_back), counts_(&counts), keep_going_(std::move(keep_going)) {}

std::size_t InputSearch::KeyHash::operator()(const Key& key) const {
    std::uint64_t h = 1469598103934665603U;  // FNV-1a
    for (const std::uint32_t k : key) h = (h ^ k) * 1099511628211U;
    return static_cast<std::size_t>(h);
}

double InputSearch::bound_w(std::size_t panels, int most_strings) {
    double bound_w = most_strings >= any_number ? table_->bound_w(panels) : table_->bound_w(panels, most_strings);
    const auto list = lists_.find(list_key(panels, most_strings));
    if (list != lists_.end() && list->second.filled) {
        const List& l = list->second;
        bound_w = std::min(bound_w, std::max(l.above_w, l.wirings.empty() ? 0.0 : l.wirings.front()->weighted_w));
    }
    return bound_w;
}

const std::vector<const SolvedWiring*>& InputSearch::wirings(std::size_t panels, int most_strings, double above_w) {
    List& list = lists_[list_key(panels, most_strings)];
    if ((list.filled && above_w >= list.above_w) || stopped_) return list.wirings;
    list.wirings.clear();
    list.above_w = above_w;
    chosen_.clear();
    sums_w_.assign(table_->row_size(), 0.0);
    levels_w_.assign(table_->levels().size(), std::numeric_limits<double>::infinity());
    trial_w_.resize(table_->row_size());
    extend(0, panels, most_strings, 0, list);
    list.filled = !stopped_;
    std::sort(list.wirings.begin(), list.wirings.end(), [](const SolvedWiring* a, const SolvedWiring* b) {
        if (a->weighted_w != b->weighted_w) return a->weighted_w > b->weighted_w;
        if (a->strings != b->strings) return a->strings < b->strings;
        return a->unlike < b->unlike;
    });
    return list.wirings;
}

// Strings are added by rising type, so that every set of strings is met once. `panels` are those still to be placed.
void InputSearch::extend(std::size_t first_type, std::size_t panels, int strings_left, std::size_t depth, List& list) {
    const std::size_t row = table_->row_size();
    if (sums_w_.size() < (depth + 2) * row) sums_w_.resize((depth + 2) * row);
    const std::size_t levels = table_->levels().size();
    if (levels_w_.size() < (depth + 2) * levels) levels_w_.resize((depth + 2) * levels);
    for (std::size_t t = first_type; t < table_->types().size(); ++t) {
        const StringType& type = table_->types()[t];
        if (!counts_->holds(panels, type.number)) continue;
        const std::size_t rest = panels - type.number;
        if (rest != 0 && (strings_left < 2 || !table_->can_use(rest))) continue;
        if (stopped_ || (steps_++ % steps_between_questions == 0 && !keep_going_())) {
            stopped_ = true;
            return;
        }
        const double* const before = sums_w_.data() + depth * row;
        double* const after = sums_w_.data() + (depth + 1) * row;
        const std::span<const double> own = table_->ceilings(t);
        const std::span<const double> others = table_->best_ceilings(rest);
        // Level by level, the heaviest first: with this string decided no level brings more than before it was.
        double known_w = 0.0;
        bool enough = true;
        for (std::size_t l = 0; l < levels && enough; ++l) {
            const std::size_t end = (l + 1) * row / levels;
            for (std::size_t i = l * row / levels; i < end; ++i) {
                after[i] = before[i] + own[i];
                trial_w_[i] = after[i] + others[i];
            }
            const double level_w = table_->levels()[l].weight * table_->weigh(trial_w_, l);
            levels_w_[(depth + 1) * levels + l] = level_w;
            known_w += level_w;
            double rest_w = 0.0;
            for (std::size_t k = l + 1; k < levels; ++k) rest_w += levels_w_[depth * levels + k];
            enough = known_w + rest_w > list.above_w;
        }
        if (!enough) continue;
        chosen_.push_back(t);
        if (rest == 0) {
            finish(list);
        } else {
            bool broken = false;
            if (table_->sums_are_limited()) {
                InputWiring wiring;
                for (const std::size_t c : chosen_) wiring.strings.push_back(table_->types()[c].string);
                broken = table_->broken_for_good(wiring);
            }
            if (!broken) extend(t, rest, strings_left - 1, depth + 1, list);
        }
        chosen_.pop_back();
    }
}

void InputSearch::finish(List& list) {
    const std::size_t row = table_->row_size();
    const std::span<const double> sum_w = std::span(sums_w_).subspan(chosen_.size() * row, row);
    const double bound_w = table_->weigh_finished(sum_w, chosen_);
    if (bound_w <= list.above_w) return;
    if (const SolvedWiring* solved = solve(list.above_w, bound_w)) list.wirings.push_back(solved);
}

// Level by level, the heaviest first; given up when what is known and the ceilings of the rest are not enough.
const SolvedWiring* InputSearch::solve(double above_w, double bound_w) {
    Key key;
    for (const std::size_t t : chosen_) key.push_back(static_cast<std::uint32_t>(t));
    const auto [at, fresh] = met_.try_emplace(std::move(key));
    Met& met = at->second;
    if (fresh) met.at_most_w = bound_w;
    if (met.solved) return met.wiring.weighted_w > above_w ? &met.wiring : nullptr;
    if (met.at_most_w <= above_w) return nullptr;
    if (fresh && driven_back_->too_much(chosen_)) {
        met.at_most_w = nothing_w;
        return nullptr;
    }
    InputWiring wiring;
    for (const std::size_t t : chosen_) wiring.strings.push_back(table_->types()[t].string);
    if (table_->sums_are_limited() && table_->broken_for_good(wiring)) {
        met.at_most_w = 0.0;
        return nullptr;
    }
    ++solved_;
    const std::size_t row = table_->row_size();
    const std::span<const double> sum_w = std::span(sums_w_).subspan(chosen_.size() * row, row);
    double known_w = 0.0;
    double rest_w = 0.0;
    for (std::size_t l = 0; l < table_->levels().size(); ++l) {
        rest_w += table_->levels()[l].weight * table_->weigh(sum_w, l);
    }
    for (std::size_t l = 0; l < table_->levels().size(); ++l) {
        const WeightedLevel& level = table_->levels()[l];
        rest_w -= level.weight * table_->weigh(sum_w, l);
        met.wiring.level_power_w[level.level] = table_->system().level_power_w(table_->input(), wiring, level.level);
        known_w += level.weight * met.wiring.level_power_w[level.level];
        if (l + 1 < table_->levels().size() && known_w + rest_w <= above_w) {
            met.at_most_w = known_w + rest_w;
            return nullptr;
        }
    }
    met.solved = true;
    met.wiring.weighted_w = known_w;
    met.wiring.id = solved_;
    met.wiring.strings = static_cast<int>(wiring.strings.size());
    for (const std::size_t t : chosen_) met.wiring.unlike += table_->types()[t].kinds - 1;
    met.wiring.wiring = std::move(wiring);
    return met.wiring.weighted_w > above_w ? &met.wiring : nullptr;
}

}  // namespace plait::search
