#include <plait/study/curve_sheet.hpp>

#include "first_stop.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace plait::study {
namespace {

// Voltages closer than this share of open circuit are one point: maxima are good to 1e-11, a plot shows 1e-3.
constexpr double same_voltage_ratio = 1e-9;

// Less than this is what rounding leaves of the bypass diodes' leakage in the dark.
constexpr double dark_a = 1e-12;

struct MarkedVoltage {
    double voltage_v = 0.0;
    std::vector<Mark> marks;
};

// Where a group's voltage passes nought: at its own short-circuit current the rest of its string is still at work.
std::vector<double> bypass_knees_v(const physics::ArrayCurve& array) {
    std::vector<double> knees;
    std::vector<physics::GroupPoint> state(array.parts().size());
    for (const physics::ArrayCurve::Branch& branch : array.branches()) {
        const auto parts = array.parts_of(branch);
        const physics::ArrayCurve string =
            physics::ArrayCurve::of_string(std::vector<physics::SeriesPart>(parts.begin(), parts.end()));
        for (const physics::SeriesPart& part : parts) {
            if (part.curve.is_blocking() || !part.curve.bypass().present()) continue;
            if (!(part.curve.short_circuit_a() > 0.0)) continue;
            // At the joint of the strings; what the trunk takes of it is the current of all of them.
            const double joint_v = string.voltage_v(part.curve.short_circuit_a());
            const double trunk_v =
                array.trunk_ohm() > 0.0 ? array.trunk_ohm() * array.solve_at_joint(joint_v, state, true) : 0.0;
            knees.push_back(joint_v - trunk_v);
        }
    }
    return knees;
}

std::vector<MarkedVoltage> marked_voltages(const InputCurve& c, const physics::ArrayCurve& array,
                                           const physics::AcceptanceWindow& window, bool tracks) {
    std::vector<MarkedVoltage> all;
    const auto add = [&](double v, Mark mark) {
        if (v >= 0.0 && v <= c.open_circuit_v) all.push_back({v, {mark}});
    };
    add(0.0, Mark::short_circuit);
    add(c.open_circuit_v, Mark::open_circuit);
    for (const physics::PowerExtreme& e : c.extremes.points) {
        add(e.point.voltage_v, e.maximum ? Mark::maximum : Mark::minimum);
    }
    add(c.extremes.best().point.voltage_v, Mark::best);
    const double least_v = same_voltage_ratio * c.open_circuit_v;
    for (const double v : bypass_knees_v(array)) {
        if (v > least_v) add(v, Mark::bypass_knee);
    }
    if (c.operating.held()) add(c.operating.point.voltage_v, Mark::in_operation);
    if (c.first_stop) add(c.first_stop->point.voltage_v, Mark::first_stop);
    if (tracks) {
        add(window.low_v, Mark::window_edge);
        add(window.high_v, Mark::window_edge);
        for (const CurrentBand& band : window.bands) {
            for (const double v : {band.from_v, band.to_v}) {
                if (v > window.low_v && v < window.high_v) add(v, Mark::window_edge);
            }
        }
    }
    return all;
}

/// One entry for each voltage, by rising voltage; of those that are nearly the same, the voltage of the one listed
/// first.
std::vector<MarkedVoltage> merged(std::vector<MarkedVoltage> marked, double open_circuit_v, std::size_t even) {
    for (std::size_t i = 0; i < even; ++i) {
        marked.push_back({open_circuit_v * static_cast<double>(i) / static_cast<double>(even - 1), {}});
    }
    std::vector<std::size_t> order(marked.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return marked[a].voltage_v < marked[b].voltage_v; });
    std::vector<MarkedVoltage> out;
    std::size_t kept = 0;
    for (const std::size_t i : order) {
        MarkedVoltage& next = marked[i];
        if (out.empty() || next.voltage_v - out.back().voltage_v > same_voltage_ratio * open_circuit_v) {
            out.push_back(std::move(next));
            kept = i;
            continue;
        }
        MarkedVoltage& last = out.back();
        if (i < kept) {
            last.voltage_v = next.voltage_v;
            kept = i;
        }
        for (const Mark mark : next.marks) {
            if (std::find(last.marks.begin(), last.marks.end(), mark) == last.marks.end()) last.marks.push_back(mark);
        }
    }
    for (MarkedVoltage& m : out) std::sort(m.marks.begin(), m.marks.end());
    return out;
}

std::vector<CurvePoint> solved(const physics::ArrayCurve& array, std::vector<MarkedVoltage> wanted) {
    std::vector<CurvePoint> points;
    points.reserve(wanted.size());
    std::vector<physics::GroupPoint> state(array.parts().size());
    for (MarkedVoltage& m : wanted) {
        CurvePoint& p = points.emplace_back();
        // From scratch each time, so that a point does not depend on which others were asked for.
        p.point = {m.voltage_v, array.solve(m.voltage_v, state, true)};
        for (std::size_t s = 0; s < array.string_count(); ++s) {
            const std::optional<std::size_t> branch = array.branch_of(s);
            p.string_a.push_back(branch ? state[array.branches()[*branch].first].current_a : 0.0);
        }
        p.marks = std::move(m.marks);
    }
    return points;
}

}  // namespace

KindConditions conditions_of(const SystemModel& system, const Weather& weather) {
    if (weather.id) return system.conditions(*weather.id);
    if (weather.air) return system.conditions_in_air(weather.irradiance_w_per_m2, *weather.air);
    return KindConditions(system.setup().kinds.size(), {weather.irradiance_w_per_m2, weather.cell});
}

CellRange cell_range(const InputWiring& wiring, const KindConditions& by_kind) {
    CellRange range{hottest_cell, coldest_cell};
    bool first = true;
    const auto see = [&](Celsius t) {
        range.coldest = first || t < range.coldest ? t : range.coldest;
        range.hottest = first || t > range.hottest ? t : range.hottest;
        first = false;
    };
    for (const SeriesString& string : wiring.strings) {
        for (const PanelPlace& place : string.panels) {
            if (place.groups.empty()) see(by_kind[place.kind].cell);
            for (const GroupState& group : place.groups) see(by_kind[place.kind].cell + group.warmer_k);
        }
    }
    return range;
}

bool allows(const physics::AcceptanceWindow& window, const physics::PowerPoint& point) {
    return point.voltage_v >= window.low_v && point.voltage_v <= window.high_v &&
           point.current_a <= window.current_limit_a(point.voltage_v) && point.power_w() <= window.power_w;
}

double InputCurve::first_stop_lost_w() const {
    return first_stop ? std::max(0.0, operating.point.power_w() - first_stop->point.power_w()) : 0.0;
}

bool InputCurve::first_stop_matters() const {
    return first_stop_lost_w() > std::max(0.05, 1e-3 * operating.point.power_w());
}

bool InputCurve::operates_at_best() const {
    const double best_v = extremes.best().point.voltage_v;
    return std::abs(operating.point.voltage_v - best_v) <= 1e-6 * best_v;
}

InputCurve input_curve(const SystemModel& system, std::size_t input, const InputWiring& wiring, const Weather& weather,
                       const PointChoice& choice) {
    const physics::AcceptanceWindow& window = system.window(input);
    const bool tracks = !physics::pinned_voltage_v(system.setup().controller);
    InputCurve c;
    c.input = input;
    c.wiring = wiring;
    c.by_kind = conditions_of(system, weather);
    const physics::ArrayCurve array = system.curve(wiring, c.by_kind, system.wires(input, wiring));
    c.short_circuit_a = array.short_circuit_a();
    if (c.short_circuit_a > dark_a) {
        c.open_circuit_v = array.open_circuit_v();
        c.extremes = physics::power_extremes(array);
        c.operating = system.operating_point(input, array);
    } else {
        c.short_circuit_a = 0.0;
        c.extremes = {{{physics::PowerPoint{}, true, true}}};
    }
    const double top_v = std::min(window.high_v, c.open_circuit_v);
    if (tracks && window.low_v < top_v) {
        const physics::PowerExtremes inside = physics::power_extremes(array, window.low_v, top_v);
        c.in_window = inside.points;
        c.first_stop = first_stop(array, window, inside, top_v);
    }
    const double best_v = c.extremes.best().point.voltage_v;
    c.at_best = {physics::array_reading(array, best_v), physics::mismatch_at(array, best_v)};
    if (c.operating.held()) {
        const double v = c.operating.point.voltage_v;
        c.in_operation = Shares{physics::array_reading(array, v), physics::mismatch_at(array, v)};
    }
    for (const physics::StringReading& s : physics::array_reading(array, c.open_circuit_v).strings) {
        c.open_circuit_string_a.push_back(s.current_a);
    }
    std::vector<MarkedVoltage> wanted;
    for (const double v : choice.exact_v) wanted.push_back({v, {}});
    if (wanted.empty()) wanted = merged(marked_voltages(c, array, window, tracks), c.open_circuit_v, choice.even);
    c.points = solved(array, std::move(wanted));
    for (std::size_t i = 0; i < choice.columns; ++i) {
        const double v = c.open_circuit_v * (static_cast<double>(i) + 0.5) / static_cast<double>(choice.columns);
        c.column_w.push_back(v * array.current_a(v));
    }
    return c;
}

}  // namespace plait::study
