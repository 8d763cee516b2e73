#include <plait/base/constants.hpp>
#include <plait/physics/group_curve.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace plait::physics {
namespace {

constexpr double largest_exponent = 700.0;  // exp(709.8) is the last that fits a double
double bounded_exp(double x) { return std::exp(std::min(x, largest_exponent)); }

// The error left after one of Halley's steps is of the third power of the step over the bend of the curve.
constexpr double last_halley_step = 1e-5;
constexpr int most_steps = 200;
// A residual that is all rounding: no step can better it.
constexpr double rounding = 4e-16;

constexpr double schottky_drop_v = 0.5;
constexpr double schottky_barrier_ev = 0.75;
constexpr double leakage_s_per_a = 1e-9;
constexpr double no_voltage_v = -1e6;

}  // namespace

double ExponentialDiode::current_a(double forward_v) const {
    return saturation_current_a * std::expm1(std::min(forward_v / slope_v, largest_exponent));
}

double ExponentialDiode::forward_v(double current_a) const {
    return slope_v * std::log1p(current_a / saturation_current_a);
}

ExponentialDiode schottky(double rated_current_a, Celsius junction) {
    const double warmth = absolute_k(junction) / absolute_k(stc_cell);
    const double slope_at_stc_v = boltzmann_over_charge_v_per_k * absolute_k(stc_cell);
    const double at_stc_a = rated_current_a / std::expm1(schottky_drop_v / slope_at_stc_v);
    return {at_stc_a * warmth * warmth * std::exp(schottky_barrier_ev / slope_at_stc_v * (1.0 - 1.0 / warmth)),
            slope_at_stc_v * warmth};
}

DiodeCurve with_constant(const DiodeCurve& curve, double current_a) {
    const double shift_v = curve.series_resistance_ohm * current_a;
    DiodeCurve sum = curve;
    sum.saturation_current_a *= std::exp(-shift_v / curve.ideality_v);
    sum.light_current_a +=
        current_a + (curve.saturation_current_a - sum.saturation_current_a) + curve.shunt_conductance_s * shift_v;
    return sum;
}

GroupCurve blocking_element(double rated_current_a, Celsius junction) {
    DiodeCurve no_cells;
    no_cells.ideality_v = 1.0;
    no_cells.shunt_conductance_s = leakage_s_per_a * rated_current_a;
    return {no_cells, schottky(rated_current_a, junction)};
}

GroupCurve wire_element(double resistance_ohm) {
    DiodeCurve no_cells;
    no_cells.ideality_v = 1.0;
    no_cells.shunt_conductance_s = 1.0 / resistance_ohm;
    return {no_cells, {}};
}

// A blocking diode without any leakage would have no voltage at which it lets a current back, and a conductance of zero:
// nothing that is solved for could be found. None is so good; it gets the usual leakage.
DiodeCurve GroupCurve::leaking(DiodeCurve cells, const ExponentialDiode& bypass) {
    const bool blocks_all =
        !(cells.saturation_current_a > 0.0) && !(cells.shunt_conductance_s > 0.0) && bypass.present();
    if (blocks_all) cells.shunt_conductance_s = leakage_s_per_a * bypass.current_a(schottky_drop_v);
    return cells;
}

GroupCurve::GroupCurve(const DiodeCurve& cells, const ExponentialDiode& bypass)
    : cells_(leaking(cells, bypass)),
      bypass_(bypass),
      short_circuit_a_(cells_.short_circuit_a()),
      per_ideality_v_(1.0 / cells_.ideality_v),
      per_bypass_slope_v_(1.0 / bypass.slope_v) {}

GroupCurve GroupCurve::turned() const {
    GroupCurve other = *this;
    other.backward_ = !backward_;
    other.plain_ = !other.backward_ && !shade_;
    return other;
}

double GroupCurve::bend_v(double voltage_v) const {
    if (plain_) return voltage_v < bypass_off_v() ? std::min(cells_.ideality_v, bypass_.slope_v) : cells_.ideality_v;
    return own_bend_v(backward_ ? -voltage_v : voltage_v);
}

double GroupCurve::own_bend_v(double voltage_v) const {
    if (shade_) return voltage_v < bypass_off_v() ? std::min(shade_->bend_v(), bypass_.slope_v) : shade_->bend_v();
    return voltage_v < bypass_off_v() ? std::min(cells_.ideality_v, bypass_.slope_v) : cells_.ideality_v;
}

GroupPoint GroupCurve::own_at_junction(double junction_v) const {
    GroupPoint p;
    p.junction_v = junction_v;
    const double diode_a = cells_.saturation_current_a > 0.0
                               ? cells_.saturation_current_a * bounded_exp(junction_v * per_ideality_v_)
                               : 0.0;
    const double cells_a =
        cells_.light_current_a + cells_.saturation_current_a - diode_a - cells_.shunt_conductance_s * junction_v;
    p.junction_s = diode_a * per_ideality_v_;
    const double inner_s = p.junction_s + cells_.shunt_conductance_s;
    p.cells_s = inner_s / (1.0 + cells_.series_resistance_ohm * inner_s);
    p.voltage_v = junction_v - cells_.series_resistance_ohm * cells_a;
    const double bypass_a = p.voltage_v < bypass_off_v()
                                ? bypass_.saturation_current_a * bounded_exp(-p.voltage_v * per_bypass_slope_v_)
                                : 0.0;
    p.bypass_s = bypass_a * per_bypass_slope_v_;
    p.current_a = cells_a + (bypass_a - bypass_.saturation_current_a);
    return p;
}

void GroupCurve::nudge(GroupPoint& p, double junction_step_v) const {
    if (plain_) return own_nudge(p, junction_step_v);
    if (shade_) {
        const double kept_a = p.current_a;
        p = other_at_voltage(p.voltage_v + junction_step_v);
        p.current_a = kept_a;
        return;
    }
    p = mirrored(p);
    own_nudge(p, -junction_step_v);
    p = mirrored(p);
}

void GroupCurve::own_nudge(GroupPoint& p, double junction_step_v) const {
    const double t = junction_step_v * per_ideality_v_;
    const double rs = cells_.series_resistance_ohm;
    const double voltage_step_v = junction_step_v * (voltage_per_junction(p) + 0.5 * rs * p.junction_s * t);
    const double y = voltage_step_v * per_bypass_slope_v_;
    p.junction_v += junction_step_v;
    p.voltage_v += voltage_step_v;
    p.junction_s *= 1.0 + t * (1.0 + 0.5 * t);
    const double inner_s = p.junction_s + cells_.shunt_conductance_s;
    p.cells_s = inner_s / (1.0 + rs * inner_s);
    if (p.bypass_s > 0.0) p.bypass_s *= std::max(0.0, 1.0 - y * (1.0 - 0.5 * y));
}

GroupPoint GroupCurve::own_at_voltage(double voltage_v) const {
    const double cells_a = cells_.current_a(voltage_v);
    GroupPoint p = own_at_junction(voltage_v + cells_.series_resistance_ohm * cells_a);
    // In steep parts the junction voltage is the better known of the two; step back onto the voltage asked for.
    const double step_v = (voltage_v - p.voltage_v) / voltage_per_junction(p);
    const double current_a = p.current_a - (voltage_v - p.voltage_v) * p.conductance_s();
    own_nudge(p, step_v);
    p.voltage_v = voltage_v;
    p.current_a = current_a;
    return p;
}

GroupPoint GroupCurve::own_at_current(double current_a) const {
    const double a = cells_.ideality_v;
    const double i0 = cells_.saturation_current_a;
    const double shunt = cells_.shunt_conductance_s;
    const double at_zero_v = cells_.series_resistance_ohm * short_circuit_a_;  // u where V = 0
    const double junction_a = cells_.light_current_a + i0 - current_a;  // I0·exp(u/a) + G·u if no bypass current
    double low = at_zero_v;
    double high = at_zero_v;
    double u = 0.0;
    if (current_a > short_circuit_a_ && bypass_.present()) {
        // The diode alone would take the surplus at this V, so V is no lower; and I > Isc there.
        low = u = at_zero_v - bypass_.forward_v(current_a - short_circuit_a_);
    } else if (current_a > short_circuit_a_) {
        if (shunt > 0.0) {
            high = std::min(high, junction_a / shunt);
            low = (junction_a - i0 * bounded_exp(high / a)) / shunt - a;
        } else if (junction_a > 0.0) {
            high = std::min(high, a * std::log(junction_a / i0));
            low = high - a;
        } else {
            GroupPoint p = own_at_junction(no_voltage_v);
            p.current_a = current_a;
            return p;
        }
        u = high;
    } else {
        // u ≥ 0, so each of the two terms alone bounds it; what the diode leaks only lowers it.
        const double by_shunt_v = shunt > 0.0 ? junction_a / shunt : std::numeric_limits<double>::infinity();
        const double by_diode_v = i0 > 0.0 ? a * std::log(junction_a / i0) : std::numeric_limits<double>::infinity();
        u = high = std::max(low, std::min(by_shunt_v, by_diode_v));
    }
    const double noise_a = rounding * std::max(cells_.light_current_a, std::abs(current_a));
    for (int step = 0; step < most_steps; ++step) {
        GroupPoint p = own_at_junction(u);
        const double surplus_a = p.current_a - current_a;
        if (surplus_a > 0.0) {
            low = std::max(low, u);
        } else {
            high = std::min(high, u);
        }
        const double w = voltage_per_junction(p);
        const double fall = w * p.conductance_s();  // −dI/du
        const double bend =
            p.bypass_s * w * w * per_bypass_slope_v_ -
            p.junction_s * per_ideality_v_ * (1.0 + p.bypass_s * cells_.series_resistance_ohm);  // d²I/du²
        const double newton = surplus_a / fall;
        const double change = newton / std::max(0.5, 1.0 - 0.5 * newton * bend / fall);  // Halley's step
        if (std::abs(change) <= last_halley_step * own_bend_v(p.voltage_v)) {
            own_nudge(p, change);
            p.current_a = current_a;
            return p;
        }
        if (std::abs(surplus_a) <= noise_a || low >= high) {
            p.current_a = current_a;
            return p;
        }
        const double next = u + change;
        u = next >= low && next <= high && next != u ? next : 0.5 * (low + high);
    }
    GroupPoint p = own_at_junction(u);
    p.current_a = current_a;
    return p;
}

std::optional<PowerPoint> GroupCurve::only_maximum() const {
    if (backward_ || !(cells_.light_current_a > 0.0)) return PowerPoint{};
    if (shade_) return std::nullopt;
    if (!bypass_.present()) return cells_.maximum_power();
    // V·(conductance of the diode) is at most Ib0/e, so up to this voltage the power surely rises if it does so here by
    // more than that; above it the diode only leaks, and a single-diode curve is left.
    const double off_v = bypass_off_v();
    const GroupPoint off = at_voltage(off_v);
    if (!(off.current_a - off_v * off.cells_s > bypass_.saturation_current_a)) return std::nullopt;
    return with_constant(cells_, -bypass_.saturation_current_a).maximum_power();
}

namespace {

std::array<double, 8> numbers_of(const GroupCurve& g) {
    return {g.short_circuit_a(),
            g.cells().light_current_a,
            g.cells().saturation_current_a,
            g.cells().ideality_v,
            g.cells().series_resistance_ohm,
            g.cells().shunt_conductance_s,
            g.bypass().saturation_current_a,
            g.faces_backward() ? 1.0 : 0.0};
}

}  // namespace

bool operator==(const GroupCurve& a, const GroupCurve& b) {
    if (!(numbers_of(a) == numbers_of(b) && a.bypass().slope_v == b.bypass().slope_v)) return false;
    const PartShade* x = a.part_shade();
    const PartShade* y = b.part_shade();
    return x == y || (x != nullptr && y != nullptr && *x == *y);
}

bool operator<(const GroupCurve& a, const GroupCurve& b) {
    if (numbers_of(a) != numbers_of(b)) return numbers_of(a) < numbers_of(b);
    if (a.bypass().slope_v != b.bypass().slope_v) return a.bypass().slope_v < b.bypass().slope_v;
    const PartShade* x = a.part_shade();
    const PartShade* y = b.part_shade();
    if (x == nullptr || y == nullptr) return y != nullptr && x == nullptr;
    return *x < *y;
}

}  // namespace plait::physics
