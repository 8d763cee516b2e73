#include <plait/study/window_map.hpp>

#include <plait/rules/cold_methods.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

constexpr double steps_per_edge = 32.0;
constexpr double steps_per_curve = 80.0;

MapTrack track_of(const SystemModel& system, std::size_t input, const MapEntry& entry) {
    MapTrack t;
    t.wiring = entry.wiring;
    t.verdict = entry.verdict;
    t.name = entry.name;
    for (std::size_t l = 0; l < harvest_levels.size(); ++l) {
        const physics::ArrayCurve curve = system.level_curve(entry.wiring, l, system.wires(input, entry.wiring));
        const physics::OperatingPoint p = system.operating_point(input, curve);
        if (p.held()) t.path.push_back(p.point);
        if (l + 1 < harvest_levels.size()) continue;
        const double open_v = curve.open_circuit_v();
        for (double i = 0.0; i <= steps_per_curve; i += 1.0) {
            // Closer together towards open circuit, where the curve bends.
            const double v = open_v * std::sin(0.5 * 3.14159265358979 * i / steps_per_curve);
            t.curve.push_back({v, std::max(0.0, curve.current_a(v))});
        }
    }
    const rules::ConditionPoints points = system.points(input, entry.wiring);
    const auto at = [&](rules::ConditionId id) { return points[static_cast<std::size_t>(id)].operating; };
    if (at(rules::ConditionId::hot_bright).held()) t.path.push_back(at(rules::ConditionId::hot_bright).point);
    t.cold_point = at(rules::ConditionId::cold_bright).point;
    t.cold_voc_v = rules::array_cold_voc_v(system.stated(), entry.wiring).value;
    return t;
}

}  // namespace

WindowMap window_map(const SystemModel& system, std::size_t input, const std::vector<MapEntry>& entries) {
    WindowMap map;
    map.input = input;
    map.max_voltage_v = system.setup().controller.inputs[input].max_voltage_v;
    for (const MapEntry& e : entries) map.tracks.push_back(track_of(system, input, e));

    const physics::AcceptanceWindow& window = system.window(input);
    map.low_v = window.low_v;
    map.high_v = std::min(window.high_v, map.max_voltage_v.value_or(window.high_v));
    map.top_v = 1.08 * map.max_voltage_v.value_or(0.0);
    if (!map.max_voltage_v && std::isfinite(map.high_v)) map.top_v = 1.08 * map.high_v;
    for (const MapTrack& t : map.tracks) {
        map.top_v = std::max(map.top_v, 1.05 * t.cold_voc_v);
        for (const physics::PowerPoint& p : t.curve) map.top_a = std::max(map.top_a, 1.15 * p.current_a);
    }
    double limit_a = 0.0;
    for (const CurrentBand& b : window.bands) limit_a = std::max(limit_a, b.limit_a);
    map.current_is_limited = limit_a > 0.0;
    map.top_a = std::max(map.top_a, 1.15 * limit_a);
    if (!(map.top_a > 0.0)) map.top_a = 1.0;
    map.high_v = std::min(map.high_v, map.top_v);

    std::vector<CurrentBand> bands = window.bands;
    if (bands.empty()) bands.push_back({map.low_v, map.high_v, map.top_a});
    for (const CurrentBand& band : bands) {
        const double from_v = std::max(band.from_v, map.low_v);
        const double to_v = std::min(band.to_v, map.high_v);
        if (!(from_v < to_v)) continue;
        MapRegion region;
        const auto add = [&](double v) {
            const double power_a = v > 0.0 ? window.power_w / v : map.top_a;
            region.push_back({v, std::min({band.limit_a, power_a, map.top_a})});
        };
        add(from_v);
        // Where the power limit takes over is a corner.
        const double corner_v = window.power_w / band.limit_a;
        for (double i = 1.0; i < steps_per_edge; i += 1.0) {
            const double v = from_v + (to_v - from_v) * i / steps_per_edge;
            if (!region.empty() && region.back().voltage_v < corner_v && corner_v < v && corner_v > from_v)
                add(corner_v);
            add(v);
        }
        add(to_v);
        map.regions.push_back(std::move(region));
    }
    return map;
}

}  // namespace plait::study
