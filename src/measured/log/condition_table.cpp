#include "condition_table.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace plait::measured {
namespace {

constexpr int base_g = 32;  // cells over √G
constexpr int base_t = 18;  // cells of 10 K over T
constexpr int finest = 16;  // a base cell's side in the smallest cells
constexpr double low_degc = -60.0;
constexpr double step_k = 10.0;

double irradiance_of(int gi) {
    const double x = static_cast<double>(gi) / (base_g * finest);
    return most_irradiance_w_per_m2 * x * x;
}
Celsius cell_of(int ti) { return {low_degc + step_k * static_cast<double>(ti) / finest}; }

Cause cause_of(const physics::OperatingPoint& op) {
    switch (op.none) {
        case physics::NoPoint::dark:
            return Cause::less_light;
        case physics::NoPoint::too_low:
            return Cause::below_window;
        case physics::NoPoint::pushed_out:
            return Cause::above_window;
        case physics::NoPoint::held:
            break;
    }
    switch (op.binding) {
        case physics::Binding::nothing:
            return Cause::less_light;
        case physics::Binding::current_limit:
        case physics::Binding::band_edge:
            return Cause::current_limit;
        case physics::Binding::power_limit:
            return Cause::power_limit;
        case physics::Binding::window_bottom:
            return Cause::below_window;
        case physics::Binding::window_top:
            return Cause::above_window;
        case physics::Binding::pinned:
            return Cause::no_tracker;
    }
    return Cause::less_light;
}

/// The band that lets no more through: the one at the point whose limit is met, or that begins at the edge.
std::size_t band_of(const physics::AcceptanceWindow& window, const physics::OperatingPoint& op) {
    for (std::size_t b = 0; b < window.bands.size(); ++b) {
        const CurrentBand& band = window.bands[b];
        const bool there = op.point.voltage_v >= band.from_v - 1e-9 && op.point.voltage_v <= band.to_v + 1e-9;
        if (there && (op.binding != physics::Binding::current_limit || band.limit_a == op.binding_limit)) return b;
    }
    return 0;
}

template <class Curve>
physics::OperatingPoint held_point(const WiredInput& wired, const Curve& curve) {
    return wired.pinned_v ? physics::pinned_point(curve, *wired.pinned_v)
                          : physics::operating_point(curve, wired.window);
}

template <class Curve>
void solve(const WiredInput& wired, const Curve& bare, const Curve* behind_cables, Solved& out) {
    physics::OperatingPoint op = held_point(wired, bare);
    out.free_w = op.free_maximum.power_w();
    out.open_v = bare.open_circuit_v();
    out.cableless = {op.point.voltage_v, op.point.current_a};
    out.cableless_drawing = op.held();
    out.limit = cause_of(op);
    out.band = out.limit == Cause::current_limit ? band_of(wired.window, op) : 0;
    const Curve& curve = behind_cables ? *behind_cables : bare;
    if (behind_cables) op = held_point(wired, curve);
    out.end = cause_of(op);
    out.end_band = out.end == Cause::current_limit ? band_of(wired.window, op) : 0;
    out.drawing = op.held();
    out.held = {op.point.voltage_v, op.point.current_a};
    out.top = {op.free_maximum.voltage_v, op.free_maximum.current_a};
    for (std::size_t i = 0; i < right_points; ++i) {
        out.right_v[i] =
            i + 1 == right_points ? out.top.voltage_v : curve.voltage_v(right_share(i) * out.top.current_a);
    }
    for (std::size_t i = 0; i < left_points; ++i) {
        const double part = static_cast<double>(i) / (left_points - 1);
        out.left_a[i] = i == 0 ? out.top.current_a
                               : curve.current_a(out.top.voltage_v * (1.0 - (1.0 - lowest_left_ratio) * part));
    }
}

physics::DiodeCurve equal_curve(const WiredInput& wired, physics::Condition condition) {
    return wired.system->fitted(wired.equal->kind)
        .model.at(condition)
        .scaled(wired.equal->in_series, wired.equal->in_parallel);
}

}  // namespace

double right_share(std::size_t i) {
    const double left = 1.0 - static_cast<double>(i) / (right_points - 1);
    return 1.0 - left * left;
}

double right_voltage_v(const std::array<double, right_points>& right_v, double share) {
    const double x = (1.0 - std::sqrt(1.0 - std::clamp(share, 0.0, 1.0))) * (right_points - 1);
    const auto i = std::min(static_cast<std::size_t>(x), right_points - 2);
    const double part = x - static_cast<double>(i);
    return (1.0 - part) * right_v[i] + part * right_v[i + 1];
}

double right_share_at(const std::array<double, right_points>& right_v, double voltage_v) {
    const auto below = std::lower_bound(right_v.begin(), right_v.end(), voltage_v, std::greater<>());  // volts fall
    if (below == right_v.begin()) return 0.0;
    if (below == right_v.end()) return 1.0;
    const double above_v = *(below - 1);
    const double part = above_v > *below ? (above_v - voltage_v) / (above_v - *below) : 0.0;
    const double left = 1.0 - (static_cast<double>(below - right_v.begin() - 1) + part) / (right_points - 1);
    return 1.0 - left * left;
}

double left_current_a(const std::array<double, left_points>& left_a, double share) {
    const double x = (1.0 - std::clamp(share, lowest_left_ratio, 1.0)) / (1.0 - lowest_left_ratio) * (left_points - 1);
    const auto i = std::min(static_cast<std::size_t>(x), left_points - 2);
    const double part = x - static_cast<double>(i);
    return (1.0 - part) * left_a[i] + part * left_a[i + 1];
}

WiredInput wired_input(const study::SystemModel& system, std::size_t input, const InputWiring& wiring) {
    return {&system,
            input,
            wiring,
            as_equal_strings(wiring),
            system.wires(input, wiring),
            system.window(input),
            physics::pinned_voltage_v(system.setup().controller)};
}

Solved solved_at(const WiredInput& wired, double irradiance_w_per_m2, Celsius cell) {
    const physics::Condition condition{irradiance_w_per_m2, cell};
    const physics::Condition cool{irradiance_w_per_m2, stc_cell};
    const study::SystemModel& system = *wired.system;
    Solved out;
    const bool cables = !wired.wires.string_ohm.empty() || wired.wires.trunk_ohm > 0.0;
    if (wired.equal) {
        const physics::DiodeCurve bare = equal_curve(wired, condition);
        const physics::DiodeCurve far = study::behind(bare, wired.wires);
        solve(wired, bare, cables ? &far : nullptr, out);
        out.cool_w = equal_curve(wired, cool).maximum_power().power_w();
        return out;
    }
    const study::KindConditions by_kind(system.setup().kinds.size(), condition);
    const study::KindConditions all_cool(system.setup().kinds.size(), cool);
    std::optional<physics::ArrayCurve> far;
    if (cables) far = system.curve(wired.wiring, by_kind, wired.wires);
    solve(wired, system.curve(wired.wiring, by_kind), far ? &*far : nullptr, out);
    out.cool_w = system.curve(wired.wiring, all_cool).maximum_power().power_w();
    return out;
}

ConditionTable::ConditionTable(WiredInput wired) : wired_(std::move(wired)), roots_(base_g * base_t, -1) {
    const Solved stc = solved_at(wired_, stc_irradiance_w_per_m2, stc_cell);
    label_v_ = std::max(stc.open_v, 1e-6);
    label_a_ = std::max(stc.left_a.back(), 1e-6);
}

const Solved& ConditionTable::node(int gi, int ti) {
    std::unique_ptr<Solved>& held = nodes_[gi * (base_t * finest + 1) + ti];
    if (!held) held = std::make_unique<Solved>(solved_at(wired_, irradiance_of(gi), cell_of(ti)));
    return *held;
}

bool ConditionTable::holds(const Cell& cell, int gi, int ti, int size) {
    const int half = size / 2;
    const auto close = [&](const Solved& exact, std::array<std::size_t, 4> of, double count) {
        const auto mean = [&](const auto& f) {
            double sum = 0.0;
            for (const std::size_t i : of) sum += f(*cell.corner[i]);
            return sum / count;
        };
        const auto off = [&](const auto& f) { return std::abs(mean(f) - f(exact)); };
        const double label_w = label_v_ * label_a_;
        const auto held_alike = [&](HeldAt Solved::* at) {
            return off([at](const Solved& s) { return (s.*at).voltage_v; }) <= most_error_ratio * label_v_ &&
                   off([at](const Solved& s) { return (s.*at).current_a; }) <= most_error_ratio * label_a_;
        };
        const bool good = off([](const Solved& s) { return s.free_w; }) <= most_error_ratio * label_w &&
                          off([](const Solved& s) { return s.open_v; }) <= most_error_ratio * label_v_ &&
                          held_alike(&Solved::cableless) && held_alike(&Solved::held) && held_alike(&Solved::top);
        return good;
    };
    return !cell.jumps && close(node(gi + half, ti + half), {0, 1, 2, 3}, 4.0) &&
           close(node(gi + half, ti), {0, 1, 0, 1}, 4.0) && close(node(gi + half, ti + size), {2, 3, 2, 3}, 4.0) &&
           close(node(gi, ti + half), {0, 2, 0, 2}, 4.0) && close(node(gi + size, ti + half), {1, 3, 1, 3}, 4.0);
}

std::int32_t ConditionTable::make_cell(int gi, int ti, int size) {
    Cell cell;
    cell.corner = {&node(gi, ti), &node(gi + size, ti), &node(gi, ti + size), &node(gi + size, ti + size)};
    for (const Solved* s : cell.corner) {
        cell.jumps = cell.jumps || s->drawing != cell.corner[0]->drawing ||
                     s->cableless_drawing != cell.corner[0]->cableless_drawing;
    }
    cells_.push_back(cell);
    return static_cast<std::int32_t>(cells_.size()) - 1;
}

void ConditionTable::examine(std::size_t at, int gi, int ti, int size) {
    cells_[at].examined = true;
    if (size == 1 || holds(Cell(cells_[at]), gi, ti, size)) return;
    const int half = size / 2;
    const std::int32_t first = make_cell(gi, ti, half);
    make_cell(gi + half, ti, half);
    make_cell(gi, ti + half, half);
    make_cell(gi + half, ti + half, half);
    cells_[at].first_child = first;
}

ConditionTable::Place ConditionTable::at(double irradiance_w_per_m2, Celsius cell_degc) {
    const double irradiance = std::clamp(irradiance_w_per_m2, 1e-9, most_irradiance_w_per_m2);
    const double root = std::sqrt(irradiance / most_irradiance_w_per_m2);
    const double x = std::min(root * base_g, base_g - 1e-9);
    const double y = std::clamp((cell_degc.degc - low_degc) / step_k, 0.0, base_t - 1e-9);
    int gi = static_cast<int>(x) * finest;
    int ti = static_cast<int>(y) * finest;
    double a = x - static_cast<int>(x);
    double b = y - static_cast<int>(y);
    int size = finest;
    std::int32_t& held = roots_[static_cast<std::size_t>(static_cast<int>(y) * base_g + static_cast<int>(x))];
    if (held < 0) held = make_cell(gi, ti, size);
    auto here = static_cast<std::size_t>(held);
    for (;;) {
        if (!cells_[here].examined) examine(here, gi, ti, size);
        if (cells_[here].first_child < 0) break;
        const int right = a >= 0.5 ? 1 : 0;
        const int up = b >= 0.5 ? 1 : 0;
        a = 2.0 * a - right;
        b = 2.0 * b - up;
        size /= 2;
        gi += right * size;
        ti += up * size;
        here = static_cast<std::size_t>(cells_[here].first_child + 2 * up + right);
    }
    const Cell* cell = &cells_[here];
    const double scale = static_cast<double>(finest / size);
    Place place;
    place.corner_ = cell->corner;
    place.a_ = a;
    place.b_ = b;
    place.jumps_ = cell->jumps;
    // dx/dG of x = 32·√(G/1600).
    place.a_per_w_m2_ = scale * base_g * 0.5 * root / irradiance;
    place.b_per_k_ = scale / step_k;
    return place;
}

}  // namespace plait::measured
