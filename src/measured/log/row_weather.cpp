// Rows whose light was not measured, and rows that teach.
#include "row_model.hpp"

#include "log_figures.hpp"
#include "sun_prior.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

/// Adds a share of an account to a sum of them.
void add_share(StateAccount& to, const StateAccount& from, double share) {
    to.irradiance_w_per_m2 += share * from.irradiance_w_per_m2;
    to.cell_degc += share * from.cell_degc;
    to.free_w += share * from.free_w;
    to.free2_w2 += share * from.free2_w2;
    to.cool_w += share * from.cool_w;
    to.cableless_w += share * from.cableless_w;
    to.held_w += share * from.held_w;
    to.held_v += share * from.held_v;
    for (std::size_t i = 0; i < limit_causes.size(); ++i) to.limit_w[i] += share * from.limit_w[i];
}

}  // namespace

void RowModel::unmeasured_light(RowEvidence& out, std::vector<StateAccount>& accounts) {
    const LogRow& row = out.row;
    const std::vector<Local>& all = weathers(row);
    const Seen s = seen_in(row, 0.0, false);
    forget_rows();
    Density sum{};
    ByState<StateAccount> means{};
    ByState<double> most{};
    double of_sun = 1.0;
    const auto take = [&](RowState h, const Local& l, double density) {
        if (!(density > 0.0)) return;
        const double d = density * l.prior_ratio * of_sun;
        const std::size_t at = index_of(h);
        sum[at] += d;
        add_share(means[at], l.account, d);
        if (d > most[at]) {
            most[at] = d;
            means[at].decided = l.account.decided;
            means[at].band = l.account.band;
        }
    };
    const double brightest = row.brightest_w_per_m2.value_or(most_irradiance_w_per_m2);
    for (const Local& l : all) {
        if (l.account.irradiance_w_per_m2 > 1.05 * brightest + 20.0) break;
        if (row.clear_w_per_m2) of_sun = sun_prior_factor(l.account.irradiance_w_per_m2, {*row.clear_w_per_m2, brightest});
        if (!(of_sun > 0.0)) continue;
        // Far from a weather's prediction there is nothing to add up.
        const auto near = [&](const Predicted& p) {
            return s.volts ? square(s.current_a - p.current_a) < square(far_sd) * (s.amp_var + p.var_a)
                           : square(s.power_w - p.power_w()) < square(far_sd) * (s.watt_var + p.watt_var());
        };
        if (l.drawing && near(l.held)) take(RowState::works, l, held_density(l.held, s));
        if (!l.drawing) take(RowState::works, l, off_density(l, s));
        if (s.nothing) {
            const double off = off_density(l, s);
            take(RowState::waiting, l, waiting_density(l, s));
            take(RowState::tripped, l, off);
            if (l.drawing) take(RowState::stopped, l, off);
            take(RowState::display, l, display_density(l, s));
        }
        if (s.current_a <= 1.05 * l.held.current_a) {
            take(RowState::slowing, l, slowing_density(l, s));
            if (out.priors.wall) take(RowState::wall, l, wall_density(l, s, *row.wall_w, out.wall_holds));
        }
    }
    // What nothing explains needs a light to be counted with: the least that would do.
    const auto least =
        std::find_if(all.begin(), all.end(), [&](const Local& l) { return l.account.free_w >= s.power_w; });
    sum[index_of(RowState::unexplained)] = unexplained_density(s);
    means[index_of(RowState::unexplained)] = least == all.end() ? all.back().account : least->account;
    for (std::size_t h = 0; h < state_count; ++h) {
        if (!(sum[h] > 0.0)) continue;
        if (h != index_of(RowState::unexplained)) {
            StateAccount mean;
            mean.decided = means[h].decided;
            mean.band = means[h].band;
            add_share(mean, means[h], 1.0 / sum[h]);
            means[h] = mean;
        }
        out.account[h] = static_cast<std::int32_t>(accounts.size());
        accounts.push_back(means[h]);
    }
    // What is not known of the weather is off for hours, not for minutes.
    const double trust = row.panel || row.air ? 0.3 : 0.05;
    temper(sum, out.first ? 900.0 : out.step_s, trust, out);

    // With neither light nor temperature measured, volts and amps at a maximum tell both.
    const std::int32_t works = out.account[index_of(RowState::works)];
    if (row.panel || row.air || !s.volts || works < 0 || !(s.power_w > 0.0)) return;
    StateAccount& account = accounts[static_cast<std::size_t>(works)];
    const bool own = account.decided == Cause::less_light || account.decided == Cause::heat ||
                     account.decided == Cause::cable;
    if (!own) return;
    const std::optional<physics::Condition> weather = weather_of_maximum(s.voltage_v, s.current_a);
    if (!weather || weather->irradiance_w_per_m2 > 1.05 * brightest + 20.0) return;
    const StateAccount told = account_at(weather->irradiance_w_per_m2, weather->cell);
    const bool limited = std::any_of(told.limit_w.begin(), told.limit_w.end(), [](double w) { return w != 0.0; });
    if (!limited) account = told;
}

std::optional<physics::Condition> RowModel::weather_of_maximum(double voltage_v, double current_a) {
    physics::Condition c{stc_irradiance_w_per_m2 * current_a / label_a_, stc_cell};
    for (int step = 0; step < 30; ++step) {
        const ConditionTable::Place place = table_->at(c.irradiance_w_per_m2, c.cell);
        if (place.jumps() || !place.nearest().drawing || place.nearest().end != Cause::less_light) return std::nullopt;
        const Spot v = place.spot([](const Solved& x) { return x.held.voltage_v; });
        const Spot i = place.spot([](const Solved& x) { return x.held.current_a; });
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

Surprise RowModel::surprise_at(const Predicted& p, const Seen& s) {
    if (s.volts) {
        return surprise(p.volt_slope, p.amp_slope, s.voltage_v - p.voltage_v, s.current_a - p.current_a,
                        s.volt_var + p.var_v, s.amp_var + p.var_a, p.covariance);
    }
    const Slope watts = p.current_a * p.volt_slope + p.voltage_v * p.amp_slope;
    return surprise(watts, s.power_w - p.power_w(), s.watt_var + p.watt_var());
}

void RowModel::learn(const RowEvidence& row, double works_ratio) {
    if (!here_known_ || !here_.drawing || here_.held.power_w() <= accuracy_.display_w) return;
    const Local& l = here_;
    const Seen& s = seen_;
    const double step_s = row.first ? 0.0 : row.step_s;
    LogCalibration& c = learned_.calibration;
    const double irradiance = l.account.irradiance_w_per_m2;
    if (LimitFactor* f = factor_of(l.end, l.end_band)) {
        // As the meters show it, against the print. Where the array hardly reaches the limit it says nothing of it.
        const double sd_w = std::sqrt(s.watt_var + l.top.watt_var());
        const double amps_factor = c.amps_factor(irradiance);
        const double volts_factor = c.volts_factor(irradiance);
        double seen = 0.0;
        double noise_var = 0.0;
        double reached = surely((l.top.power_w() - l.held.power_w()) / sd_w - 1.5);
        if (l.end == Cause::power_limit) {
            seen = s.power_w * amps_factor * volts_factor / printed_.power_w;
            noise_var = s.watt_var / square(std::max(s.power_w, 1e-9)) + square(hunting_amp_ratio);
        } else if (l.end == Cause::current_limit) {
            seen = s.current_a * amps_factor / printed_.bands[l.end_band].limit_a;
            noise_var = s.amp_var / square(std::max(s.current_a, 1e-9)) + square(hunting_amp_ratio);
        } else {
            const bool low = l.end == Cause::below_window;
            seen = s.voltage_v * volts_factor / (low ? printed_.low_v : printed_.high_v);
            noise_var = s.volt_var / square(std::max(s.voltage_v, 1e-9)) + square(0.5 * hunting_volt_ratio);
            const double sd_v = std::sqrt(l.top.var_v + s.volt_var);
            reached = surely(std::abs(l.held.voltage_v - l.top.voltage_v) / sd_v - 2.0);
        }
        if (s.volts || l.end == Cause::power_limit) f->learn(seen, noise_var, works_ratio * reached, step_s);
    } else if (l.end == Cause::less_light) {
        c.see_noise(s.volts ? s.current_a / l.held.current_a - 1.0 : s.power_w / l.held.power_w() - 1.0, works_ratio);
    }
    c.learn(surprise_at(l.held, s), works_ratio * dusk_trust(irradiance), step_s);
}

void RowModel::remember(const Local& l, const Seen& s, double step_s) {
    std::swap(before_, after_);
    after_.clear();
    before_.known = l.drawing;
    before_.power_w = s.power_w;
    before_.drawing_w = l.held.power_w();
    if (!s.volts || s.nothing || !l.drawing) {
        steady_.known = false;
        return;
    }
    if (s.voltage_v < 0.9 * l.top.voltage_v) {
        constexpr double slow = 0.3;
        floor_.mean_v = floor_.known ? floor_.mean_v + slow * (s.voltage_v - floor_.mean_v) : s.voltage_v;
        floor_.known = true;
    }
    // Volts that stay for hours are told from those that drift with the cells' warmth.
    constexpr double same_ratio = 0.012;
    constexpr double longest_s = 7200.0;
    if (steady_.known && std::abs(s.voltage_v - steady_.mean_v) < same_ratio * steady_.mean_v) {
        steady_.lasted_s = std::min(steady_.lasted_s + step_s, longest_s);
        steady_.mean_v += (s.voltage_v - steady_.mean_v) * std::min(0.5, step_s / std::max(steady_.lasted_s, 1.0));
    } else {
        steady_ = {s.voltage_v, step_s, true};
    }
}

}  // namespace plait::measured
