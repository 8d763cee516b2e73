// How probable the readings of a row are under each hypothesis.
#include "card/bell.hpp"
#include "log_figures.hpp"
#include "log_hypotheses.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {

double RowModel::held_density(const Predicted& p, const Seen& s) {
    if (!s.volts) return bell(s.power_w - p.power_w(), s.watt_var + p.watt_var());
    // The weather moves volts and amps together, along a limit for one.
    return bell(s.voltage_v - p.voltage_v.value, s.current_a - p.current_a.value, s.volt_var + p.var_v,
                s.amp_var + p.var_a, p.covariance);
}

double RowModel::off_density(const Local& l, const Seen& s) {
    if (!s.volts) return bell(s.power_w, square(watt_step_w));
    return bell(s.voltage_v - l.open_v.value, s.current_a, s.volt_var + l.open_var, square(amp_step_a), 0.0);
}

// On the array's curve, between the operating point and open circuit.
double RowModel::locus_density(const Local& l, const Seen& s) {
    const Predicted& op = l.held[0];
    const double share = s.current_a / op.current_a.value;
    if (!(share > 0.0)) return 0.0;
    const double v = locus_voltage_v(l.locus_v, share);
    constexpr double step = 0.02;
    const double low = std::min(share, 1.0 - step);
    const double per_a =
        (locus_voltage_v(l.locus_v, low + step) - locus_voltage_v(l.locus_v, low)) / (step * op.current_a.value);
    const double var = s.volt_var + l.open_var + (s.amp_var + op.var_a) * square(per_a);
    return bell(s.voltage_v - v, var);
}

// Any share of what it could draw is equally probable.
double RowModel::battery_density(const Local& l, const Seen& s) {
    const double op_w = l.held[0].power_w();
    if (!l.drawing || !(op_w > 0.0)) return 0.0;
    const double sd_w = std::sqrt(s.watt_var + l.held[0].watt_var());
    const double less = surely((op_w - s.power_w) / sd_w) * surely(s.power_w / sd_w);
    return less * (s.volts ? locus_density(l, s) / l.held[0].current_a.value : 1.0 / op_w);
}

double RowModel::wall_density(const Local& l, const Seen& s, double wall_w) const {
    const std::optional<double>& total_w = system_->setup().controller.max_total_power_w;
    if (!l.drawing) return 0.0;
    if (!total_w) return battery_density(l, s);
    const double op_w = l.held[0].power_w();
    const double left_w = std::max(0.0, *total_w - wall_w);
    if (left_w >= op_w) return 0.0;
    if (left_w <= accuracy_.display_w) return off_density(l, s);
    const double var = s.watt_var + square(accuracy_.watt_ratio * wall_w) + square(model_amp_ratio * *total_w);
    const double watts = bell(s.power_w - left_w, var);
    return s.volts ? s.voltage_v * watts * locus_density(l, s) : watts;
}

// Any share of the light is equally probable. One share gives the watts; the volts then say whether it was shade.
double RowModel::shade_density(const Local& l, const Seen& s) {
    const double op_w = l.held[0].power_w();
    if (!l.drawing || !(op_w > 0.0) || !(s.power_w > 0.0)) return 0.0;
    const double sd_w = std::sqrt(s.watt_var + l.held[0].watt_var());
    const double less = surely((op_w - s.power_w) / sd_w);
    if (!s.volts) return less / op_w;
    const double most_w_per_m2 = l.yield.irradiance_w_per_m2;
    double irradiance = most_w_per_m2;
    Spot voltage_v = l.held[0].voltage_v;
    double at_w = op_w;
    for (int step = 0; step < 3; ++step) {
        irradiance = std::min(irradiance * std::clamp(s.power_w / at_w, 0.05, 2.0), most_w_per_m2);
        const ConditionTable::Place place = table_.at(irradiance, l.yield.cell);
        if (!place.nearest().drawing) return 0.0;
        voltage_v = place.spot([](const Solved& x) { return x.held[0].voltage_v; });
        at_w = place.value([](const Solved& x) { return x.held[0].voltage_v * x.held[0].current_a; });
        if (!(at_w > 0.0)) return 0.0;
    }
    const Slope volts{0.0, voltage_v.per_k, voltage_v.value, 0.0};
    const double var = s.volt_var + l.covariance.between(volts, volts);
    return less / op_w * s.voltage_v * bell(s.voltage_v - voltage_v.value, var);
}

double RowModel::display_density(const Local& l, const Seen& s) const {
    const double op_w = l.held[0].power_w();
    const double little = surely((accuracy_.display_w - op_w) / (0.25 * accuracy_.display_w + watt_step_w));
    if (little < 1e-6) return 0.0;
    if (!s.volts) return little * bell(s.power_w, square(watt_step_w));
    return little * bell(s.current_a, square(amp_step_a)) / label_v_;
}

double RowModel::waiting_density(const Local& l, const Seen& s) const {
    const Controller& controller = system_->setup().controller;
    // A step-down stage needs the array above its battery to start, whatever else is stated.
    std::optional<double> start_v = controller.inputs[input_].start_voltage_v;
    if (controller.type == ControllerType::step_down && controller.battery) {
        const double above_battery_v = controller.battery->nominal_voltage_v + controller.starting_headroom_v;
        start_v = std::max(start_v.value_or(above_battery_v), above_battery_v);
    }
    if (!start_v || !l.drawing) return 0.0;
    const double below = surely((*start_v - l.open_v.value) / std::sqrt(l.open_var));
    return below < 1e-6 ? 0.0 : below * off_density(l, s);
}

void RowModel::weigh_in(const Local& l, const Seen& s, const LogRow& row, bool light_known) {
    const auto add = [&](std::size_t hypothesis, double density) {
        if (density > 0.0) entries_.push_back({hypothesis, &l, density * l.prior_ratio});
    };
    // Far from a weather's prediction there is nothing to add up; only the one weather that was measured must answer.
    const auto near = [&](std::size_t variant) {
        if (light_known) return true;
        const Predicted& p = l.held[variant];
        return s.volts ? square(s.current_a - p.current_a.value) < square(far_sd) * (s.amp_var + p.var_a)
                       : square(s.power_w - p.power_w()) < square(far_sd) * (s.watt_var + p.watt_var());
    };
    if (l.drawing && near(0)) add(works, held_density(l.held[0], s));
    if (!l.drawing) add(works, off_density(l, s));
    const bool nothing = s.volts ? s.current_a < far_sd * amp_step_a : s.power_w < far_sd * watt_step_w;
    if (nothing) {
        add(waiting, waiting_density(l, s));
        add(tripped, off_density(l, s));
        if (l.drawing) add(stopped, off_density(l, s));
        add(display, display_density(l, s));
    }
    if (light_known || s.current_a <= 1.05 * l.held[0].current_a.value) {
        add(battery, battery_density(l, s));
        if (row.wall_w && *row.wall_w > accuracy_.display_w) add(wall, wall_density(l, s, *row.wall_w));
    }
    for (std::size_t v = 1; v < table_.variants().size(); ++v) {
        if (l.held[v].current_a.value > 0.0 && near(v)) add(faults + v - 1, held_density(l.held[v], s));
    }
    if (light_known) {
        add(shaded, shade_density(l, s));
        add(unexplained, s.volts ? 1.0 / (1.32 * label_v_ * label_a_) : 1.0 / (1.2 * label_w_));
    }
}

}  // namespace plait::measured
