#include "point_buffer.hpp"

#include <plait/physics/array_reading.hpp>
#include <plait/physics/power_extremes.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::physics {
namespace {

constexpr double bypassed_ratio = 0.01;

/// The parts a panel is made of, with counts: its own little string.
std::vector<std::pair<std::size_t, double>> content_of(const ArrayCurve& array, std::size_t string, std::size_t panel) {
    std::vector<std::pair<std::size_t, double>> content;
    for (std::size_t g = 0; g < array.group_count(string, panel); ++g) {
        const std::size_t part = array.part_of(string, panel, g);
        const auto held = std::find_if(content.begin(), content.end(), [&](const auto& c) { return c.first == part; });
        if (held != content.end()) {
            held->second += 1.0;
        } else {
            content.emplace_back(part, 1.0);
        }
    }
    return content;
}

double own_maximum_w(const ArrayCurve& array, const std::vector<std::pair<std::size_t, double>>& content) {
    std::vector<SeriesPart> parts;
    for (const auto& [part, count] : content) parts.push_back({array.parts()[part].curve, count});
    return ArrayCurve::of_string(std::move(parts)).maximum_power().power_w();
}

}  // namespace

double ArrayReading::wire_w() const {
    double w = trunk_v * point.current_a;
    for (const StringReading& s : strings) w += s.wire_v * s.current_a;
    return w;
}

std::optional<ShadedCells> shaded_cells(const GroupCurve& curve, double voltage_v) {
    if (curve.part_shade() == nullptr) return std::nullopt;
    for (const CellRow& row : curve.part_shade()->rows()) {
        if (!row.shaded()) continue;
        const double cells_count = row.shaded_cells_count();
        const RowPoint p = row.at_voltage(voltage_v);
        const double taken_w = row.taken_w(p);
        ShadedCells shaded;
        shaded.cells_count = static_cast<int>(std::lround(cells_count));
        shaded.cell_w = taken_w / cells_count;
        shaded.cell_v = (p.shaded_v - row.shaded_cells().series_resistance_ohm * p.current_a) / cells_count;
        if (curve.bypass().present()) {
            const double lit_a = row.lit_cells().short_circuit_a();
            const double others_w = row.lit_cells().maximum_power().power_w() +
                                    row.shaded_cells().maximum_power().power_w() * (1.0 - 1.0 / cells_count);
            shaded.most_cell_w = others_w + lit_a * std::max(-voltage_v, curve.bypass().forward_v(lit_a));
        }
        return shaded;
    }
    return std::nullopt;
}

ArrayReading array_reading(const ArrayCurve& array, double voltage_v) {
    PointBuffer buffer(array.parts().size());
    const std::span<GroupPoint> points = buffer.all();
    ArrayReading reading;
    reading.point = {voltage_v, array.solve(voltage_v, points, true)};
    reading.trunk_v = array.trunk_ohm() * reading.point.current_a;
    for (std::size_t s = 0; s < array.string_count(); ++s) {
        StringReading& string = reading.strings.emplace_back();
        const std::optional<std::size_t> index = array.branch_of(s);
        if (!index) continue;
        const ArrayCurve::Branch& branch = array.branches()[*index];
        string.current_a = points[branch.first].current_a;
        double panels_v = 0.0;
        for (std::size_t p = 0; p < array.panel_count(s); ++p) {
            PanelReading& panel = string.panels.emplace_back();
            for (std::size_t g = 0; g < array.group_count(s, p); ++g) {
                const std::size_t part = array.part_of(s, p, g);
                const double v = points[part].voltage_v;
                const ExponentialDiode& bypass = array.parts()[part].curve.bypass();
                const double bypass_a = bypass.present() ? bypass.current_a(-v) : 0.0;
                panel.groups.push_back({v, bypass_a, bypass_a > bypassed_ratio * std::abs(string.current_a),
                                        shaded_cells(array.parts()[part].curve, v)});
                panel.voltage_v += v;
            }
            panels_v += panel.voltage_v;
        }
        const GroupCurve& last = array.parts()[branch.first + branch.size - 1].curve;
        for (const SeriesPart& part : array.parts_of(branch)) {
            if (part.curve.is_wire()) string.wire_v = string.current_a / part.curve.cells().shunt_conductance_s;
        }
        if (last.is_blocking()) string.blocking_v = panels_v - string.wire_v - reading.trunk_v - voltage_v;
    }
    return reading;
}

Mismatch mismatch_at(const ArrayCurve& array, double voltage_v) {
    const ArrayReading reading = array_reading(array, voltage_v);
    Mismatch mismatch;
    mismatch.point = reading.point;
    std::vector<std::pair<std::vector<std::pair<std::size_t, double>>, double>> known;
    for (std::size_t s = 0; s < array.string_count(); ++s) {
        const StringReading& string = reading.strings[s];
        std::vector<PanelShare>& shares = mismatch.panels.emplace_back();
        mismatch.blocking_w += string.blocking_v * string.current_a;
        for (std::size_t p = 0; p < string.panels.size(); ++p) {
            std::vector<std::pair<std::size_t, double>> content = content_of(array, s, p);
            auto held = std::find_if(known.begin(), known.end(), [&](const auto& k) { return k.first == content; });
            if (held == known.end()) {
                const double own_w = own_maximum_w(array, content);
                held = known.emplace(known.end(), std::move(content), own_w);
            }
            shares.push_back({held->second, string.panels[p].voltage_v * string.current_a});
            mismatch.own_w += held->second;
        }
    }
    return mismatch;
}

Mismatch mismatch_at_maximum(const ArrayCurve& array) { return mismatch_at(array, array.maximum_power().voltage_v); }

}  // namespace plait::physics
