#include "input_table.hpp"

#include <plait/physics/power_ceilings.hpp>
#include <plait/rules/catalogue.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace plait::search {
namespace {

constexpr double nothing_w = -std::numeric_limits<double>::infinity();
// Bounds are sums of a few dozen terms; they must not be short by what rounding takes.
constexpr double room_for_rounding = 1.0 + 1e-11;
constexpr std::size_t most_cells = 32;

SeriesString string_of(std::span<const int> counts) {
    SeriesString s;
    for (std::size_t kind = 0; kind < counts.size(); ++kind) {
        for (int i = 0; i < counts[kind]; ++i) s.panels.push_back({kind, {}});
    }
    return s;
}

}  // namespace

std::vector<WeightedLevel> european_levels() {
    std::vector<WeightedLevel> levels;
    for (std::size_t l = 0; l < study::harvest_levels.size(); ++l) {
        study::LevelPowers one{};
        one[l] = 1.0;
        const double weight = study::weighted(one).european_w;
        if (weight > 0.0) levels.push_back({l, weight});
    }
    std::sort(levels.begin(), levels.end(),
              [](const WeightedLevel& a, const WeightedLevel& b) { return a.weight > b.weight; });
    return levels;
}

double highest_string_v(std::span<const StringType> types, std::span<const double> panel_v) {
    double highest_v = 0.0;
    for (const StringType& type : types) {
        double string_v = 0.0;
        for (const PanelPlace& place : type.string.panels) string_v += panel_v[place.kind];
        highest_v = std::max(highest_v, string_v);
    }
    return highest_v;
}

InputTable::InputTable(const study::SystemModel& system, std::size_t input, const PanelCounts& counts,
                       const std::vector<WeightedLevel>& levels, Accept accept, Patience& patience)
    : system_(&system), input_(input), accept_(accept), counts_(&counts), levels_(&levels) {
    const Input& in = system.setup().controller.inputs[input];
    sums_are_limited_ = in.max_short_circuit_a || in.max_array_power_w ||
                        in.over_current == OverCurrent::not_permitted ||
                        system.setup().controller.type == ControllerType::direct_connect;
    list_types(patience);
    cut_cells();
    for (const Cell& cell : cells_) caps_w_.push_back(cell.cap_w);
    find_ceilings(patience);
    find_best(patience);
}

bool InputTable::broken_for_good(const InputWiring& wiring) const { return lasting_of(wiring).broken; }

InputTable::Lasting InputTable::lasting_of(const InputWiring& wiring) const {
    const rules::WiredInput wired{input_, &wiring, nullptr};
    const rules::Situation s{system_->setup(), wired, std::span(&wired, 1), system_->curves()};
    rules::Findings findings;
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->stays_broken) rule->check(s, findings);
    }
    Lasting lasting;
    for (const rules::Finding& f : findings) {
        if (!f.decides) continue;
        // What the top of a tolerance carries past a limit does not hold either, unless such plans are looked for.
        const bool over = f.outcome == rules::Outcome::exceeds || (f.exceeds_by_tolerance() && accept_ == Accept::holds);
        if (!over && f.outcome != rules::Outcome::falls_short) continue;
        lasting.broken = true;
        lasting.too_long = lasting.too_long || (over && f.unit == rules::Unit::volt);
    }
    return lasting;
}

/// Every string that may stand in a usable wiring.
void InputTable::list_types(Patience& patience) {
    constexpr std::size_t steps_a_panel = 30;  // several rules, a few sums each
    InputWiring wiring;
    std::vector<bool> too_long(counts_->size(), false);
    for (std::size_t c = 1; c < counts_->size(); ++c) {
        const std::span<const int> of_kind = counts_->of(c);
        for (std::size_t k = 0; k < of_kind.size() && !too_long[c]; ++k) {
            too_long[c] = of_kind[k] > 0 && too_long[c - counts_->one_of(k)];
        }
        if (!patience.lasts(of_kind.size())) return;
        if (too_long[c]) continue;
        wiring.strings = {string_of(of_kind)};
        if (!patience.lasts(steps_a_panel * wiring.strings.front().panels.size())) return;
        const Lasting lasting = lasting_of(wiring);
        too_long[c] = lasting.too_long;
        if (lasting.broken) continue;
        StringType type;
        type.string = wiring.strings.front();
        type.number = c;
        type.panels = static_cast<int>(type.string.panels.size());
        for (const int n : of_kind) type.kinds += n > 0 ? 1 : 0;
        types_.push_back(std::move(type));
    }
    std::sort(types_.begin(), types_.end(), [](const StringType& a, const StringType& b) {
        return a.panels != b.panels ? a.panels > b.panels : a.number < b.number;
    });
}

/// Over all strings and levels. Cells are cooler in weaker light, so it need not be that of full sun. At open circuit
/// the panels' own voltages add up.
double InputTable::highest_open_v() const {
    double highest_v = 0.0;
    for (const WeightedLevel& level : *levels_) {
        std::vector<double> panel_v;
        for (std::size_t kind = 0; kind < counts_->kinds(); ++kind) {
            const InputWiring alone{{SeriesString{{PanelPlace{kind, {}}}, false}}};
            panel_v.push_back(system_->level_curve(alone, level.level).open_circuit_v());
        }
        highest_v = std::max(highest_v, highest_string_v(types_, panel_v));
    }
    return highest_v * room_for_rounding;
}

void InputTable::cut_cells() {
    if (types_.empty()) return;
    const Controller& controller = system_->setup().controller;
    if (const auto pinned_v = physics::pinned_voltage_v(controller)) {
        constexpr double unlimited = std::numeric_limits<double>::infinity();
        cells_.push_back({*pinned_v, *pinned_v, unlimited, unlimited});
        return;
    }
    const physics::AcceptanceWindow& window = system_->window(input_);
    const double top_v = std::min(highest_open_v(), window.high_v);
    const double low_v = window.low_v;
    if (!(low_v < top_v)) return;
    std::vector<double> nodes_v{low_v, top_v};
    for (const CurrentBand& band : window.bands) {
        for (const double edge_v : {band.from_v, band.to_v}) {
            if (edge_v > low_v && edge_v < top_v) nodes_v.push_back(edge_v);
        }
    }
    // Even in the logarithm: what matters is how far apart maxima are for their size.
    const double first_v = std::max(low_v, 0.05 * top_v);
    const auto steps = static_cast<double>(most_cells);
    for (double i = 0.0; i < steps; i += 1.0) {
        const double v = first_v * std::pow(top_v / first_v, i / steps);
        if (v > low_v) nodes_v.push_back(v);
    }
    std::sort(nodes_v.begin(), nodes_v.end());
    nodes_v.erase(std::unique(nodes_v.begin(), nodes_v.end()), nodes_v.end());
    for (std::size_t i = 1; i < nodes_v.size(); ++i) {
        const double limit_a = window.current_limit_a(0.5 * (nodes_v[i - 1] + nodes_v[i]));
        cells_.push_back({nodes_v[i - 1], nodes_v[i], limit_a, std::min(window.power_w, limit_a * nodes_v[i])});
    }
    // A cell that no band reaches takes something at its edges at most, and those are its neighbours' too.
    // A band that is a single voltage is a cell of its own.
    for (const CurrentBand& band : window.bands) {
        if (band.from_v == band.to_v && band.from_v >= low_v && band.from_v <= top_v) {
            cells_.push_back(
                {band.from_v, band.from_v, band.limit_a, std::min(window.power_w, band.limit_a * band.from_v)});
        }
    }
}

void InputTable::find_ceilings(Patience& patience) {
    const std::size_t row = row_size();
    ceilings_w_.assign(types_.size() * row, nothing_w);
    end_a_.assign(types_.size() * row, 0.0);
    std::vector<double> nodes_v;
    std::vector<std::size_t> node_of_end;  // by cell
    for (const Cell& cell : cells_) {
        if (nodes_v.empty() || nodes_v.back() != cell.low_v) nodes_v.push_back(cell.low_v);
        if (cell.high_v != cell.low_v) nodes_v.push_back(cell.high_v);
    }
    std::sort(nodes_v.begin(), nodes_v.end());
    nodes_v.erase(std::unique(nodes_v.begin(), nodes_v.end()), nodes_v.end());
    for (const Cell& cell : cells_) {
        node_of_end.push_back(
            static_cast<std::size_t>(std::lower_bound(nodes_v.begin(), nodes_v.end(), cell.high_v) - nodes_v.begin()));
    }
    std::vector<double> current_a(nodes_v.size());
    std::vector<double> ceiling_w(nodes_v.size());
    constexpr std::size_t steps_a_node = 60;  // a few Newton steps
    for (std::size_t t = 0; t < types_.size(); ++t) {
        if (!patience.lasts(steps_a_node * nodes_v.size() * levels_->size())) return;
        for (std::size_t l = 0; l < levels_->size() && !cells_.empty(); ++l) {
            // What stays in a string's own cables lowers its ceiling. The trunk's share is left out: behind it every
            // string stands at a higher voltage and gives less, so the ceilings hold.
            const InputWiring alone{{types_[t].string}};
            physics::WireResistance wires = system_->wires(input_, alone);
            has_trunk_ = wires.trunk_ohm > 0.0;
            wires.trunk_ohm = 0.0;
            const physics::ArrayCurve curve = system_->level_curve(alone, (*levels_)[l].level, wires);
            physics::power_ceilings(curve, nodes_v, current_a, ceiling_w);
            for (std::size_t j = 0; j < cells_.size(); ++j) {
                const std::size_t end = node_of_end[j];
                const std::size_t at = t * row + l * cells_.size() + j;
                end_a_[at] = current_a[end];
                ceilings_w_[at] =
                    cells_[j].low_v < cells_[j].high_v ? ceiling_w[end - 1] : cells_[j].high_v * current_a[end];
            }
        }
        alone_w_.push_back(weigh(ceilings(t)));
    }
}

double InputTable::weigh(std::span<const double> sum_w, std::size_t weighted_level) const {
    const double* const row = sum_w.data() + weighted_level * cells_.size();
    // Half of a long search: four maxima at a time, as none waits for the one before.
    std::array<double, 4> best_w{};
    std::size_t j = 0;
    for (; j + best_w.size() <= caps_w_.size(); j += best_w.size()) {
        for (std::size_t k = 0; k < best_w.size(); ++k) best_w[k] = std::max(best_w[k], std::min(row[j + k], caps_w_[j + k]));
    }
    for (; j < caps_w_.size(); ++j) best_w[0] = std::max(best_w[0], std::min(row[j], caps_w_[j]));
    return std::max(std::max(best_w[0], best_w[1]), std::max(best_w[2], best_w[3])) * room_for_rounding;
}

double InputTable::weigh(std::span<const double> sum_w) const {
    double total_w = 0.0;
    for (std::size_t l = 0; l < levels_->size(); ++l) {
        total_w += (*levels_)[l].weight * weigh(sum_w, l);
    }
    return total_w;
}

double InputTable::weigh_finished(std::span<const double> sum_w, std::span<const std::size_t> types) const {
    double total_w = 0.0;
    for (std::size_t l = 0; l < levels_->size(); ++l) {
        double best_w = 0.0;
        for (std::size_t j = 0; j < cells_.size(); ++j) {
            const std::size_t at = l * cells_.size() + j;
            const double most_w = std::min(sum_w[at], cells_[j].cap_w);
            if (most_w <= best_w) continue;
            // Behind a trunk the current at the input's voltage is less than the strings' sum there, nobody knows yet
            // how much.
            if (has_trunk_) {
                best_w = most_w;
                continue;
            }
            // Current falls with voltage: more than the limit at the upper end is more everywhere in the cell.
            double end_a = 0.0;
            for (const std::size_t t : types) end_a += end_a_[t * row_size() + at];
            if (end_a > cells_[j].limit_a * room_for_rounding) continue;
            best_w = most_w;
        }
        total_w += (*levels_)[l].weight * best_w;
    }
    return total_w * room_for_rounding;
}

void InputTable::find_best(Patience& patience) {
    if (patience.over()) return;
    const std::size_t row = row_size();
    best_w_.assign(counts_->size() * row, nothing_w);
    can_use_.assign(counts_->size(), false);
    bound_w_.assign(counts_->size(), nothing_w);
    can_use_[0] = true;
    bound_w_[0] = 0.0;
    std::fill_n(best_w_.begin(), row, 0.0);
    for (std::size_t c = 1; c < counts_->size(); ++c) {
        double* const best = best_w_.data() + c * row;
        if (!patience.lasts(types_.size())) return;
        for (std::size_t t = 0; t < types_.size(); ++t) {
            if (!counts_->holds(c, types_[t].number)) continue;
            const std::size_t rest = c - types_[t].number;
            if (!can_use_[rest]) continue;
            can_use_[c] = true;
            if (!patience.lasts(row / 2)) return;
            const double* const from = best_w_.data() + rest * row;
            const double* const own = ceilings_w_.data() + t * row;
            for (std::size_t i = 0; i < row; ++i) best[i] = std::max(best[i], from[i] + own[i]);
        }
        if (can_use_[c]) bound_w_[c] = weigh(best_ceilings(c));
    }
}

bool InputTable::know_strings(int most_strings, Patience& patience) {
    while (bound_by_most_.size() < static_cast<std::size_t>(std::max(most_strings, 0))) {
        std::vector<double> next(counts_->size(), nothing_w);
        next[0] = 0.0;
        for (std::size_t c = 1; c < counts_->size(); ++c) {
            if (!can_use_[c]) continue;
            if (!patience.lasts(types_.size())) return false;
            for (std::size_t t = 0; t < types_.size(); ++t) {
                if (!counts_->holds(c, types_[t].number)) continue;
                const std::size_t rest = c - types_[t].number;
                const double rest_w =
                    bound_by_most_.empty() ? (rest == 0 ? 0.0 : nothing_w) : bound_by_most_.back()[rest];
                next[c] = std::max(next[c], alone_w_[t] + rest_w);
            }
            next[c] = std::min(next[c], bound_w_[c]);
        }
        bound_by_most_.push_back(std::move(next));
    }
    return true;
}

double InputTable::bound_w(std::size_t panels, int most_strings) const {
    if (most_strings <= 0) return panels == 0 ? 0.0 : nothing_w;
    assert(static_cast<std::size_t>(most_strings) <= bound_by_most_.size() && "know_strings comes first");
    return bound_by_most_[static_cast<std::size_t>(most_strings) - 1][panels];
}

}  // namespace plait::search
