#include "row_model.hpp"

#include "log_figures.hpp"
#include "row_group.hpp"
#include "sun_prior.hpp"

#include <plait/physics/cell_temperature.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::measured {
namespace {

constexpr double bucket_k = 1.0;
constexpr std::size_t weather_count = 64;

double share_of_limit(Cause c, const StateAccount& a) {
    const auto at = std::find(limit_causes.begin(), limit_causes.end(), c);
    return at == limit_causes.end() ? 0.0 : a.limit_w[static_cast<std::size_t>(at - limit_causes.begin())];
}

}  // namespace

RowModel::RowModel(const study::SystemModel& system, std::size_t input, const InputWiring& wiring,
                   const LogAccuracy& accuracy)
    : system_(&system),
      input_(input),
      accuracy_(accuracy),
      printed_(system.window(input)),
      wired_(wired_input(system, input, wiring)),
      table_(std::make_unique<ConditionTable>(wired_)),
      learned_{LogCalibration(accuracy),
               {square(limit_ratio)},
               {square(window_ratio)},
               {square(window_ratio)},
               std::vector<LimitFactor>(printed_.bands.size(), LimitFactor{square(limit_ratio)})},
      band_factor_(printed_.bands.size(), 1.0),
      kind_share_(system.setup().kinds.size()) {
    for (std::size_t k = 0; k < kind_share_.size(); ++k) {
        kind_share_[k] = static_cast<double>(wiring.panel_count(k)) * system.setup().kinds[k].panel.pmax_w;
        label_w_ += kind_share_[k];
    }
    for (double& share : kind_share_) share /= label_w_;
    const physics::ArrayCurve curve = system.curve(wiring, study::KindConditions(kind_share_.size()));
    label_v_ = curve.open_circuit_v();
    label_a_ = curve.short_circuit_a();
}

const std::vector<ShadeFamily>& RowModel::families() {
    if (!shades_) shades_ = std::make_unique<ShadeTable>(wired_);
    return shades_->families();
}

double RowModel::mean_rise_k(double irradiance_w_per_m2) const {
    double rise_k = 0.0;
    for (std::size_t k = 0; k < kind_share_.size(); ++k) {
        rise_k += kind_share_[k] * physics::rise_above_air_k(system_->setup().kinds[k].panel,
                                                             system_->setup().site.mounting, irradiance_w_per_m2);
    }
    return rise_k;
}

void RowModel::forget_rows() {
    before_.known = false;
    steady_.known = false;
    lagging_known_ = false;
    lag_weight_.fill(1.0 / static_cast<double>(lag_count));
}

RowModel::Seen RowModel::seen_in(const LogRow& row, double irradiance_w_per_m2, bool light_known) const {
    const LogCalibration& c = learned_.calibration;
    const double volts_factor = light_known ? c.volts_factor(irradiance_w_per_m2) : 1.0;
    const double amps_factor = light_known ? c.amps_factor(irradiance_w_per_m2) : 1.0;
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
    s.nothing = s.volts ? s.current_a < far_sd * amp_step_a : s.power_w < far_sd * watt_step_w;
    return s;
}

void RowModel::fill_account(const ConditionTable::Place& place, double irradiance_w_per_m2, Celsius cell,
                            StateAccount& to) {
    const Solved& near = place.nearest();
    const auto value = [&](auto f) { return place.jumps() ? f(near) : place.value(f); };
    // As the log's meters would show it.
    const LogCalibration& c = learned_.calibration;
    const double volts_factor = c.volts_factor(irradiance_w_per_m2);
    const double meter = volts_factor * c.amps_factor(irradiance_w_per_m2);
    to.irradiance_w_per_m2 = irradiance_w_per_m2;
    to.cell_degc = cell.degc;
    to.free_w = meter * place.value([](const Solved& x) { return x.free_w; });
    to.free2_w2 = square(to.free_w);
    to.cool_w = meter * place.value([](const Solved& x) { return x.cool_w; });
    // Without cables the same as what is held, to the last digit.
    to.cableless_w = meter * (value([](const Solved& x) { return x.cableless.voltage_v; }) *
                              value([](const Solved& x) { return x.cableless.current_a; }));
    const double held_v = value([](const Solved& x) { return x.held.voltage_v; });
    to.held_w = meter * (held_v * value([](const Solved& x) { return x.held.current_a; }));
    to.held_v = volts_factor * held_v;
    const auto at = std::find(limit_causes.begin(), limit_causes.end(), near.limit);
    if (at != limit_causes.end()) {
        to.limit_w[static_cast<std::size_t>(at - limit_causes.begin())] = to.free_w - to.cableless_w;
    } else {
        to.cableless_w = to.free_w;  // nothing binds: what the cell's middle differs by is no loss
        if (near.end == Cause::less_light && !place.jumps() && wired_.wires.string_ohm.empty() &&
            !(wired_.wires.trunk_ohm > 0.0)) {
            to.held_w = to.free_w;
        }
    }
    to.band = near.limit == Cause::current_limit ? near.band : near.end_band;
    to.decided = decided_by(to, near.limit, near.end);
}

StateAccount RowModel::account_at(double irradiance_w_per_m2, Celsius cell) {
    StateAccount a;
    fill_account(table_->at(irradiance_w_per_m2, cell), irradiance_w_per_m2, cell, a);
    return a;
}

// Where everything works: the limit that is met, or else the costliest of light, heat and cables. Where only the cables
// bring the array to a limit, they decide.
Cause RowModel::decided_by(const StateAccount& a, Cause limit, Cause end) const {
    if (end != Cause::less_light) return limit != Cause::less_light ? end : Cause::cable;
    const double dark_w = label_w_ - a.cool_w;
    const double heat_w = a.cool_w - a.free_w;
    const double cable_w = a.cableless_w - a.held_w;
    if (cable_w > std::max(dark_w, heat_w)) return Cause::cable;
    return heat_w > dark_w ? Cause::heat : Cause::less_light;
}

Cause RowModel::cause_of(RowState state) const {
    switch (state) {
        case RowState::works:
            return Cause::scatter;
        case RowState::waiting:
            return Cause::below_window;
        case RowState::tripped:
            return Cause::tripped;
        case RowState::slowing:
        case RowState::stopped:
            return Cause::battery;
        case RowState::wall:
            return Cause::wall;
        case RowState::display:
            return Cause::display;
        case RowState::shade_all:
        case RowState::shade_part:
            return Cause::shade;
        case RowState::bypassed:
            return Cause::bypassed_group;
        case RowState::missing:
            return Cause::missing_string;
        case RowState::local_maximum:
            return Cause::local_maximum;
        case RowState::fixed_voltage:
            return Cause::fixed_voltage;
        case RowState::slow_tracker:
            return Cause::slow_tracker;
        case RowState::unexplained:
            break;
    }
    return Cause::unexplained;
}

RowModel::Predicted RowModel::predicted(const ConditionTable::Place& place, HeldAt Solved::* at, const Local& l) const {
    Predicted p;
    const double irradiance = l.account.irradiance_w_per_m2;
    const double weak = weakness(irradiance);
    // What is held jumps at the edge of a window; the maximum never does.
    if (place.jumps() && at == &Solved::held) {
        p.voltage_v = (place.nearest().*at).voltage_v;
        p.current_a = (place.nearest().*at).current_a;
    } else {
        const Spot v = place.spot([at](const Solved& x) { return (x.*at).voltage_v; });
        const Spot i = place.spot([at](const Solved& x) { return (x.*at).current_a; });
        p.voltage_v = v.value;
        p.current_a = i.value;
        p.volt_slope[light_bias] = v.per_w_m2 * irradiance;
        p.volt_slope[warm_bias] = v.per_k * l.sd_k;
        p.amp_slope[light_bias] = i.per_w_m2 * irradiance;
        p.amp_slope[warm_bias] = i.per_k * l.sd_k;
    }
    p.volt_slope[volt_bias] = p.voltage_v;
    p.volt_slope[weak_volt_bias] = p.voltage_v * weak;
    p.amp_slope[amp_bias] = p.current_a;
    p.amp_slope[weak_amp_bias] = p.current_a * weak;
    return p;
}

RowModel::Local RowModel::local_at(double irradiance_w_per_m2, Celsius cell, double sd_k, BiasCovariance covariance) {
    const ConditionTable::Place place = table_->at(irradiance_w_per_m2, cell);
    const Solved& near = place.nearest();
    Local l;
    fill_account(place, irradiance_w_per_m2, cell, l.account);
    l.limit = near.limit;
    l.end = near.end;
    l.end_band = near.end_band;
    l.sd_k = sd_k;
    l.covariance = std::move(covariance);
    l.drawing = near.drawing;
    const Spot open = place.spot([](const Solved& x) { return x.open_v; });
    const double bow = learned_.calibration.bow();
    l.open_v = open.value * (1.0 + bow);
    Slope open_slope = Slope::Zero();
    open_slope[light_bias] = open.per_w_m2 * irradiance_w_per_m2;
    open_slope[warm_bias] = open.per_k * sd_k;
    open_slope[volt_bias] = open.value;
    open_slope[weak_volt_bias] = open.value * weakness(irradiance_w_per_m2);
    open_slope[bow_bias] = open.value;
    l.open_var = l.covariance.between(open_slope, open_slope);
    for (std::size_t i = 0; i < right_points; ++i) {
        l.right_v[i] = place.value([i](const Solved& x) { return x.right_v[i]; });
    }
    for (std::size_t i = 0; i < left_points; ++i) {
        l.left_a[i] = place.value([i](const Solved& x) { return x.left_a[i]; });
    }
    l.top = predicted(place, &Solved::top, l);
    l.held = predicted(place, &Solved::held, l);
    if (l.held.power_w() > 0.0) {
        loosen_limit(place, l);
        // Right of the maximum the curve's bow counts.
        const double right_ratio =
            std::clamp((l.held.voltage_v - l.top.voltage_v) / std::max(open.value - l.top.voltage_v, 1e-6), 0.0, 1.0);
        l.held.volt_slope[bow_bias] = l.held.voltage_v * right_ratio;
        l.held.voltage_v *= 1.0 + bow * right_ratio;
    }
    for (Predicted* p : {&l.held, &l.top}) {
        if (!(p->power_w() > 0.0)) continue;
        const Slope by_amps = l.covariance.times(p->amp_slope);
        p->var_v += l.covariance.between(p->volt_slope, p->volt_slope);
        p->var_a += p->amp_slope.dot(by_amps);
        p->covariance += p->volt_slope.dot(by_amps);
    }
    return l;
}

RowPriors RowModel::priors_of(const LogRow& row) const {
    RowPriors p;
    // Charging slows down between some 90 and 96 % of charge and ends at 98 to 100 %: smooth steps there.
    const auto step = [&](double at, double width) { return 1.0 / (1.0 + std::exp(-(*row.charge_ratio - at) / width)); };
    p.slowing = static_cast<float>(row.charge_ratio ? 0.7 * (0.0004 + 0.599 * step(0.93, 0.015)) : 0.035);
    p.stopped = static_cast<float>(row.charge_ratio ? 0.3 * (0.0004 + 0.599 * step(0.988, 0.004)) : 0.015);
    p.wall = row.wall_w && *row.wall_w > accuracy_.display_w;
    p.light_known = row.irradiance_w_per_m2.has_value();
    return p;
}

void RowModel::explain(RowEvidence& out, std::vector<StateAccount>& accounts) {
    const LogRow& row = out.row;
    out.measured_w = measured_w(row);
    out.priors = priors_of(row);
    out.account.fill(-1);
    out.lacks = !row.irradiance_w_per_m2                   ? Teller::irradiance
                : !row.voltage_v                           ? Teller::voltage
                : !row.charge_ratio                        ? Teller::charge
                : !row.wall_w                              ? Teller::wall
                                                           : Teller::nothing;
    here_known_ = row.irradiance_w_per_m2.has_value();
    if (here_known_) {
        measured_light(out, accounts);
    } else {
        unmeasured_light(out, accounts);
    }
}

void RowModel::temper(const Density& density, double step_s, double trust_ratio, RowEvidence& out) {
    // What is too far off for rows that err alike says all of the rest.
    constexpr double alike = 3.0;  // of a logarithm
    const double power = trust_ratio * row_weight(step_s);
    const double most = *std::max_element(density.begin(), density.end());
    for (std::size_t h = 0; h < state_count; ++h) {
        if (!(density[h] > 0.0)) {
            out.like[h] = 0.0F;
            continue;
        }
        const double off = std::log(most / density[h]);
        const double said = power * std::min(off, alike) + std::max(0.0, off - alike);
        out.like[h] = static_cast<float>(std::exp(-std::min(said, 60.0)));
    }
}

void RowModel::measured_light(RowEvidence& out, std::vector<StateAccount>& accounts) {
    const LogRow& row = out.row;
    const LogCalibration& c = learned_.calibration;
    const double read = std::clamp(*row.irradiance_w_per_m2, 0.0, most_irradiance_w_per_m2);
    const double irradiance = read * c.light_factor();
    const double rise_k = row.panel ? 0.0 : mean_rise_k(irradiance);
    const Celsius cell = row.panel ? *row.panel : row.air.value_or(system_->setup().site.warm_air) + rise_k;
    const double sd_k = row.panel ? accuracy_.panel_k
                        : row.air ? std::hypot(accuracy_.air_k, rise_error_ratio * rise_k)
                                  : unknown_temperature_sd_k;
    here_ = local_at(irradiance, cell + c.warmer_k(sd_k), sd_k, c.covariance(irradiance));
    seen_ = seen_in(row, irradiance, true);
    if (here_.drawing) out.priors.little = static_cast<float>(0.1 * std::round(10.0 * hidden_ratio(here_)));
    const Local& l = here_;
    const Seen& s = seen_;
    if (out.first || out.step_s > 1800.0) forget_rows();
    for (std::size_t j = 0; j < lag_count; ++j) {
        constexpr std::array<double, lag_count> lag_s{90.0, 180.0, 360.0, 720.0, 1440.0};
        double& lag = lagging_a_[j];
        lag = lagging_known_ ? lag + (1.0 - std::exp(-out.step_s / lag_s[j])) * (l.top.current_a - lag) : l.top.current_a;
    }
    lagging_known_ = true;

    Density d{};
    const auto at = [&](RowState h) -> double& { return d[index_of(h)]; };
    at(RowState::works) = l.drawing ? held_density(l.held, s) : off_density(l, s);
    if (s.nothing) {
        const double off = off_density(l, s);
        at(RowState::waiting) = waiting_density(l, s);
        at(RowState::tripped) = off;
        if (l.drawing) at(RowState::stopped) = off;
        at(RowState::display) = display_density(l, s);
    }
    at(RowState::slowing) = slowing_density(l, s);
    if (out.priors.wall) at(RowState::wall) = wall_density(l, s, *row.wall_w, out.wall_holds);
    if (l.top.power_w() > 0.0) {
        shade_densities(l, s, d, out);
        at(RowState::fixed_voltage) = fixed_density(l, s);
        at(RowState::slow_tracker) = slow_density(l, s, out.step_s, out.lags);
    }
    at(RowState::unexplained) = unexplained_density(s);
    temper(d, out.first ? 900.0 : out.step_s, std::max(0.02, dusk_trust(irradiance)), out);
    remember(l, s, out.step_s);

    // What the weather was, where everything works, sensor and readings tell together.
    StateAccount learned = l.account;
    if (l.drawing && l.held.power_w() > 0.0 && at(RowState::works) > 1e-3 * *std::max_element(d.begin(), d.end())) {
        const Surprise seen = surprise_at(l.held, s);
        const double more = seen.share_of(l.covariance, light_bias);
        const double warmer = seen.share_of(l.covariance, warm_bias) * l.sd_k;
        const double light = std::clamp(irradiance * (1.0 + more), 0.0, most_irradiance_w_per_m2);
        const Celsius warm = Celsius{l.account.cell_degc} + warmer;
        const ConditionTable::Place place = table_->at(light, warm);
        learned = {};
        fill_account(place, light, warm, learned);
        // A limit learned since the table was solved moves this account as it moves the sensor's.
        if (place.nearest().end == l.end && l.end != Cause::less_light && share_of_limit(l.limit, l.account) > 0.0) {
            const double moved_w = l.account.held_w - account_at(irradiance, Celsius{l.account.cell_degc}).held_w;
            learned.held_w += moved_w;
            learned.cableless_w += moved_w;
            for (std::size_t i = 0; i < limit_causes.size(); ++i) {
                if (limit_causes[i] == l.limit) learned.limit_w[i] -= moved_w;
            }
        }
    }
    const auto first = static_cast<std::int32_t>(accounts.size());
    accounts.push_back(learned);
    accounts.push_back(l.account);
    for (std::size_t h = 0; h < state_count; ++h) {
        if (d[h] > 0.0) out.account[h] = h == index_of(RowState::works) ? first : first + 1;
    }
}

// Where light is not measured, every light from dark to bright may be, equally probable; each stands for a stretch.
const std::vector<RowModel::Local>& RowModel::weathers(const LogRow& row) {
    const bool cell = row.panel.has_value();
    const bool air = !cell && row.air.has_value();
    const double known = cell ? row.panel->degc : air ? row.air->degc : system_->setup().site.warm_air.degc;
    const int bucket = static_cast<int>(std::lround(std::clamp(known, -60.0, 120.0) / bucket_k));
    std::vector<Local>& all = weathers_[4 * bucket + (cell ? 1 : air ? 2 : 3)];
    if (!all.empty()) return all;
    all.reserve(weather_count + 1);
    // Night first.
    all.push_back(local_at(0.0, Celsius{bucket * bucket_k}, unknown_temperature_sd_k, learned_.calibration.covariance_of(1.0)));
    all.back().prior_ratio = night_share;
    for (std::size_t j = 0; j < weather_count; ++j) {
        const double x = (static_cast<double>(j) + 0.5) / static_cast<double>(weather_count);
        const double irradiance = open_sky_w_per_m2 * x * x;
        const double width = open_sky_w_per_m2 * 2.0 * x / static_cast<double>(weather_count);
        const double rise_k = cell ? 0.0 : mean_rise_k(irradiance);
        const double sd_k = cell  ? std::hypot(accuracy_.panel_k, 0.3 * bucket_k)
                            : air ? std::hypot(accuracy_.air_k, rise_error_ratio * rise_k)
                                  : unknown_temperature_sd_k;
        all.push_back(local_at(irradiance, Celsius{bucket * bucket_k + rise_k}, sd_k,
                               learned_.calibration.covariance_of(width / std::sqrt(12.0) / irradiance)));
        all.back().prior_ratio = (1.0 - night_share) * width / open_sky_w_per_m2;
    }
    return all;
}

}  // namespace plait::measured
