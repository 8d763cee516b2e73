#include "reverse_table.hpp"

#include <plait/rules/array_figures.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::search {
namespace {

// The rule's own open-circuit voltage is good to a ten-millionth of a volt.
constexpr double certain_ratio = 1.0 + 1e-4;
constexpr double unknown_a = std::numeric_limits<double>::quiet_NaN();

}  // namespace

ReverseTable::ReverseTable(const InputTable& table)
    : table_(&table), top_v_(rules::condition_count, 0.0), rows_(table.types().size() * rules::condition_count) {
    const study::SystemModel& system = table.system();
    for (std::size_t weather = 0; weather < rules::condition_count; ++weather) {
        const study::KindConditions by_kind = system.conditions(static_cast<rules::ConditionId>(weather));
        std::vector<double> panel_v;
        for (std::size_t kind = 0; kind < system.setup().kinds.size(); ++kind) {
            panel_v.push_back(system.curve({{SeriesString{{PanelPlace{kind, {}}}, false}}}, by_kind).open_circuit_v());
        }
        top_v_[weather] = highest_string_v(table.types(), panel_v);
    }
}

bool ReverseTable::too_much(std::span<const std::size_t> types) {
    runs_.clear();
    for (const std::size_t type : types) {
        if (runs_.empty() || runs_.back().type != type) {
            const double rating_a = rules::weakest_series_fuse_a(table_->system().setup(), table_->types()[type].string);
            runs_.push_back({type, 0.0, rating_a, nullptr});
        }
        runs_.back().count += 1.0;
    }
    // Like strings drive nothing back.
    if (runs_.size() < 2) return false;
    std::array<Bounds, rules::condition_count> stated;
    double least_ratio = 0.0;
    for (std::size_t weather = 0; weather < stated.size(); ++weather) {
        look_at(weather);
        stated[weather] = as_stated();
        least_ratio = std::max(least_ratio, stated[weather].least_ratio);
    }
    if (least_ratio > certain_ratio) return true;
    if (table_->accept() == Accept::may_exceed) return false;
    for (std::size_t weather = 0; weather < stated.size(); ++weather) {
        // Where nothing is driven back in any weather the rule takes the first.
        const bool may_be_worst = stated[weather].most_ratio > 0.0 ? certain_ratio * stated[weather].most_ratio >= least_ratio
                                                                   : weather == 0 && least_ratio <= 0.0;
        if (!may_be_worst) continue;
        look_at(weather);
        if (!too_much_by_tolerance()) return false;
    }
    return true;
}

void ReverseTable::look_at(std::size_t weather) {
    for (Run& run : runs_) run.row = &row_of(run.type, weather);
}

std::size_t ReverseTable::last_forward_step(std::size_t own, End own_end, End others_end) const {
    const auto sum_a = [&](std::size_t step) {
        double sum = runs_[own].row->at_a(step, own_end);
        for (std::size_t r = 0; r < runs_.size(); ++r) {
            const double others = r == own ? runs_[r].count - 1.0 : runs_[r].count;
            if (others > 0.0) sum += others * runs_[r].row->at_a(step, others_end);
        }
        return sum;
    };
    std::size_t forward = 0;
    std::size_t back = most_steps + 1;
    while (back - forward > 1) {
        const std::size_t step = forward + (back - forward) / 2;
        (sum_a(step) >= 0.0 ? forward : back) = step;
    }
    return forward;
}

ReverseTable::Bounds ReverseTable::as_stated() const {
    const std::size_t step = last_forward_step(0, End::stated, End::stated);
    Bounds bounds;
    for (const Run& run : runs_) {
        bounds.least_ratio = std::max(bounds.least_ratio, -run.row->at_a(step, End::stated) / run.rating_a);
        if (step < most_steps) {
            bounds.most_ratio = std::max(bounds.most_ratio, -run.row->at_a(step + 1, End::stated) / run.rating_a);
        }
    }
    if (step == most_steps) bounds.most_ratio = std::numeric_limits<double>::infinity();
    return bounds;
}

bool ReverseTable::too_much_by_tolerance() const {
    // Shorter strings come later, and are the likelier to be driven back.
    for (std::size_t own = runs_.size(); own-- > 0;) {
        const std::size_t step = last_forward_step(own, End::weak, End::strong);
        if (-runs_[own].row->at_a(step, End::weak) > certain_ratio * runs_[own].rating_a) return true;
    }
    return false;
}

double ReverseTable::StringRow::at_a(std::size_t step, End end) {
    const auto e = static_cast<std::size_t>(end);
    std::vector<double>& row_a = current_a[e];
    if (row_a.empty()) row_a.assign(most_steps + 1, unknown_a);
    if (std::isnan(row_a[step])) {
        const double voltage_v = top_v * static_cast<double>(step) / static_cast<double>(most_steps);
        row_a[step] =
            physics::current_at_tolerance_a(curve, tolerance, static_cast<double>(e) - 1.0, short_circuit_a, voltage_v);
    }
    return row_a[step];
}

ReverseTable::StringRow& ReverseTable::row_of(std::size_t type, std::size_t weather) {
    std::optional<StringRow>& row = rows_[type * rules::condition_count + weather];
    if (row) return *row;
    const study::SystemModel& system = table_->system();
    const InputWiring alone{{table_->types()[type].string}};
    // No current flows in the trunk.
    physics::WireResistance wires = system.wires(table_->input(), alone);
    wires.trunk_ohm = 0.0;
    const physics::ArrayCurve curve = system.curve(alone, system.conditions(static_cast<rules::ConditionId>(weather)), wires);
    row = StringRow{curve, study::tolerance_of(system.setup(), alone.strings.front()), curve.short_circuit_a(), top_v_[weather], {}};
    return *row;
}

}  // namespace plait::search
