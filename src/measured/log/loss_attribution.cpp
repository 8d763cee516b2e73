// From how probable each hypothesis is to what a row lost, and to whom.
#include "log_figures.hpp"
#include "log_hypotheses.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double hardly_ratio = 1e-3;  // a hypothesis less probable than this does not need its own weather

}  // namespace

// Where everything works: the limit that is met, or else the costliest of light, heat and cables. Where only the cables
// bring the array to a limit, they decide.
Cause RowModel::decided_by(const Yield& y) const {
    if (y.end != Cause::less_light) return y.limit != Cause::less_light ? y.end : Cause::cable;
    const double dark_w = label_w_ - y.cool_w;
    const double heat_w = y.cool_w - y.free_w;
    const double cable_w = y.cableless_w - y.held_w;
    if (cable_w > std::max(dark_w, heat_w)) return Cause::cable;
    return heat_w > dark_w ? Cause::heat : Cause::less_light;
}

Cause RowModel::cause_of(std::size_t hypothesis) const {
    switch (hypothesis) {
        case works:
            return Cause::scatter;
        case waiting:
            return Cause::below_window;
        case tripped:
            return Cause::tripped;
        case battery:
        case stopped:
            return Cause::battery;
        case wall:
            return Cause::wall;
        case display:
            return Cause::display;
        case shaded:
            return Cause::shade;
        case unexplained:
            return Cause::unexplained;
        default:
            return table_.variants()[hypothesis - faults + 1].cause;
    }
}

Surprise RowModel::surprise_at(const Predicted& p, const Seen& s) {
    const Slope volts = p.volt_slope();
    const Slope amps = p.amp_slope();
    if (s.volts) {
        return surprise(volts, amps, s.voltage_v - p.voltage_v.value, s.current_a - p.current_a.value,
                        s.volt_var + p.var_v, s.amp_var + p.var_a, p.covariance);
    }
    Slope watts{};
    for (std::size_t i = 0; i < bias_count; ++i) {
        watts[i] = p.current_a.value * volts[i] + p.voltage_v.value * amps[i];
    }
    return surprise(watts, s.power_w - p.power_w(), s.watt_var + p.watt_var());
}

RowModel::Yield RowModel::learned_yield(const Local& l, const Predicted& p, const Seen& s) {
    const Surprise seen = surprise_at(p, s);
    const double irradiance =
        std::clamp(l.yield.irradiance_w_per_m2 + seen.share_of(l.covariance, 0), 0.0, most_irradiance_w_per_m2);
    const Celsius cell = l.yield.cell + seen.share_of(l.covariance, 1);
    return yield_at(table_.at(irradiance, cell), irradiance, cell);
}

RowModel::Weights RowModel::posterior(const Weights& before) {
    like_ = {};
    for (const Entry& e : entries_) like_[e.hypothesis] += e.density;
    Weights post{};
    double sum = 0.0;
    for (std::size_t h = 0; h < hypothesis_count; ++h) {
        post[h] = before[h] * like_[h];
        sum += post[h];
    }
    for (double& p : post) p /= sum;
    return post;
}

void RowModel::attribute(const Seen& s, bool light_known, ExplainedRow& out) {
    double free2 = 0.0;
    double cell_degc = 0.0;
    const auto lose = [&](Cause c, double w) { out.lost_w[index_of(c)] += w; };
    for (const Entry& e : entries_) {
        const double part = last_[e.hypothesis] * e.density / like_[e.hypothesis];
        if (!(part > 0.0)) continue;
        const bool holds = e.hypothesis == works || e.hypothesis >= faults;
        const std::size_t variant = e.hypothesis >= faults ? e.hypothesis - faults + 1 : 0;
        const bool learns = light_known && holds && part > hardly_ratio && e.local->held[variant].power_w() > 0.0;
        const Yield y = learns ? learned_yield(*e.local, e.local->held[variant], s) : e.local->yield;
        const double sun_w = label_w_ * y.irradiance_w_per_m2 / stc_irradiance_w_per_m2;
        out.possible_w += part * y.free_w;
        out.expected_w += part * y.held_w;
        out.expected_v += part * y.held_v;
        out.irradiance_w_per_m2 += part * y.irradiance_w_per_m2;
        cell_degc += part * y.cell.degc;
        free2 += part * square(y.free_w);
        lose(Cause::less_light, part * (label_w_ - sun_w));
        lose(Cause::array, part * (sun_w - y.cool_w));
        lose(Cause::heat, part * (y.cool_w - y.free_w));
        lose(y.limit, part * (y.free_w - y.cableless_w));
        lose(Cause::cable, part * (y.cableless_w - y.held_w));
        if (y.limit == Cause::current_limit) out.band_lost_w[y.band] += part * (y.free_w - y.cableless_w);
        const Cause cause = cause_of(e.hypothesis);
        lose(cause, part * (y.held_w - out.measured_w));
        const Cause by = cause == Cause::scatter ? decided_by(y) : cause;
        out.probability_ratio[index_of(by)] += part;
        if (by == Cause::current_limit) out.band_ratio[y.band] += part;
    }
    out.cell = Celsius{cell_degc};
    if (!light_known) out.possible_sd_w = std::sqrt(std::max(0.0, free2 - square(out.possible_w)));
    out.cause = static_cast<Cause>(std::max_element(out.probability_ratio.begin(), out.probability_ratio.end()) -
                                   out.probability_ratio.begin());
}

// With neither light nor temperature measured, volts and amps at a maximum tell both.
void RowModel::refine(const Seen& s, ExplainedRow& out) {
    const double own = out.probability_ratio[index_of(Cause::less_light)] +
                       out.probability_ratio[index_of(Cause::heat)] + out.probability_ratio[index_of(Cause::cable)];
    if (!s.volts || own < 0.5 || !(s.power_w > 0.0)) return;
    const std::optional<physics::Condition> weather = weather_of_maximum(s.voltage_v, s.current_a);
    if (!weather) return;
    const Yield y =
        yield_at(table_.at(weather->irradiance_w_per_m2, weather->cell), weather->irradiance_w_per_m2, weather->cell);
    if (y.limit != Cause::less_light || y.end != Cause::less_light) return;
    // The losses stay with their causes; only light, array, heat, cables and scatter share the same sum anew.
    const double sun_w = label_w_ * y.irradiance_w_per_m2 / stc_irradiance_w_per_m2;
    ByCause<double>& lost = out.lost_w;
    const double rest_w = lost[index_of(Cause::less_light)] + lost[index_of(Cause::array)] +
                          lost[index_of(Cause::heat)] + lost[index_of(Cause::cable)] + lost[index_of(Cause::scatter)];
    lost[index_of(Cause::less_light)] = label_w_ - sun_w;
    lost[index_of(Cause::array)] = sun_w - y.cool_w;
    lost[index_of(Cause::heat)] = y.cool_w - y.free_w;
    lost[index_of(Cause::cable)] = y.free_w - y.held_w;
    lost[index_of(Cause::scatter)] = rest_w - (label_w_ - y.held_w);
    out.possible_w = y.free_w;
    out.expected_w = y.held_w;
    out.expected_v = y.held_v;
    out.irradiance_w_per_m2 = y.irradiance_w_per_m2;
    out.cell = y.cell;
    out.possible_sd_w = 0.0;
}

std::optional<physics::Condition> RowModel::weather_of_maximum(double voltage_v, double current_a) {
    physics::Condition c{stc_irradiance_w_per_m2 * current_a / label_a_, stc_cell};
    for (int step = 0; step < 30; ++step) {
        const ConditionTable::Place place = table_.at(c.irradiance_w_per_m2, c.cell);
        if (place.jumps() || !place.nearest().drawing || place.nearest().end != Cause::less_light) return std::nullopt;
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

}  // namespace plait::measured
