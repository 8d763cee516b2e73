// One unknown for a row: with w given the current is explicit, by V also u = V + Rs·I − w, and what is left is that both
// kinds of cells carry the same,
//
//     R(w) = I_lit(u(w)) − I_shaded(w),     dR/dw = g_lit·(1 + Rs·g_shaded) + g_shaded > 0
//
// which rises with w, so one bracket holds one root.
#include <plait/physics/part_shade.hpp>

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

constexpr double largest_exponent = 700.0;  // exp(709.8) is the last that fits a double
constexpr double least_conductance_s = 1e-90;  // its third power is still a number
constexpr int most_steps = 200;
// Of the length over which the curve bends: what is left is of its square.
constexpr double last_step = 1e-9;
// The breakdown voltage itself is out of reach.
constexpr double nearest_breakdown_ratio = 1e-12;

double bounded_exp(double x) { return std::exp(std::min(x, largest_exponent)); }

struct Ends {
    double low;
    double high;
};

/// The bounds of the sum of slope/s³ are wanted one term at a time.
Ends over_cube(double slope_low, double slope_high, double s_low, double s_high) {
    const double least = 1.0 / (s_high * s_high * s_high);
    const double most = 1.0 / (s_low * s_low * s_low);
    return {slope_low * (slope_low >= 0.0 ? least : most), slope_high * (slope_high >= 0.0 ? most : least)};
}

Ends times_cube(Ends x, double s_low, double s_high) {
    const double least = s_low * s_low * s_low;
    const double most = s_high * s_high * s_high;
    return {x.low * (x.low >= 0.0 ? least : most), x.high * (x.high >= 0.0 ? most : least)};
}

}  // namespace

CellRow::CellRow(const DiodeCurve& lit, const DiodeCurve& shaded, double shaded_cells_count)
    : lit_(lit),
      dark_(shaded),
      shaded_cells_count_(shaded_cells_count),
      breakdown_v_(-breakdown_cell_v * shaded_cells_count),
      breakdown_s_(
          std::max(shaded.shunt_conductance_s, least_leakage_s_per_a * lit.light_current_a / shaded_cells_count)),
      lit_open_v_(lit.open_circuit_v()),
      shaded_open_v_(shaded.open_circuit_v()) {}

RowPoint CellRow::at_shaded_junction(double shaded_v, double voltage_v, double& surplus_a) const {
    RowPoint p;
    p.shaded_v = shaded_v;
    const double diode_a = dark_.saturation_current_a * bounded_exp(shaded_v / dark_.ideality_v);
    const double y = shaded_v / breakdown_v_;
    const double q = 1.0 - y;
    constexpr double m = breakdown_exponent_value;
    const double grown_s = breakdown_s_ * breakdown_share_ratio * std::pow(q, -m);
    p.current_a = dark_.light_current_a + (dark_.saturation_current_a - diode_a) -
                  (dark_.shunt_conductance_s + grown_s) * shaded_v;
    p.diode_s = diode_a / dark_.ideality_v;
    p.leakage_s = dark_.shunt_conductance_s + grown_s * (1.0 + m * y / q);
    p.shaded_s_per_v =
        p.diode_s / dark_.ideality_v + grown_s * m * (2.0 + (m - 1.0) * y) / (q * q * breakdown_v_);
    const double ohm = lit_.series_resistance_ohm + dark_.series_resistance_ohm;
    p.lit_v = voltage_v + ohm * p.current_a - shaded_v;
    const double lit_diode_a = lit_.saturation_current_a * bounded_exp(p.lit_v / lit_.ideality_v);
    p.lit_s = lit_diode_a / lit_.ideality_v + lit_.shunt_conductance_s;
    p.lit_s_per_v = lit_diode_a / (lit_.ideality_v * lit_.ideality_v);
    surplus_a = lit_.light_current_a + (lit_.saturation_current_a - lit_diode_a) -
                lit_.shunt_conductance_s * p.lit_v - p.current_a;
    return p;
}

RowPoint CellRow::at_voltage(double voltage_v) const {
    if (!shaded()) {
        RowPoint p;
        p.current_a = lit_.current_a(voltage_v);
        p.lit_v = voltage_v + lit_.series_resistance_ohm * p.current_a;
        const double diode_s = lit_.saturation_current_a * bounded_exp(p.lit_v / lit_.ideality_v) / lit_.ideality_v;
        p.lit_s = diode_s + lit_.shunt_conductance_s;
        p.lit_s_per_v = diode_s / lit_.ideality_v;
        return p;
    }
    // If the lit cells were at their open circuit, and if the shaded ones were: the truth lies between. The breakdown
    // lowers the latter by less than one bend.
    const double ends_v[]{voltage_v - lit_open_v_, shaded_open_v_};
    double low = std::max(breakdown_v_ * (1.0 - nearest_breakdown_ratio),
                          std::min(ends_v[0], ends_v[1]) - dark_.ideality_v);
    double high = std::max({ends_v[0], ends_v[1], low}) + dark_.ideality_v;
    // In shade the current is what the shaded cells give, and the lit ones are a little below their open circuit.
    const double shade_a = std::min(dark_.light_current_a, lit_.light_current_a);
    double w = voltage_v - (lit_.voltage_v(std::min(shade_a, 0.99 * lit_.light_current_a)) -
                            dark_.series_resistance_ohm * shade_a);
    if (!(w > low && w < high)) w = 0.5 * (low + high);
    const double ohm = lit_.series_resistance_ohm + dark_.series_resistance_ohm;
    double last_change_v = high - low;
    double surplus_a = 0.0;
    RowPoint p = at_shaded_junction(w, voltage_v, surplus_a);
    for (int step = 0; step < most_steps; ++step) {
        (surplus_a > 0.0 ? high : low) = w;
        const double shaded_s = p.diode_s + p.leakage_s;
        const double lit_per_shaded = 1.0 + ohm * shaded_s;  // −du/dw
        // How far w may be off: close to breakdown the curve bends over what is left of the way there, and the lit
        // junctions move by more than the shaded ones.
        const double scale_v = std::min({dark_.ideality_v, w - breakdown_v_, lit_.ideality_v / lit_per_shaded});
        double next = w - surplus_a / (p.lit_s * lit_per_shaded + shaded_s);
        const bool slow = p.lit_v > largest_exponent * lit_.ideality_v ||
                          std::abs(next - w) > std::max(last_step * scale_v, 0.5 * std::abs(last_change_v));
        if (slow || !(next >= low && next <= high)) next = 0.5 * (low + high);
        last_change_v = next - w;
        const bool last = std::abs(last_change_v) <= last_step * scale_v || next == w || !(low < high);
        w = next;
        p = at_shaded_junction(w, voltage_v, surplus_a);
        if (last) break;
    }
    return p;
}

Bending CellRow::bending(const RowPoint& p) const {
    if (!shaded()) {
        const double w = 1.0 + lit_.series_resistance_ohm * p.lit_s;
        return {p.lit_s / w, p.lit_s_per_v / (w * w * w)};
    }
    // In series resistances add: r = Rs + Σ 1/s, and dr/dI = Σ s'/s³; then s = 1/r and ds/dV = (dr/dI)/r³.
    const double lit_s = std::max(p.lit_s, least_conductance_s);
    const double shaded_s = std::max(p.diode_s + p.leakage_s, least_conductance_s);
    const double ohm =
        lit_.series_resistance_ohm + dark_.series_resistance_ohm + 1.0 / lit_s + 1.0 / shaded_s;
    const double ohm_per_a = p.lit_s_per_v / (lit_s * lit_s * lit_s) +
                             p.shaded_s_per_v / (shaded_s * shaded_s * shaded_s);
    return {1.0 / ohm, ohm_per_a / (ohm * ohm * ohm)};
}

BendingBounds CellRow::bounds(const RowPoint& low, const RowPoint& high) const {
    if (!shaded()) {
        // Inside and outside the series resistance both rise: s/(1 + Rs·s); s'/(1 + Rs·s)³ need not.
        const double rs = lit_.series_resistance_ohm;
        const double w_low = 1.0 + rs * low.lit_s;
        const double w_high = 1.0 + rs * high.lit_s;
        return {{low.lit_s / w_low, low.lit_s_per_v / (w_high * w_high * w_high)},
                {high.lit_s / w_high, high.lit_s_per_v / (w_low * w_low * w_low)}};
    }
    // The lit cells' conductance and its derivative rise with V. So does the shaded cells' derivative, and of their
    // conductance the diode's share rises and the leakage's falls.
    const Ends lit_s{std::max(low.lit_s, least_conductance_s), std::max(high.lit_s, least_conductance_s)};
    const Ends shaded_s{std::max(low.diode_s + high.leakage_s, least_conductance_s),
                            std::max(high.diode_s + low.leakage_s, least_conductance_s)};
    const double rs = lit_.series_resistance_ohm + dark_.series_resistance_ohm;
    const Ends s{1.0 / (rs + 1.0 / lit_s.low + 1.0 / shaded_s.low),
                     1.0 / (rs + 1.0 / lit_s.high + 1.0 / shaded_s.high)};
    const Ends lit = over_cube(low.lit_s_per_v, high.lit_s_per_v, lit_s.low, lit_s.high);
    const Ends shaded = over_cube(low.shaded_s_per_v, high.shaded_s_per_v, shaded_s.low, shaded_s.high);
    const Ends slope = times_cube({lit.low + shaded.low, lit.high + shaded.high}, s.low, s.high);
    return {{s.low, slope.low}, {s.high, slope.high}};
}

double CellRow::bend_v() const {
    return shaded() ? std::min(lit_.ideality_v, dark_.ideality_v) : lit_.ideality_v;
}

std::vector<double> CellRow::numbers() const {
    std::vector<double> all{shaded_cells_count_};
    for (const DiodeCurve* c : {&lit_, &dark_}) {
        all.insert(all.end(), {c->light_current_a, c->saturation_current_a, c->ideality_v, c->series_resistance_ohm,
                               c->shunt_conductance_s});
    }
    return all;
}

PartShade::Point PartShade::at_voltage(double voltage_v) const {
    Point sum;
    for (const CellRow& row : rows_) {
        const RowPoint p = row.at_voltage(voltage_v);
        const Bending b = row.bending(p);
        sum.current_a += p.current_a;
        sum.bending.s += b.s;
        sum.bending.s_per_v += b.s_per_v;
    }
    return sum;
}

BendingBounds PartShade::bounds(double low_v, double high_v) const {
    BendingBounds sum;
    for (const CellRow& row : rows_) {
        const BendingBounds b = row.bounds(row.at_voltage(low_v), row.at_voltage(high_v));
        sum.low.s += b.low.s;
        sum.low.s_per_v += b.low.s_per_v;
        sum.high.s += b.high.s;
        sum.high.s_per_v += b.high.s_per_v;
    }
    return sum;
}

double PartShade::open_circuit_v() const {
    double highest_v = 0.0;
    for (const CellRow& row : rows_) highest_v = std::max(highest_v, row.open_circuit_v());
    return highest_v;
}

double PartShade::bend_v() const {
    double shortest_v = rows_.front().bend_v();
    for (const CellRow& row : rows_) shortest_v = std::min(shortest_v, row.bend_v());
    return shortest_v;
}

}  // namespace plait::physics
