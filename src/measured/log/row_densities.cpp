// How probable the readings of a row are under each hypothesis but shade.
#include "card/bell.hpp"
#include "log_figures.hpp"
#include "row_model.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double elsewhere_ratio = 0.1;  // how often a meter shows other volts than the array's when nothing is drawn
constexpr double same_as_before = 0.65;  // how often a broad cause goes on as it was in the row before
// How often a tracker at one voltage takes another. Volts that climb as a battery slows down take another in every row.
constexpr double anew = 0.02;
constexpr double left_span = 1.0 - lowest_left_ratio;

// Without heavy tails: another voltage is a case of its own.
double normal(double off, double var) { return 0.3989422804014327 / std::sqrt(var) * std::exp(-0.5 * off * off / var); }

}  // namespace

double RowModel::held_density(const Predicted& p, const Seen& s) {
    if (!s.volts) return bell(s.power_w - p.power_w(), s.watt_var + p.watt_var());
    // The weather moves volts and amps together, along a limit for one.
    return bell(s.voltage_v - p.voltage_v, s.current_a - p.current_a, s.volt_var + p.var_v, s.amp_var + p.var_a,
                p.covariance);
}

double RowModel::off_density(const Local& l, const Seen& s) const {
    if (!s.volts) return bell(s.power_w, square(watt_step_w));
    return (1.0 - elsewhere_ratio) *
               bell(s.voltage_v - l.open_v, s.current_a, s.volt_var + l.open_var, square(amp_step_a), 0.0) +
           elsewhere_ratio / label_v_ * bell(s.current_a, square(amp_step_a));
}

double RowModel::right_volts(const Local& l, double share) const {
    const double v = right_voltage_v(l.right_v, share);
    const double span = l.right_v.front() - l.top.voltage_v;
    const double right_ratio = span > 0.0 ? std::clamp((v - l.top.voltage_v) / span, 0.0, 1.0) : 0.0;
    return v * (1.0 + learned_.calibration.bow() * right_ratio);
}

// The share at which `right_volts` has these volts. From the maximum's volts T on, with u the share of the span S from there to
// open circuit and b the bow, they are (T + S·u)·(1 + b·u).
double RowModel::share_at(const Local& l, double voltage_v) const {
    const double bow = learned_.calibration.bow();
    const double span = l.right_v.front() - l.top.voltage_v;
    const double above = voltage_v - l.top.voltage_v;
    const double linear = span + bow * l.top.voltage_v;
    if (!(span > 0.0) || !(linear > 0.0) || !(above > 0.0)) return 1.0;
    const double root = std::sqrt(std::max(0.0, linear * linear + 4.0 * bow * span * above));
    return right_share_at(l.right_v, l.top.voltage_v + span * std::min(1.0, 2.0 * above / (linear + root)));
}

// On the array's curve, between its maximum and open circuit.
double RowModel::right_density(const Local& l, const Seen& s) const {
    const double share = s.current_a / l.top.current_a;
    if (!(share > 0.0)) return 0.0;
    constexpr double step = 0.02;
    const double low = std::clamp(share, 0.0, 1.0 - step);
    const double per_a = (right_volts(l, low + step) - right_volts(l, low)) / (step * l.top.current_a);
    const double var = s.volt_var + l.open_var + (s.amp_var + l.top.var_a * square(std::min(share, 1.0))) * square(per_a);
    return bell(s.voltage_v - right_volts(l, share), var);
}

// Any share of what it could draw is equally probable, but most often what it was in the row before.
double RowModel::slowing_density(const Local& l, const Seen& s) const {
    const double op_w = l.held.power_w();
    if (!l.drawing || !(op_w > 0.0)) return 0.0;
    const double sd_w = std::sqrt(s.watt_var + l.held.watt_var());
    const double less = surely((op_w - s.power_w) / sd_w) * surely(s.power_w / sd_w);
    double likely = 1.0;
    if (before_.known && before_.power_w < 0.95 * before_.drawing_w) {
        const double drift_var = s.watt_var + square(0.05 * op_w);
        likely = 1.0 - same_as_before + same_as_before * op_w * bell(s.power_w - before_.power_w, drift_var);
    }
    return likely * less * (s.volts ? right_density(l, s) / l.held.current_a : 1.0 / op_w);
}

// What the wall leaves, where that is less than the array gives; else the wall costs nothing and all works.
double RowModel::wall_density(const Local& l, const Seen& s, double wall_w, bool& holds) const {
    const std::optional<double>& total_w = system_->setup().controller.max_total_power_w;
    holds = true;
    if (!l.drawing) return 0.0;
    const double works = held_density(l.held, s);
    if (!total_w) return 0.5 * (works + slowing_density(l, s));
    const double op_w = l.held.power_w();
    const double left_w = std::max(0.0, *total_w - wall_w);
    if (left_w <= accuracy_.display_w) return off_density(l, s);
    const double var = s.watt_var + square(accuracy_.watt_ratio * wall_w) + square(model_amp_ratio * *total_w);
    const double less = surely((op_w - left_w) / std::sqrt(var + l.held.watt_var()));
    const double watts = bell(s.power_w - left_w, var);
    const double held = less * (s.volts ? s.voltage_v * watts * right_density(l, s) : watts);
    holds = held > (1.0 - less) * works;
    return held + (1.0 - less) * works;
}

double RowModel::hidden_ratio(const Local& l) const {
    return surely((accuracy_.display_w - l.held.power_w()) / (0.25 * accuracy_.display_w + watt_step_w));
}

double RowModel::display_density(const Local& l, const Seen& s) const {
    const double little = hidden_ratio(l);
    if (little < 1e-6) return 0.0;
    if (!s.volts) return little * bell(s.power_w, square(watt_step_w));
    const double volts = 0.5 / label_v_ + 0.25 * bell(s.voltage_v - l.top.voltage_v, s.volt_var + l.top.var_v) +
                         0.25 * bell(s.voltage_v - l.open_v, s.volt_var + l.open_var);
    return little * bell(s.current_a, square(amp_step_a)) * volts;
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
    const double below = surely((*start_v - l.open_v) / std::sqrt(l.open_var));
    return below < 1e-6 ? 0.0 : below * off_density(l, s);
}

double RowModel::unexplained_density(const Seen& s) const {
    return s.volts ? 1.0 / (1.32 * label_v_ * label_a_) : 1.0 / (1.2 * label_w_);
}

// A tracker that holds one voltage: on the array's curve wherever the light puts that voltage, and most often where the
// rows before were. Where it costs nothing it is none.
double RowModel::fixed_density(const Local& l, const Seen& s) const {
    if (!s.volts || s.nothing || !l.drawing) return 0.0;
    const double sd_w = std::sqrt(s.watt_var + l.held.watt_var());
    const double costs = surely((0.985 * l.held.power_w() - s.power_w) / sd_w);
    if (costs < 1e-4) return 0.0;
    double curve_a = 0.0;
    double per_v = 0.0;
    if (s.voltage_v <= l.top.voltage_v) {
        const double x = s.voltage_v / l.top.voltage_v;
        if (x < lowest_left_ratio) return 0.0;
        constexpr double step = 0.02;
        curve_a = left_current_a(l.left_a, x);
        per_v = (left_current_a(l.left_a, x + step) - curve_a) / (step * l.top.voltage_v);
    } else {
        // Above open circuit there is no such tracker.
        if (square(std::max(0.0, s.voltage_v - l.open_v)) > square(far_sd / 4.0) * (s.volt_var + l.open_var)) return 0.0;
        const double share = share_at(l, s.voltage_v);
        curve_a = share * l.top.current_a;
        constexpr double step = 0.02;
        const double at = std::min(share, 1.0 - step);
        per_v = step * l.top.current_a / std::min(right_volts(l, at + step) - right_volts(l, at), -1e-9);
    }
    const double var_a = s.amp_var + l.top.var_a * square(curve_a / l.top.current_a) +
                         square(per_v) * (s.volt_var + l.open_var * square(s.voltage_v / l.open_v));
    const double anywhere = 1.0 / (left_span * l.top.voltage_v);
    double volts = anywhere;
    if (steady_.known) {
        // Right of the maximum a small step of volts is a large one of amps. Left of it not as narrow as near rows are
        // alike: the volts of a bypassed group, which drift with the cells' warmth, are alike from row to row too.
        const double near_ratio = s.voltage_v > l.top.voltage_v ? 0.003 : 0.03;
        const double var_v = s.volt_var + square(near_ratio * l.top.voltage_v);
        volts = anew * anywhere + (1.0 - anew) * normal(s.voltage_v - steady_.mean_v, var_v);
    }
    return costs * volts * bell(s.current_a - curve_a, var_a);
}

// A tracker that asks for this current, give or take what a lag between two of ours, a cloud's edge beside the sensor and the
// curve itself make of it. Where it asks for less than the maximum's, the array is right of its maximum. Where it asks for
// more, the volts fall to where the curve gives that much, and where it nowhere does, to where the input stops them: to the
// same again and again.
double RowModel::asked_density(const Local& l, const Seen& s, double asked_a) const {
    constexpr double step = 0.02;
    const double share = asked_a / l.top.current_a;
    const double sd_a = l.top.current_a * std::hypot(0.01, 0.3 * (share - 1.0));
    double density = 0.0;
    const double below = surely((l.top.current_a - asked_a) / sd_a);
    if (below > 1e-3) {
        const double right = std::min(share, 1.0);
        const double low = std::min(right, 1.0 - step);
        const double per_a = (right_volts(l, low + step) - right_volts(l, low)) / (step * l.top.current_a);
        density = below * bell(s.voltage_v - right_volts(l, right), s.current_a - right * l.top.current_a,
                               s.volt_var + l.open_var + square(sd_a * per_a), s.amp_var + l.top.var_a * square(right) + square(sd_a),
                               square(sd_a) * per_a);
    }
    const double ratio = s.voltage_v / l.top.voltage_v;
    if (!(ratio > lowest_left_ratio && ratio < 1.0) || below > 1.0 - 1e-3) return density;
    const double curve_a = left_current_a(l.left_a, ratio);
    const double per_v = (left_current_a(l.left_a, ratio - 0.5 * step) - left_current_a(l.left_a, ratio + 0.5 * step)) /
                         (step * l.top.voltage_v);
    const double anywhere = 1.0 / (left_span * l.top.voltage_v);
    double stopped = anywhere;
    double most_a = l.left_a.back();
    if (floor_.known) {
        stopped = 0.3 * anywhere + 0.7 * bell(s.voltage_v - floor_.mean_v, s.volt_var + square(0.01 * floor_.mean_v));
        most_a = left_current_a(l.left_a, floor_.mean_v / l.top.voltage_v);
    }
    const double volts = std::max(0.0, per_v) * normal(curve_a - asked_a, square(sd_a)) + surely((asked_a - most_a) / sd_a) * stopped;
    return density + volts * bell(s.current_a - curve_a, s.amp_var + l.top.var_a);
}

// A tracker whose current follows the light by minutes too late. In steady light it is at its maximum like any other.
double RowModel::slow_density(const Local& l, const Seen& s, double step_s, bool& lags) {
    lags = false;
    const double works = l.drawing ? held_density(l.held, s) : 0.0;
    if (l.end != Cause::less_light || !s.volts) return works;
    constexpr double as_good_ratio = 0.003;  // so little too much or too few amps cost nothing
    constexpr double surely_off_ratio = 0.02;
    constexpr double other_lag = 0.02;  // how often a tracker's lag becomes another
    double sum = 0.0;
    double lagging = 0.0;
    std::array<double, lag_count> each{};
    for (std::size_t j = 0; j < lag_count; ++j) {
        lag_weight_[j] = (1.0 - other_lag) * lag_weight_[j] + other_lag / static_cast<double>(lag_count);
        const double off = std::abs(lagging_a_[j] / l.top.current_a - 1.0);
        const double part = std::clamp((off - as_good_ratio) / surely_off_ratio, 0.0, 1.0);
        const double off_density = part > 0.0 ? part * asked_density(l, s, lagging_a_[j]) : 0.0;
        each[j] = (1.0 - part) * works + off_density;
        sum += lag_weight_[j] * each[j];
        lagging += lag_weight_[j] * off_density;
    }
    lags = lagging > 0.5 * sum;
    if (!(sum > 0.0)) return 0.0;
    // A tracker's lag is the same from row to row: what this row says of it counts for the next.
    const double power = row_weight(step_s);
    double all = 0.0;
    for (std::size_t j = 0; j < lag_count; ++j) {
        lag_weight_[j] *= std::pow(each[j] / sum, power);
        all += lag_weight_[j];
    }
    for (double& weight : lag_weight_) weight /= all;
    return sum;
}

}  // namespace plait::measured
