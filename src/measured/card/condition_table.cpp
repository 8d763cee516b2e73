#include "condition_table.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr int base_g = 32;  // cells over √G
constexpr int base_t = 18;  // cells of 10 K over T
constexpr int finest = 16;  // a base cell's side in the smallest cells
constexpr double low_degc = -60.0;
constexpr double step_k = 10.0;
constexpr double deep_shade_ratio = 0.2;

double irradiance_of(int gi) {
    const double x = static_cast<double>(gi) / (base_g * finest);
    return most_irradiance_w_per_m2 * x * x;
}
Celsius cell_of(int ti) { return {low_degc + step_k * static_cast<double>(ti) / finest}; }

/// All groups of a panel, or its first one only, in some light.
InputWiring with_light(const study::SystemModel& system, InputWiring wiring, std::size_t string, double light_ratio,
                       bool all) {
    PanelPlace& place = wiring.strings[string].panels.front();
    if (place.groups.empty()) place.groups.resize(system.group_count(place.kind));
    for (std::size_t g = 0; g < place.groups.size(); ++g) {
        if (all || g == 0) place.groups[g].light_ratio *= light_ratio;
    }
    return wiring;
}

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
    for (std::size_t b = 0; b < window.bands.size() && b < most_bands; ++b) {
        const CurrentBand& band = window.bands[b];
        const bool there = op.point.voltage_v >= band.from_v - 1e-9 && op.point.voltage_v <= band.to_v + 1e-9;
        if (there && (op.binding != physics::Binding::current_limit || band.limit_a == op.binding_limit)) return b;
    }
    return 0;
}

template <class Curve>
void solve_as_wired(const study::SystemModel& system, std::size_t input, const Curve& bare, const Curve* behind_cables,
                    Solved& out) {
    physics::OperatingPoint op = system.operating_point(input, bare);
    out.free_w = op.free_maximum.power_w();
    out.open_v = bare.open_circuit_v();
    out.cableless = {op.point.voltage_v, op.point.current_a};
    out.cableless_drawing = op.held();
    out.limit = cause_of(op);
    out.band = out.limit == Cause::current_limit ? band_of(system.window(input), op) : 0;
    const Curve& curve = behind_cables ? *behind_cables : bare;
    if (behind_cables) op = system.operating_point(input, curve);
    out.end = cause_of(op);
    out.drawing = op.held();
    out.held[0] = {op.point.voltage_v, op.point.current_a};
    if (!op.held()) return;
    for (std::size_t i = 0; i < locus_points; ++i) {
        out.locus_v[i] =
            i + 1 == locus_points ? op.point.voltage_v : curve.voltage_v(locus_share(i) * op.point.current_a);
    }
}

physics::DiodeCurve equal_curve(const study::SystemModel& system, const EqualStrings& equal, physics::Condition condition) {
    return system.fitted(equal.kind).model.at(condition).scaled(equal.in_series, equal.in_parallel);
}

}  // namespace

double locus_share(std::size_t i) {
    const double left = 1.0 - static_cast<double>(i) / (locus_points - 1);
    return 1.0 - left * left;
}

double locus_voltage_v(const std::array<double, locus_points>& locus_v, double share) {
    const double x = (1.0 - std::sqrt(1.0 - std::clamp(share, 0.0, 1.0))) * (locus_points - 1);
    const auto i = std::min(static_cast<std::size_t>(x), locus_points - 2);
    const double part = x - static_cast<double>(i);
    return (1.0 - part) * locus_v[i] + part * locus_v[i + 1];
}

std::vector<Variant> variants_of(const study::SystemModel& system, std::size_t input, const InputWiring& wiring) {
    std::vector<Variant> all{{Cause::less_light, wiring, as_equal_strings(wiring), system.wires(input, wiring)}};
    std::vector<std::size_t> unlike;  // the first of each kind of string
    for (std::size_t s = 0; s < wiring.strings.size() && unlike.size() < 2; ++s) {
        const bool known = std::any_of(unlike.begin(), unlike.end(),
                                       [&](std::size_t u) { return wiring.strings[u] == wiring.strings[s]; });
        if (!known && !wiring.strings[s].panels.empty()) unlike.push_back(s);
    }
    const auto add = [&](Cause cause, InputWiring w) {
        if (all.size() < most_variants) all.push_back({cause, w, as_equal_strings(w), system.wires(input, w)});
    };
    for (const std::size_t s : unlike) {
        if (wiring.strings.size() > 1) {
            InputWiring fewer = wiring;
            fewer.strings.erase(fewer.strings.begin() + static_cast<std::ptrdiff_t>(s));
            add(Cause::missing_string, std::move(fewer));
        }
        if (system.panels()[wiring.strings[s].panels.front().kind].bypass_diodes > 0) {
            add(Cause::bypassed_group, with_light(system, wiring, s, 0.0, false));
        }
    }
    add(Cause::shade, with_light(system, wiring, unlike.front(), deep_shade_ratio, true));
    return all;
}

Solved solved_at(const study::SystemModel& system, std::size_t input, const std::vector<Variant>& variants,
                 double irradiance_w_per_m2, Celsius cell) {
    const physics::Condition condition{irradiance_w_per_m2, cell};
    const study::KindConditions by_kind(system.setup().kinds.size(), condition);
    const study::KindConditions cool(system.setup().kinds.size(), {irradiance_w_per_m2, stc_cell});
    Solved out;
    const Variant& wired = variants.front();
    const bool cables = !wired.wires.string_ohm.empty() || wired.wires.trunk_ohm > 0.0;
    if (wired.equal) {
        const physics::DiodeCurve bare = equal_curve(system, *wired.equal, condition);
        const physics::DiodeCurve far = study::behind(bare, wired.wires);
        solve_as_wired(system, input, bare, cables ? &far : nullptr, out);
        out.cool_w = equal_curve(system, *wired.equal, cool.front()).maximum_power().power_w();
    } else {
        std::optional<physics::ArrayCurve> far;
        if (cables) far = system.curve(wired.wiring, by_kind, wired.wires);
        solve_as_wired(system, input, system.curve(wired.wiring, by_kind), far ? &*far : nullptr, out);
        out.cool_w = system.curve(wired.wiring, cool).maximum_power().power_w();
    }
    for (std::size_t v = 1; v < variants.size(); ++v) {
        const Variant& faulty = variants[v];
        const physics::OperatingPoint op =
            faulty.equal ? system.operating_point(
                               input, study::behind(equal_curve(system, *faulty.equal, condition), faulty.wires))
                         : system.operating_point(input, system.curve(faulty.wiring, by_kind, faulty.wires));
        out.held[v] = {op.point.voltage_v, op.point.current_a};
    }
    return out;
}

ConditionTable::ConditionTable(const study::SystemModel& system, std::size_t input, std::vector<Variant> variants)
    : system_(&system), input_(input), variants_(std::move(variants)), roots_(base_g * base_t, -1) {
    const study::KindConditions stc(system.setup().kinds.size());
    const physics::ArrayCurve curve = system.curve(variants_.front().wiring, stc);
    label_v_ = std::max(curve.open_circuit_v(), 1e-6);
    label_a_ = std::max(curve.short_circuit_a(), 1e-6);
}

Solved ConditionTable::exact(double irradiance_w_per_m2, Celsius cell) const {
    return solved_at(*system_, input_, variants_, irradiance_w_per_m2, cell);
}

const Solved& ConditionTable::node(int gi, int ti) {
    std::unique_ptr<Solved>& held = nodes_[gi * (base_t * finest + 1) + ti];
    if (!held) held = std::make_unique<Solved>(exact(irradiance_of(gi), cell_of(ti)));
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
        bool good = off([](const Solved& s) { return s.free_w; }) <= most_error_ratio * label_w &&
                    off([](const Solved& s) { return s.cableless.voltage_v; }) <= most_error_ratio * label_v_ &&
                    off([](const Solved& s) { return s.cableless.current_a; }) <= most_error_ratio * label_a_ &&
                    off([](const Solved& s) { return s.open_v; }) <= most_error_ratio * label_v_;
        for (std::size_t v = 0; good && v < variants_.size(); ++v) {
            good = off([v](const Solved& s) { return s.held[v].voltage_v; }) <= most_error_ratio * label_v_ &&
                   off([v](const Solved& s) { return s.held[v].current_a; }) <= most_error_ratio * label_a_;
        }
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
