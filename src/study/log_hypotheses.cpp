#include "log_hypotheses.hpp"

#include "bell.hpp"

#include <plait/physics/cell_temperature.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::study {
namespace {

// All figures here are ours, *no source*; docs/explain.md lists them.
constexpr double model_volt_ratio = 0.01;  // a curve from a datasheet against a real panel
constexpr double model_amp_ratio = 0.015;
constexpr double volt_step_v = 0.03;  // a display of one decimal, 0.1/√12
constexpr double amp_step_a = 0.03;
constexpr double watt_step_w = 0.3;
constexpr double rise_error_ratio = 0.15;
constexpr double bucket_k = 1.0;
constexpr std::size_t weather_count = 64;
constexpr double brightest_w_per_m2 = 1300.0;
constexpr double far_sd = 12.0;

double square(double x) { return x * x; }

constexpr double minute_s = 60.0;
constexpr double day_s = 86400.0;

/// How sure it is that something is above nought, from its distance in standard deviations.
double surely(double sd) { return 1.0 / (1.0 + std::exp(-1.702 * std::clamp(sd, -40.0, 40.0))); }

}  // namespace

RowModel::RowModel(const Bench& bench, std::size_t input, const InputWiring& wiring, const LogAccuracy& accuracy)
    : bench_(&bench),
      input_(input),
      accuracy_(accuracy),
      table_(bench, input, variants_of(bench, input, wiring)),
      kind_share_(bench.setup().kinds.size()) {
    for (std::size_t k = 0; k < kind_share_.size(); ++k) {
        kind_share_[k] = static_cast<double>(wiring.panel_count(k)) * bench.setup().kinds[k].panel.pmax_w;
        label_w_ += kind_share_[k];
    }
    for (double& share : kind_share_) share /= label_w_;
    const physics::ArrayCurve curve = bench.curve(wiring, KindConditions(kind_share_.size()));
    label_v_ = curve.open_circuit_v();
    label_a_ = curve.short_circuit_a();
}

double RowModel::mean_rise_k(double irradiance_w_per_m2) const {
    double rise_k = 0.0;
    for (std::size_t k = 0; k < kind_share_.size(); ++k) {
        rise_k += kind_share_[k] * physics::rise_above_air_k(bench_->setup().kinds[k].panel,
                                                             bench_->setup().site.mounting, irradiance_w_per_m2);
    }
    return rise_k;
}

RowModel::Seen RowModel::seen_in(const LogRow& row) const {
    Seen s;
    s.volts = row.voltage_v.has_value();
    s.voltage_v = row.voltage_v.value_or(0.0);
    s.power_w = row.power_w ? *row.power_w : s.voltage_v * row.current_a.value_or(0.0);
    const bool amps = row.current_a.has_value();
    s.current_a = amps ? *row.current_a : s.voltage_v > 0.0 ? s.power_w / s.voltage_v : 0.0;
    const double amp_ratio = amps ? accuracy_.amp_ratio : accuracy_.watt_ratio;
    s.volt_var = square(accuracy_.volt_ratio * s.voltage_v) + square(volt_step_v);
    s.amp_var = square(amp_ratio * s.current_a) + square(amp_step_a);
    s.watt_var = square((row.power_w ? accuracy_.watt_ratio : accuracy_.amp_ratio) * s.power_w) + square(watt_step_w);
    return s;
}

RowModel::Local RowModel::local_at(double irradiance_w_per_m2, Celsius cell, double sd_w_per_m2, double sd_k) {
    const ConditionTable::Place place = table_.at(irradiance_w_per_m2, cell);
    const Solved& near = place.nearest();
    Local l;
    l.irradiance_w_per_m2 = irradiance_w_per_m2;
    l.cell = cell;
    l.sd_w_per_m2 = sd_w_per_m2;
    l.sd_k = sd_k;
    l.free_w = place.value([](const Solved& x) { return x.free_w; });
    l.cool_w = place.value([](const Solved& x) { return x.cool_w; });
    l.cableless_w = place.jumps() ? near.cableless_w : place.value([](const Solved& x) { return x.cableless_w; });
    l.open_v = place.spot([](const Solved& x) { return x.open_v; });
    l.drawing = near.drawing;
    l.limit = near.limit;
    l.end = near.end;
    l.band = near.band;
    for (std::size_t v = 0; v < table_.variants().size(); ++v) {
        if (place.jumps()) {
            l.held[v] = {{near.held[v].voltage_v, 0.0, 0.0}, {near.held[v].current_a, 0.0, 0.0}};
        } else {
            l.held[v] = {place.spot([v](const Solved& x) { return x.held[v].voltage_v; }),
                         place.spot([v](const Solved& x) { return x.held[v].current_a; })};
        }
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

double RowModel::held_density(const Predicted& p, const Local& l, const Seen& s) const {
    const double v = p.voltage_v.value;
    const double i = p.current_a.value;
    const double g2 = square(l.sd_w_per_m2);
    const double k2 = square(l.sd_k);
    if (!s.volts) {
        const double per_g = v * p.current_a.per_w_m2 + i * p.voltage_v.per_w_m2;
        const double per_k = v * p.current_a.per_k + i * p.voltage_v.per_k;
        const double var = s.watt_var + square(v * i) * (square(model_amp_ratio) + square(model_volt_ratio)) +
                           g2 * square(per_g) + k2 * square(per_k);
        return bell(s.power_w - v * i, var);
    }
    // The weather moves volts and amps together, along a limit for one.
    const double vv =
        s.volt_var + square(model_volt_ratio * v) + g2 * square(p.voltage_v.per_w_m2) + k2 * square(p.voltage_v.per_k);
    const double ii =
        s.amp_var + square(model_amp_ratio * i) + g2 * square(p.current_a.per_w_m2) + k2 * square(p.current_a.per_k);
    const double vi = g2 * p.voltage_v.per_w_m2 * p.current_a.per_w_m2 + k2 * p.voltage_v.per_k * p.current_a.per_k;
    return bell(s.voltage_v - v, s.current_a - i, vv, ii, vi);
}

double RowModel::off_density(const Local& l, const Seen& s) const {
    if (!s.volts) return bell(s.power_w, square(watt_step_w));
    const double vv = s.volt_var + square(model_volt_ratio * l.open_v.value) +
                      square(l.sd_w_per_m2 * l.open_v.per_w_m2) + square(l.sd_k * l.open_v.per_k);
    return bell(s.voltage_v - l.open_v.value, s.current_a, vv, square(amp_step_a), 0.0);
}

// On the array's curve, between the operating point and open circuit.
double RowModel::locus_density(const Local& l, const Seen& s) const {
    const Predicted& op = l.held[0];
    const double share = s.current_a / op.current_a.value;
    if (!(share > 0.0)) return 0.0;
    const double v = locus_voltage_v(l.locus_v, share);
    constexpr double step = 0.02;
    const double low = std::min(share, 1.0 - step);
    const double per_a =
        (locus_voltage_v(l.locus_v, low + step) - locus_voltage_v(l.locus_v, low)) / (step * op.current_a.value);
    const double amp_var =
        s.amp_var + square(model_amp_ratio * op.current_a.value) + square(l.sd_w_per_m2 * op.current_a.per_w_m2);
    const double var = s.volt_var + square(model_volt_ratio * v) + square(l.sd_k * l.open_v.per_k) +
                       square(l.sd_w_per_m2 * l.open_v.per_w_m2) + amp_var * square(per_a);
    return bell(s.voltage_v - v, var);
}

// Any share of what it could draw is equally probable.
double RowModel::battery_density(const Local& l, const Seen& s) const {
    const double op_w = l.held[0].voltage_v.value * l.held[0].current_a.value;
    if (!l.drawing || !(op_w > 0.0)) return 0.0;
    const double per_g = l.held[0].voltage_v.value * l.held[0].current_a.per_w_m2;
    const double sd_w = std::sqrt(s.watt_var + square(model_amp_ratio * op_w) + square(per_g * l.sd_w_per_m2));
    const double less = surely((op_w - s.power_w) / sd_w) * surely(s.power_w / sd_w);
    return less * (s.volts ? locus_density(l, s) / l.held[0].current_a.value : 1.0 / op_w);
}

double RowModel::wall_density(const Local& l, const Seen& s, double wall_w) const {
    const std::optional<double>& total_w = bench_->setup().controller.max_total_power_w;
    if (!l.drawing) return 0.0;
    if (!total_w) return battery_density(l, s);
    const double op_w = l.held[0].voltage_v.value * l.held[0].current_a.value;
    const double left_w = std::max(0.0, *total_w - wall_w);
    if (left_w >= op_w) return 0.0;
    if (left_w <= accuracy_.display_w) return off_density(l, s);
    const double var = s.watt_var + square(accuracy_.watt_ratio * wall_w) + square(model_amp_ratio * *total_w);
    const double watts = bell(s.power_w - left_w, var);
    return s.volts ? s.voltage_v * watts * locus_density(l, s) : watts;
}

// Any share of the light is equally probable. One share gives the watts; the volts then say whether it was shade.
double RowModel::shade_density(const Local& l, const Seen& s) {
    const double op_w = l.held[0].voltage_v.value * l.held[0].current_a.value;
    if (!l.drawing || !(op_w > 0.0) || !(s.power_w > 0.0)) return 0.0;
    const double per_g = l.held[0].voltage_v.value * l.held[0].current_a.per_w_m2;
    const double sd_w = std::sqrt(s.watt_var + square(model_amp_ratio * op_w) + square(per_g * l.sd_w_per_m2));
    const double less = surely((op_w - s.power_w) / sd_w);
    if (!s.volts) return less / op_w;
    double irradiance = l.irradiance_w_per_m2;
    Spot voltage_v = l.held[0].voltage_v;
    double at_w = op_w;
    for (int step = 0; step < 3; ++step) {
        irradiance = std::min(irradiance * std::clamp(s.power_w / at_w, 0.05, 2.0), l.irradiance_w_per_m2);
        const ConditionTable::Place place = table_.at(irradiance, l.cell);
        if (!place.nearest().drawing) return 0.0;
        voltage_v = place.spot([](const Solved& x) { return x.held[0].voltage_v; });
        at_w = place.value([](const Solved& x) { return x.held[0].voltage_v * x.held[0].current_a; });
        if (!(at_w > 0.0)) return 0.0;
    }
    const double var = s.volt_var + square(model_volt_ratio * voltage_v.value) + square(l.sd_k * voltage_v.per_k);
    return less / op_w * s.voltage_v * bell(s.voltage_v - voltage_v.value, var);
}

double RowModel::display_density(const Local& l, const Seen& s) const {
    const double op_w = l.held[0].voltage_v.value * l.held[0].current_a.value;
    const double little = surely((accuracy_.display_w - op_w) / (0.25 * accuracy_.display_w + watt_step_w));
    if (little < 1e-6) return 0.0;
    if (!s.volts) return little * bell(s.power_w, square(watt_step_w));
    return little * bell(s.current_a, square(amp_step_a)) / label_v_;
}

double RowModel::waiting_density(const Local& l, const Seen& s) const {
    const Controller& controller = bench_->setup().controller;
    // A step-down stage needs the array above its battery to start, whatever else is stated.
    std::optional<double> start_v = controller.inputs[input_].start_voltage_v;
    if (controller.type == ControllerType::step_down && controller.battery) {
        const double above_battery_v = controller.battery->nominal_voltage_v + controller.starting_headroom_v;
        start_v = std::max(start_v.value_or(above_battery_v), above_battery_v);
    }
    if (!start_v || !l.drawing) return 0.0;
    const double sd_v =
        model_volt_ratio * *start_v + l.sd_k * std::abs(l.open_v.per_k) + l.sd_w_per_m2 * std::abs(l.open_v.per_w_m2);
    const double below = surely((*start_v - l.open_v.value) / sd_v);
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
        const double sd_a = std::sqrt(s.amp_var + square(model_amp_ratio * p.current_a.value)) +
                            l.sd_w_per_m2 * p.current_a.per_w_m2 + l.sd_k * std::abs(p.current_a.per_k);
        return s.volts ? std::abs(s.current_a - p.current_a.value) < far_sd * sd_a
                       : std::abs(s.power_w - p.voltage_v.value * p.current_a.value) <
                             far_sd * (std::sqrt(s.watt_var) + p.voltage_v.value * sd_a);
    };
    if (l.drawing && near(0)) add(works, held_density(l.held[0], l, s));
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
        if (l.held[v].current_a.value > 0.0 && near(v)) add(faults + v - 1, held_density(l.held[v], l, s));
    }
    if (light_known) {
        add(shaded, shade_density(l, s));
        add(unexplained, s.volts ? 1.0 / (1.32 * label_v_ * label_a_) : 1.0 / (1.2 * label_w_));
    }
}

// Where the light was not measured, every light from dark to bright may be, equally probable; each stands for a
// stretch.
const std::vector<RowModel::Local>& RowModel::weathers(const LogRow& row) {
    const bool cell = row.panel.has_value();
    const bool air = !cell && row.air.has_value();
    const double known = cell ? row.panel->degc : air ? row.air->degc : bench_->setup().site.warm_air.degc;
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
        all.push_back(local_at(irradiance, Celsius{bucket * bucket_k + rise_k}, width / std::sqrt(12.0), sd_k));
        all.back().prior_ratio = width / brightest_w_per_m2;
    }
    return all;
}

// A chain that stays in a cause for `lasting` on average and then takes another by its prior; over a long time each has
// its prior's share.
RowModel::Weights RowModel::expected_weights(const Weights& prior, double step_s) const {
    static constexpr std::array<double, faults> lasting_s{120.0 * minute_s, 10.0 * minute_s,  120.0 * minute_s,
                                                          120.0 * minute_s, 120.0 * minute_s, 120.0 * minute_s,
                                                          10.0 * minute_s,  30.0 * minute_s,  10.0 * minute_s};
    Weights entry{};
    Weights next{};
    double entries = 0.0;
    double leaving = 0.0;
    for (std::size_t h = 0; h < hypothesis_count; ++h) {
        const double lasting = h < faults ? lasting_s[h] : day_s;
        entry[h] = prior[h] / lasting;
        entries += entry[h];
        next[h] = last_[h] * std::exp(-step_s / lasting);
        leaving += last_[h] - next[h];
    }
    for (std::size_t h = 0; h < hypothesis_count; ++h) next[h] += leaving * entry[h] / entries;
    return next;
}

// Where everything works: the limit that is met, or else the costliest of light, heat and cables. Where only the cables
// bring the array to a limit, they decide.
Cause RowModel::decided_by(const Local& l, double held_w) const {
    if (l.end != Cause::less_light) return l.limit != Cause::less_light ? l.end : Cause::cable;
    const double dark_w = label_w_ - l.cool_w;
    const double heat_w = l.cool_w - l.free_w;
    const double cable_w = l.cableless_w - held_w;
    if (cable_w > std::max(dark_w, heat_w)) return Cause::cable;
    return heat_w > dark_w ? Cause::heat : Cause::less_light;
}

void RowModel::settle(const Seen& s, const Weights& before, ExplainedRow& out) {
    Weights like{};
    for (const Entry& e : entries_) like[e.hypothesis] += e.density;
    Weights post{};
    double sum = 0.0;
    for (std::size_t h = 0; h < hypothesis_count; ++h) {
        post[h] = before[h] * like[h];
        sum += post[h];
    }
    for (double& p : post) p /= sum;
    last_ = post;

    double free2 = 0.0;
    double cell_degc = 0.0;
    const auto lose = [&](Cause c, double w) { out.lost_w[index_of(c)] += w; };
    for (const Entry& e : entries_) {
        const double part = post[e.hypothesis] * e.density / like[e.hypothesis];
        if (!(part > 0.0)) continue;
        const Local& l = *e.local;
        const double sun_w = label_w_ * l.irradiance_w_per_m2 / stc_irradiance_w_per_m2;
        const double held_w = l.held[0].voltage_v.value * l.held[0].current_a.value;
        out.possible_w += part * l.free_w;
        out.expected_w += part * held_w;
        out.expected_v += part * l.held[0].voltage_v.value;
        out.irradiance_w_per_m2 += part * l.irradiance_w_per_m2;
        cell_degc += part * l.cell.degc;
        free2 += part * square(l.free_w);
        lose(Cause::less_light, part * (label_w_ - sun_w));
        lose(Cause::array, part * (sun_w - l.cool_w));
        lose(Cause::heat, part * (l.cool_w - l.free_w));
        lose(l.limit, part * (l.free_w - l.cableless_w));
        lose(Cause::cable, part * (l.cableless_w - held_w));
        const std::size_t band = std::min(l.band, most_bands - 1);
        if (l.limit == Cause::current_limit) out.band_lost_w[band] += part * (l.free_w - l.cableless_w);
        Cause cause = Cause::scatter;
        switch (e.hypothesis) {
            case works:
                break;
            case waiting:
                cause = Cause::below_window;
                break;
            case tripped:
                cause = Cause::tripped;
                break;
            case battery:
            case stopped:
                cause = Cause::battery;
                break;
            case wall:
                cause = Cause::wall;
                break;
            case display:
                cause = Cause::display;
                break;
            case shaded:
                cause = Cause::shade;
                break;
            case unexplained:
                cause = Cause::unexplained;
                break;
            default:
                cause = table_.variants()[e.hypothesis - faults + 1].cause;
                break;
        }
        lose(cause, part * (held_w - s.power_w));
        const Cause by = cause != Cause::scatter ? cause : decided_by(l, held_w);
        out.probability_ratio[index_of(by)] += part;
        if (by == Cause::current_limit) out.band_ratio[band] += part;
    }
    out.cell = Celsius{cell_degc};
    out.possible_sd_w = std::sqrt(std::max(0.0, free2 - square(out.possible_w)));
    out.cause = static_cast<Cause>(std::max_element(out.probability_ratio.begin(), out.probability_ratio.end()) -
                                   out.probability_ratio.begin());
}

void RowModel::explain(const LogRow& row, double step_s, ExplainedRow& out) {
    out = ExplainedRow{};
    out.row = row;
    out.label_w = label_w_;
    const Seen s = seen_in(row);
    out.measured_w = s.power_w;
    entries_.clear();
    const bool light_known = row.irradiance_w_per_m2.has_value();
    if (light_known) {
        const double irradiance = std::clamp(*row.irradiance_w_per_m2, 0.0, most_irradiance_w_per_m2);
        const double rise_k = row.panel ? 0.0 : mean_rise_k(irradiance);
        const Celsius cell = row.panel ? *row.panel : row.air.value_or(bench_->setup().site.warm_air) + rise_k;
        const double sd_k = row.panel ? accuracy_.panel_k
                            : row.air ? std::hypot(accuracy_.air_k, rise_error_ratio * rise_k)
                                      : unknown_temperature_sd_k;
        here_ = local_at(irradiance, cell, accuracy_.irradiance_ratio * irradiance + 1.0, sd_k);
        weigh_in(here_, s, row, true);
    } else {
        const std::vector<Local>& all = weathers(row);
        for (const Local& l : all) weigh_in(l, s, row, false);
        // What nothing explains needs a light to be counted with: the least that would do.
        const auto least = std::find_if(all.begin(), all.end(), [&](const Local& l) { return l.free_w >= s.power_w; });
        entries_.push_back({unexplained, least == all.end() ? &all.back() : &*least,
                            s.volts ? 1.0 / (1.32 * label_v_ * label_a_) : 1.0 / (1.2 * label_w_)});
    }
    const Weights prior = priors(row, light_known);
    settle(s, std::isfinite(step_s) ? expected_weights(prior, step_s) : prior, out);
    if (!row.panel && !row.air) refine(row, s, out);
}

// With no temperature measured, volts at a maximum tell it: the cells are as warm as these volts say.
void RowModel::refine(const LogRow& row, const Seen& s, ExplainedRow& out) {
    const double own = out.probability_ratio[index_of(Cause::less_light)] +
                       out.probability_ratio[index_of(Cause::heat)] + out.probability_ratio[index_of(Cause::cable)];
    if (!s.volts || own < 0.5 || !(s.power_w > 0.0)) return;
    std::optional<physics::Condition> weather;
    if (row.irradiance_w_per_m2) {
        const Spot& v = here_.held[0].voltage_v;
        const double prior = square(here_.sd_k * v.per_k);
        const double noise = s.volt_var + square(model_volt_ratio * v.value);
        const double warmer_k = v.per_k == 0.0 ? 0.0 : (s.voltage_v - v.value) / v.per_k * prior / (prior + noise);
        weather = physics::Condition{here_.irradiance_w_per_m2, here_.cell + warmer_k};
    } else {
        weather = weather_of_maximum(s.voltage_v, s.current_a);
    }
    if (!weather) return;
    const Local l = local_at(weather->irradiance_w_per_m2, weather->cell, 0.0, 0.0);
    if (!l.drawing || l.limit != Cause::less_light || l.end != Cause::less_light) return;
    // The losses stay with their causes; only light, array, heat, cables and scatter share the same sum anew.
    const double sun_w = label_w_ * l.irradiance_w_per_m2 / stc_irradiance_w_per_m2;
    const double held_w = l.held[0].voltage_v.value * l.held[0].current_a.value;
    const double rest_w = out.lost_w[index_of(Cause::less_light)] + out.lost_w[index_of(Cause::array)] +
                          out.lost_w[index_of(Cause::heat)] + out.lost_w[index_of(Cause::cable)] +
                          out.lost_w[index_of(Cause::scatter)];
    out.lost_w[index_of(Cause::less_light)] = label_w_ - sun_w;
    out.lost_w[index_of(Cause::array)] = sun_w - l.cool_w;
    out.lost_w[index_of(Cause::heat)] = l.cool_w - l.free_w;
    out.lost_w[index_of(Cause::cable)] = l.free_w - held_w;
    out.lost_w[index_of(Cause::scatter)] = rest_w - (label_w_ - held_w);
    out.possible_w = l.free_w;
    out.expected_w = held_w;
    out.expected_v = l.held[0].voltage_v.value;
    out.irradiance_w_per_m2 = l.irradiance_w_per_m2;
    out.cell = l.cell;
    if (!row.irradiance_w_per_m2) out.possible_sd_w = 0.0;
}

std::optional<physics::Condition> RowModel::weather_of_maximum(double voltage_v, double current_a) {
    physics::Condition c{stc_irradiance_w_per_m2 * current_a / label_a_, stc_cell};
    for (int step = 0; step < 30; ++step) {
        const ConditionTable::Place place = table_.at(c.irradiance_w_per_m2, c.cell);
        if (place.jumps() || !place.nearest().drawing || place.nearest().end != Cause::less_light)
            return std::nullopt;
        const Spot v = place.spot([](const Solved& x) { return x.held[0].voltage_v; });
        const Spot i = place.spot([](const Solved& x) { return x.held[0].current_a; });
        const double det = v.per_w_m2 * i.per_k - v.per_k * i.per_w_m2;
        if (det == 0.0) return std::nullopt;
        const double dv = voltage_v - v.value;
        const double di = current_a - i.value;
        const double more_light = (dv * i.per_k - di * v.per_k) / det;
        const double warmer_k = (di * v.per_w_m2 - dv * i.per_w_m2) / det;
        c.irradiance_w_per_m2 += std::clamp(more_light, -0.5 * c.irradiance_w_per_m2, 0.5 * c.irradiance_w_per_m2);
        c.cell = c.cell + std::clamp(warmer_k, -30.0, 30.0);
        if (c.irradiance_w_per_m2 > most_irradiance_w_per_m2 || c.cell < Celsius{-40.0} || c.cell > Celsius{100.0}) {
            return std::nullopt;
        }
        if (std::abs(dv) < 1e-6 * label_v_ && std::abs(di) < 1e-6 * label_a_) return c;
    }
    return std::nullopt;
}

}  // namespace plait::study
