#include "log_hypotheses.hpp"

#include "log_figures.hpp"

#include <plait/physics/cell_temperature.hpp>

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double bucket_k = 1.0;
constexpr std::size_t weather_count = 64;
constexpr double brightest_w_per_m2 = 1300.0;
constexpr double minute_s = 60.0;
constexpr double day_s = 86400.0;

}  // namespace

RowModel::RowModel(const study::SystemModel& system, std::size_t input, const InputWiring& wiring, const LogAccuracy& accuracy)
    : system_(&system),
      input_(input),
      accuracy_(accuracy),
      table_(system, input, variants_of(system, input, wiring)),
      kind_share_(system.setup().kinds.size()),
      calibration_(accuracy) {
    for (std::size_t k = 0; k < kind_share_.size(); ++k) {
        kind_share_[k] = static_cast<double>(wiring.panel_count(k)) * system.setup().kinds[k].panel.pmax_w;
        label_w_ += kind_share_[k];
    }
    for (double& share : kind_share_) share /= label_w_;
    const physics::ArrayCurve curve = system.curve(wiring, study::KindConditions(kind_share_.size()));
    label_v_ = curve.open_circuit_v();
    label_a_ = curve.short_circuit_a();
}

double RowModel::mean_rise_k(double irradiance_w_per_m2) const {
    double rise_k = 0.0;
    for (std::size_t k = 0; k < kind_share_.size(); ++k) {
        rise_k += kind_share_[k] * physics::rise_above_air_k(system_->setup().kinds[k].panel,
                                                             system_->setup().site.mounting, irradiance_w_per_m2);
    }
    return rise_k;
}

RowModel::Seen RowModel::seen_in(const LogRow& row, bool light_known) const {
    const double volts_factor = light_known ? calibration_.volts_factor() : 1.0;
    const double amps_factor = light_known ? calibration_.amps_factor() : 1.0;
    Seen s;
    s.volts = row.voltage_v.has_value();
    s.voltage_v = row.voltage_v.value_or(0.0) / volts_factor;
    const bool amps = row.current_a.has_value();
    s.power_w = row.power_w ? *row.power_w / (volts_factor * amps_factor)
                            : s.voltage_v * row.current_a.value_or(0.0) / amps_factor;
    s.current_a = amps ? *row.current_a / amps_factor : s.voltage_v > 0.0 ? s.power_w / s.voltage_v : 0.0;
    constexpr double own = 1.0 - lasting_share;
    const double amp_ratio = amps ? accuracy_.amp_ratio : accuracy_.watt_ratio;
    const double watt_ratio = row.power_w ? accuracy_.watt_ratio : accuracy_.amp_ratio;
    s.volt_var = own * square(accuracy_.volt_ratio * s.voltage_v) + square(volt_step_v);
    s.amp_var = own * square(amp_ratio * s.current_a) + square(amp_step_a);
    s.watt_var = own * square(watt_ratio * s.power_w) + square(watt_step_w);
    return s;
}

RowModel::Yield RowModel::yield_at(const ConditionTable::Place& place, double irradiance_w_per_m2, Celsius cell) {
    const Solved& near = place.nearest();
    const auto value = [&](auto f) { return place.jumps() ? f(near) : place.value(f); };
    Yield y;
    y.irradiance_w_per_m2 = irradiance_w_per_m2;
    y.cell = cell;
    y.free_w = place.value([](const Solved& x) { return x.free_w; });
    y.cool_w = place.value([](const Solved& x) { return x.cool_w; });
    // Without cables the same as what is held, to the last digit.
    y.cableless_w = value([](const Solved& x) { return x.cableless.voltage_v; }) *
                    value([](const Solved& x) { return x.cableless.current_a; });
    y.held_v = value([](const Solved& x) { return x.held[0].voltage_v; });
    y.held_w = y.held_v * value([](const Solved& x) { return x.held[0].current_a; });
    y.limit = near.limit;
    y.end = near.end;
    y.band = std::min(near.band, most_bands - 1);
    return y;
}

RowModel::Local RowModel::local_at(double irradiance_w_per_m2, Celsius cell, const BiasCovariance& covariance) {
    const ConditionTable::Place place = table_.at(irradiance_w_per_m2, cell);
    const Solved& near = place.nearest();
    Local l;
    l.yield = yield_at(place, irradiance_w_per_m2, cell);
    l.covariance = covariance;
    l.open_v = place.spot([](const Solved& x) { return x.open_v; });
    const Slope open{l.open_v.per_w_m2, l.open_v.per_k, l.open_v.value, 0.0};
    l.open_var = covariance.between(open, open);
    l.drawing = near.drawing;
    for (std::size_t v = 0; v < table_.variants().size(); ++v) {
        Predicted& p = l.held[v];
        if (place.jumps()) {
            p.voltage_v = {near.held[v].voltage_v, 0.0, 0.0};
            p.current_a = {near.held[v].current_a, 0.0, 0.0};
        } else {
            p.voltage_v = place.spot([v](const Solved& x) { return x.held[v].voltage_v; });
            p.current_a = place.spot([v](const Solved& x) { return x.held[v].current_a; });
        }
        if (!(p.power_w() > 0.0)) continue;
        const Slope volts = p.volt_slope();
        const Slope amps = p.amp_slope();
        const Slope by_amps = covariance.times(amps);
        p.var_v = covariance.between(volts, volts);
        p.var_a = dot(amps, by_amps);
        p.covariance = dot(volts, by_amps);
    }
    if (!l.drawing) return l;
    for (std::size_t i = 0; i < locus_points; ++i) {
        l.locus_v[i] = place.jumps() ? near.locus_v[i] : place.value([i](const Solved& x) { return x.locus_v[i]; });
    }
    return l;
}

RowModel::Weights RowModel::priors(const LogRow& row, bool light_known) const {
    Weights p{};
    p[works] = 0.80;
    p[waiting] = 0.10;
    p[tripped] = 0.01;
    // Charging slows down between some 90 and 96 % of charge: a smooth step there.
    const double full = row.charge_ratio ? 0.001 + 0.599 / (1.0 + std::exp(-(*row.charge_ratio - 0.93) / 0.015)) : 0.05;
    p[battery] = 0.7 * full;
    p[stopped] = 0.3 * full;
    p[wall] = row.wall_w && *row.wall_w > accuracy_.display_w ? 0.40 : 0.0;
    p[display] = 0.10;
    p[shaded] = light_known ? 0.06 : 0.0;
    p[unexplained] = 0.02;
    for (std::size_t v = 1; v < table_.variants().size(); ++v) {
        const bool tells = light_known || table_.variants()[v].cause == Cause::bypassed_group;
        p[faults + v - 1] = tells ? 0.015 : 0.0;
    }
    return p;
}

// Where the light was not measured, every light from dark to bright may be, equally probable; each stands for a
// stretch.
const std::vector<RowModel::Local>& RowModel::weathers(const LogRow& row) {
    const bool cell = row.panel.has_value();
    const bool air = !cell && row.air.has_value();
    const double known = cell ? row.panel->degc : air ? row.air->degc : system_->setup().site.warm_air.degc;
    const int bucket = static_cast<int>(std::lround(std::clamp(known, -60.0, 120.0) / bucket_k));
    std::vector<Local>& all = weathers_[4 * bucket + (cell ? 1 : air ? 2 : 3)];
    if (!all.empty()) return all;
    all.reserve(weather_count);
    for (std::size_t j = 0; j < weather_count; ++j) {
        const double x = (static_cast<double>(j) + 0.5) / static_cast<double>(weather_count);
        const double irradiance = brightest_w_per_m2 * x * x;
        const double width = brightest_w_per_m2 * 2.0 * x / static_cast<double>(weather_count);
        const double rise_k = cell ? 0.0 : mean_rise_k(irradiance);
        const double sd_k = cell  ? std::hypot(accuracy_.panel_k, 0.3 * bucket_k)
                            : air ? std::hypot(accuracy_.air_k, rise_error_ratio * rise_k)
                                  : unknown_temperature_sd_k;
        const BiasCovariance covariance = calibration_.covariance_of(width / std::sqrt(12.0), sd_k);
        all.push_back(local_at(irradiance, Celsius{bucket * bucket_k + rise_k}, covariance));
        all.back().prior_ratio = width / brightest_w_per_m2;
    }
    return all;
}

// A chain that stays in a cause for `lasting` on average and then takes another by its prior; over a long time each has
// its prior's share.
RowModel::Weights RowModel::expected_weights(const Weights& prior, double step_s) {
    static constexpr std::array<double, faults> lasting_s{120.0 * minute_s, 120.0 * minute_s, 120.0 * minute_s,
                                                          120.0 * minute_s, 120.0 * minute_s, 120.0 * minute_s,
                                                          10.0 * minute_s,  30.0 * minute_s,  10.0 * minute_s};
    const auto lasting = [](std::size_t h) { return h < faults ? lasting_s[h] : day_s; };
    if (step_s != staying_step_s_) {  // most steps of a log are alike
        for (std::size_t h = 0; h < hypothesis_count; ++h) staying_[h] = std::exp(-step_s / lasting(h));
        staying_step_s_ = step_s;
    }
    Weights entry{};
    Weights next{};
    double entries = 0.0;
    double leaving = 0.0;
    for (std::size_t h = 0; h < hypothesis_count; ++h) {
        entry[h] = prior[h] / lasting(h);
        entries += entry[h];
        next[h] = last_[h] * staying_[h];
        leaving += last_[h] - next[h];
    }
    for (std::size_t h = 0; h < hypothesis_count; ++h) next[h] += leaving * entry[h] / entries;
    return next;
}

RowModel::Local RowModel::measured_weather(const LogRow& row) {
    const double read = std::clamp(*row.irradiance_w_per_m2, 0.0, most_irradiance_w_per_m2);
    const double irradiance = read * calibration_.light_factor();
    const double rise_k = row.panel ? 0.0 : mean_rise_k(irradiance);
    const Celsius cell = row.panel ? *row.panel : row.air.value_or(system_->setup().site.warm_air) + rise_k;
    const double sd_k = row.panel ? accuracy_.panel_k
                        : row.air ? std::hypot(accuracy_.air_k, rise_error_ratio * rise_k)
                                  : unknown_temperature_sd_k;
    calibration_.look_at(irradiance, sd_k);
    return local_at(irradiance, cell + calibration_.warmer_k(), calibration_.covariance());
}

void RowModel::explain(const LogRow& row, double step_s, ExplainedRow& out) {
    out = ExplainedRow{};
    out.row = row;
    out.label_w = label_w_;
    const bool light_known = row.irradiance_w_per_m2.has_value();
    if (std::isfinite(step_s)) calibration_.forget(step_s);
    const Seen s = seen_in(row, light_known);
    out.measured_w = row.power_w ? *row.power_w : row.voltage_v.value_or(0.0) * row.current_a.value_or(0.0);
    entries_.clear();
    if (light_known) {
        here_ = measured_weather(row);
        weigh_in(here_, s, row, true);
    } else {
        const std::vector<Local>& all = weathers(row);
        for (const Local& l : all) weigh_in(l, s, row, false);
        // What nothing explains needs a light to be counted with: the least that would do.
        const auto least =
            std::find_if(all.begin(), all.end(), [&](const Local& l) { return l.yield.free_w >= s.power_w; });
        entries_.push_back({unexplained, least == all.end() ? &all.back() : &*least,
                            s.volts ? 1.0 / (1.32 * label_v_ * label_a_) : 1.0 / (1.2 * label_w_)});
    }
    const Weights prior = priors(row, light_known);
    last_ = posterior(std::isfinite(step_s) ? expected_weights(prior, step_s) : prior);
    attribute(s, light_known, out);
    if (light_known && here_.drawing && here_.held[0].power_w() > accuracy_.display_w) {
        calibration_.learn(surprise_at(here_.held[0], s), last_[works], std::isfinite(step_s) ? step_s : 0.0);
    }
    if (!light_known && !row.panel && !row.air) refine(s, out);
}

}  // namespace plait::measured
