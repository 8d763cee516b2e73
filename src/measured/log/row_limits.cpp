// Limits that are not what their maker prints, as a log teaches them.
#include "log_figures.hpp"
#include "row_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::measured {
namespace {

constexpr double usual_w_per_m2 = 700.0;
constexpr double solved_anew_ratio = 0.01;  // a limit that moved less is followed along the curve

}  // namespace

void RowModel::forget(double step_s) {
    learned_.calibration.forget(step_s);
    for (LimitFactor* f : {&learned_.power, &learned_.low_v, &learned_.high_v}) f->forget(step_s);
    for (LimitFactor& f : learned_.bands) f.forget(step_s);
}

const LimitFactor* RowModel::factor_of(Cause end, std::size_t band) const {
    if (end == Cause::power_limit) return &learned_.power;
    if (end == Cause::below_window) return &learned_.low_v;
    if (end == Cause::above_window) return &learned_.high_v;
    return end == Cause::current_limit && band < learned_.bands.size() ? &learned_.bands[band] : nullptr;
}

LimitFactor* RowModel::factor_of(Cause end, std::size_t band) {
    return const_cast<LimitFactor*>(std::as_const(*this).factor_of(end, band));
}

double RowModel::solved_with(Cause end, std::size_t band) const {
    return end == Cause::power_limit    ? power_factor_
           : end == Cause::below_window ? low_factor_
           : end == Cause::above_window ? high_factor_
                                        : band_factor_[band];
}

bool RowModel::take_in_limits() {
    const LogCalibration& c = learned_.calibration;
    const double amps = c.amps_factor(usual_w_per_m2);
    const double volts = c.volts_factor(usual_w_per_m2);
    bool moved = false;
    const auto take = [&](const LimitFactor& f, double meter, double& with) {
        if (!(f.seen_s > 0.0)) return;
        const double now = f.mean_ratio / meter;
        if (std::abs(now - with) < solved_anew_ratio * with) return;
        with = now;
        moved = true;
    };
    take(learned_.power, amps * volts, power_factor_);
    take(learned_.low_v, volts, low_factor_);
    take(learned_.high_v, volts, high_factor_);
    for (std::size_t b = 0; b < band_factor_.size(); ++b) take(learned_.bands[b], amps, band_factor_[b]);
    if (!moved) return false;
    wired_.window = printed_;
    wired_.window.power_w *= power_factor_;
    wired_.window.low_v *= low_factor_;
    wired_.window.high_v *= high_factor_;
    for (std::size_t b = 0; b < band_factor_.size(); ++b) {
        CurrentBand& band = wired_.window.bands[b];
        band.limit_a *= band_factor_[b];
        // The first and the last band reach as far as the window.
        if (b == 0) band.from_v = std::min(band.from_v, wired_.window.low_v);
        if (b + 1 == band_factor_.size()) band.to_v = std::max(band.to_v, wired_.window.high_v);
    }
    table_ = std::make_unique<ConditionTable>(wired_);
    weathers_.clear();
    return true;
}

// A limit that binds is known to no better than its factor, and holds in what the meters show: what the meters are off
// moves the point on the curve. A limit a little off the one the table was solved with moves it too.
void RowModel::loosen_limit(const ConditionTable::Place& place, Local& l) const {
    const LimitFactor* f = factor_of(l.end, l.end_band);
    if (!f || place.jumps() || !(l.top.current_a > 0.0)) return;
    Predicted& p = l.held;
    const bool power = l.end == Cause::power_limit;
    const bool band = l.end == Cause::current_limit;
    // The curve there, falling.
    double v_per_a = 0.0;
    if (p.voltage_v >= l.top.voltage_v) {
        constexpr double step = 0.02;
        const double share = std::min(p.current_a / l.top.current_a, 1.0);
        const double low = std::clamp(share - 0.5 * step, 0.0, 1.0 - step);
        v_per_a = (right_voltage_v(l.right_v, low + step) - right_voltage_v(l.right_v, low)) / (step * l.top.current_a);
    } else {
        constexpr double step = 0.03;
        const double low = std::clamp(p.voltage_v / l.top.voltage_v - 0.5 * step, lowest_left_ratio, 1.0 - step);
        const double a_per_v =
            (left_current_a(l.left_a, low + step) - left_current_a(l.left_a, low)) / (step * l.top.voltage_v);
        v_per_a = 1.0 / std::min(a_per_v, -1e-6 * l.top.current_a / l.top.voltage_v);
    }
    const LogCalibration& c = learned_.calibration;
    const double irradiance = l.account.irradiance_w_per_m2;
    const double amps_factor = c.amps_factor(irradiance);
    const double volts_factor = c.volts_factor(irradiance);
    double now = f->mean_ratio;
    double a_per_ratio = 0.0;  // amps on the curve by the limit's factor
    if (power) {
        const double w_per_a = p.voltage_v + p.current_a * v_per_a;
        a_per_ratio = std::min(p.power_w() / std::max(w_per_a, 0.2 * p.voltage_v), 3.0 * p.current_a);
        now /= amps_factor * volts_factor;
    } else if (band) {
        a_per_ratio = p.current_a;
        now /= amps_factor;
    } else {
        a_per_ratio = p.voltage_v / v_per_a;
        now /= volts_factor;
    }
    const double shift = f->seen_s > 0.0 ? now / solved_with(l.end, l.end_band) - 1.0 : 0.0;
    const double before_w = p.power_w();
    p.current_a = std::max(0.0, p.current_a + shift * a_per_ratio);
    p.voltage_v += shift * a_per_ratio * v_per_a;
    const double more_w = (p.power_w() - before_w) * amps_factor * volts_factor;
    l.account.held_w += more_w;
    l.account.cableless_w += more_w;
    const auto at = std::find(limit_causes.begin(), limit_causes.end(), l.limit);
    if (at != limit_causes.end()) l.account.limit_w[static_cast<std::size_t>(at - limit_causes.begin())] -= more_w;

    // The meters' biases: readings stay at the limit, the point on the curve moves the other way.
    const double weak = weakness(irradiance);
    const auto against = [&](Bias bias, double share) {
        p.amp_slope[bias] -= share * a_per_ratio;
        p.volt_slope[bias] -= share * a_per_ratio * v_per_a;
    };
    if (power || band) {
        against(amp_bias, 1.0);
        against(weak_amp_bias, weak);
    }
    if (!band) {
        against(volt_bias, 1.0);
        against(weak_volt_bias, weak);
    }
    p.var_a = f->var * square(a_per_ratio);
    p.var_v = p.var_a * square(v_per_a);
    p.covariance = p.var_a * v_per_a;
}

void RowModel::Learned::keep_limits_of(const Learned& other) {
    const auto keep = [](LimitFactor& to, const LimitFactor& from) {
        if (!(from.seen_s > 0.0)) return;
        to.mean_ratio = from.mean_ratio;
        to.seen_s = std::max(to.seen_s, 1.0);
    };
    keep(power, other.power);
    keep(low_v, other.low_v);
    keep(high_v, other.high_v);
    for (std::size_t b = 0; b < bands.size(); ++b) keep(bands[b], other.bands[b]);
}

}  // namespace plait::measured
