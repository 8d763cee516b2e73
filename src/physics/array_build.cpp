// From a wiring to its curve: which groups are equal, which strings are.
#include <plait/physics/array_curve.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace plait::physics {
namespace {

struct GroupKind {
    std::size_t kind;
    GroupState state;
    GroupCurve curve;
};

/// The groups of one string, by index into the list of group kinds, with their counts.
struct Content {
    std::vector<std::pair<std::size_t, double>> counts;
    std::optional<GroupCurve> blocking;
    double wire_ohm = 0.0;

    friend bool operator==(const Content& a, const Content& b) {
        return a.counts == b.counts && a.blocking == b.blocking && a.wire_ohm == b.wire_ohm;
    }
};

template <class Visit>
void for_each_group(const PanelPlace& place, const PanelPhysics& panel, Visit visit) {
    assert(place.groups.empty() || place.groups.size() == panel.group_count());
    for (std::size_t i = 0; i < panel.group_count(); ++i) {
        visit(i < place.groups.size() ? plain_state(panel, place.groups[i]) : GroupState{});
    }
}

std::uint32_t narrow(std::size_t i) { return static_cast<std::uint32_t>(i); }

}  // namespace

GroupState plain_state(const PanelPhysics& panel, GroupState state) {
    if (state.shaded_cells == 0 && state.shaded_light_ratio == 1.0) return state;
    const bool all = state.shaded_cells >= panel.row_cells_count() * panel.rows_count();
    if (all) state.light_ratio *= state.shaded_light_ratio;
    if (all || !state.part_shaded() || !(state.light_ratio > 0.0)) {
        state.shaded_cells = 0;
        state.shaded_light_ratio = 1.0;
    }
    return state;
}

namespace {

/// A share of the cells of a curve in series, and of its rows side by side.
DiodeCurve share_of(const DiodeCurve& whole, double series_share, double parallel_share) {
    return {whole.light_current_a * parallel_share, whole.saturation_current_a * parallel_share,
            whole.ideality_v * series_share, whole.series_resistance_ohm * series_share / parallel_share,
            whole.shunt_conductance_s * parallel_share / series_share};
}

/// The rows of a part-shaded group from the curves its cells would have if all were lit, and if all were shaded.
PartShade part_shade(const PanelPhysics& panel, const DiodeCurve& lit, DiodeCurve shaded, double shaded_cells_count) {
    shaded.shunt_conductance_s = lit.shunt_conductance_s;
    const double cells_count = panel.row_cells_count();
    const double row_share = 1.0 / panel.rows_count();
    std::vector<CellRow> rows;
    double left_count = shaded_cells_count;
    for (int row = 0; row < panel.rows_count(); ++row) {
        const double here_count = std::min(left_count, cells_count);
        left_count -= here_count;
        const double share = here_count / cells_count;
        if (share == 0.0 || share == 1.0) {
            rows.emplace_back(share_of(share == 0.0 ? lit : shaded, 1.0, row_share));
        } else {
            rows.emplace_back(share_of(lit, 1.0 - share, row_share), share_of(shaded, share, row_share), here_count);
        }
    }
    return PartShade(std::move(rows));
}

}  // namespace

GroupCurve group_curve(const PanelPhysics& panel, Condition condition, GroupState state) {
    state = plain_state(panel, state);
    const Celsius cell = condition.cell + state.warmer_k;
    const DiodeCurve whole = panel.model.at({condition.irradiance_w_per_m2 * state.light_ratio, cell});
    const auto groups = static_cast<double>(panel.group_count());
    const auto share_of_panel = [&](DiodeCurve share) {
        share.ideality_v /= groups;
        share.series_resistance_ohm /= groups;
        share.shunt_conductance_s *= groups;
        return share;
    };
    DiodeCurve share = share_of_panel(whole);
    if (state.part_shaded()) {
        const ExponentialDiode bypass = panel.bypass_diodes == 0 ? ExponentialDiode{} : schottky(panel.model.isc_a, cell);
        const DiodeCurve shaded =
            share_of_panel(panel.model.at({condition.irradiance_w_per_m2 * state.darkest_light_ratio(), cell}));
        // What the diode leaks, as below.
        return {part_shade(panel, with_constant(share, bypass.saturation_current_a),
                           with_constant(shaded, bypass.saturation_current_a), state.shaded_cells),
                bypass};
    }
    if (panel.bypass_diodes == 0) return {share, {}};
    // The datasheet's curve was measured with the diodes in place, so the cells give what those leak on top of it. An
    // unshaded panel is then its datasheet's curve exactly. In the dark there is nothing to give.
    const ExponentialDiode bypass = schottky(panel.model.isc_a, cell);
    if (!(share.light_current_a > 0.0)) return {share, bypass};
    return {with_constant(share, bypass.saturation_current_a), bypass};
}

GroupCurve blocking_curve(const SeriesString& string, std::span<const PanelPhysics> kinds, Condition condition) {
    double rated_a = 0.0;
    for (const PanelPlace& place : string.panels) rated_a = std::max(rated_a, kinds[place.kind].model.isc_a);
    return blocking_element(rated_a, condition.cell);
}

ArrayCurve::ArrayCurve(const InputWiring& wiring, std::span<const PanelPhysics> kinds, Condition condition,
                       const WireResistance& wires)
    : trunk_ohm_(wires.trunk_ohm) {
    assert(wires.string_ohm.empty() || wires.string_ohm.size() == wiring.strings.size());
    std::vector<GroupKind> group_kinds;
    const auto find = [&](std::size_t kind, GroupState state) {
        return std::find_if(group_kinds.begin(), group_kinds.end(),
                            [&](const GroupKind& g) { return g.kind == kind && g.state == state; });
    };
    for (const SeriesString& string : wiring.strings) {
        for (const PanelPlace& place : string.panels) {
            for_each_group(place, kinds[place.kind], [&](GroupState state) {
                if (find(place.kind, state) != group_kinds.end()) return;
                group_kinds.push_back({place.kind, state, group_curve(kinds[place.kind], condition, state)});
            });
        }
    }
    // Sorted by what they are, not by where they stand: the order of panels changes no digit of the result.
    std::sort(group_kinds.begin(), group_kinds.end(),
              [](const GroupKind& a, const GroupKind& b) { return a.curve < b.curve; });

    std::vector<Content> contents;
    std::vector<double> counts;
    std::vector<std::uint32_t> part_of_kind(group_kinds.size());
    for (std::size_t s = 0; s < wiring.strings.size(); ++s) {
        const SeriesString& string = wiring.strings[s];
        first_panel_of_string_.push_back(narrow(first_group_of_panel_.size()));
        if (string.panels.empty()) {
            branch_of_string_.push_back(no_branch);
            continue;
        }
        counts.assign(group_kinds.size(), 0.0);
        const std::size_t first_group = part_of_group_.size();
        for (const PanelPlace& place : string.panels) {
            first_group_of_panel_.push_back(narrow(part_of_group_.size()));
            for_each_group(place, kinds[place.kind], [&](GroupState state) {
                const auto index = static_cast<std::size_t>(find(place.kind, state) - group_kinds.begin());
                counts[index] += 1.0;
                part_of_group_.push_back(narrow(index));  // the kind of group for now
            });
        }
        Content content;
        for (std::size_t i = 0; i < counts.size(); ++i) {
            if (counts[i] > 0.0) content.counts.emplace_back(i, counts[i]);
        }
        if (string.blocking_diode) content.blocking = blocking_curve(string, kinds, condition);
        if (!wires.string_ohm.empty()) content.wire_ohm = wires.string_ohm[s];

        const auto equal = std::find(contents.begin(), contents.end(), content);
        const auto branch = static_cast<std::size_t>(equal - contents.begin());
        if (equal == contents.end()) {
            const std::size_t first = parts_.size();
            for (const auto& [index, count] : content.counts) parts_.push_back({group_kinds[index].curve, count});
            if (content.wire_ohm > 0.0) parts_.push_back({wire_element(content.wire_ohm), 1.0});
            if (content.blocking) parts_.push_back({*content.blocking, 1.0});
            branches_.push_back({first, parts_.size() - first, 0.0});
            contents.push_back(std::move(content));
        }
        branches_[branch].count += 1.0;
        branch_of_string_.push_back(narrow(branch));
        const std::vector<std::pair<std::size_t, double>>& held = contents[branch].counts;
        for (std::size_t i = 0; i < held.size(); ++i) part_of_kind[held[i].first] = narrow(branches_[branch].first + i);
        for (std::size_t i = first_group; i < part_of_group_.size(); ++i) {
            part_of_group_[i] = part_of_kind[part_of_group_[i]];
        }
    }
    first_panel_of_string_.push_back(narrow(first_group_of_panel_.size()));
    first_group_of_panel_.push_back(narrow(part_of_group_.size()));
}

ArrayCurve ArrayCurve::of_string(std::vector<SeriesPart> parts) {
    ArrayCurve array;
    array.branches_.push_back({0, parts.size(), 1.0});
    array.parts_ = std::move(parts);
    array.first_panel_of_string_.push_back(0);
    array.first_group_of_panel_.push_back(0);
    return array;
}

ArrayCurve ArrayCurve::of_strings(const std::vector<std::vector<SeriesPart>>& strings, double trunk_ohm) {
    const auto alike = [](const SeriesPart& a, const SeriesPart& b) {
        return a.count == b.count && a.curve == b.curve;
    };
    ArrayCurve array;
    array.trunk_ohm_ = trunk_ohm;
    for (const std::vector<SeriesPart>& parts : strings) {
        if (parts.empty()) continue;
        const auto known = std::find_if(array.branches_.begin(), array.branches_.end(), [&](const Branch& branch) {
            const std::span<const SeriesPart> held = array.parts_of(branch);
            return std::equal(held.begin(), held.end(), parts.begin(), parts.end(), alike);
        });
        if (known != array.branches_.end()) {
            known->count += 1.0;
            continue;
        }
        array.branches_.push_back({array.parts_.size(), parts.size(), 1.0});
        array.parts_.insert(array.parts_.end(), parts.begin(), parts.end());
    }
    array.first_panel_of_string_.push_back(0);
    array.first_group_of_panel_.push_back(0);
    return array;
}

std::optional<std::size_t> ArrayCurve::branch_of(std::size_t string) const {
    const std::uint32_t branch = branch_of_string_[string];
    return branch == no_branch ? std::nullopt : std::optional<std::size_t>(branch);
}

std::size_t ArrayCurve::part_of(std::size_t string, std::size_t panel, std::size_t group) const {
    return part_of_group_[first_group_of_panel_[first_panel_of_string_[string] + panel] + group];
}

}  // namespace plait::physics
