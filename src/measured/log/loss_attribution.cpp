#include "loss_attribution.hpp"

#include "log_figures.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double hardly_ratio = 1e-4;
constexpr double dark_ratio = 0.003;  // of the label: so little is dusk, and nobody's fault
/// Where the array's possible watts are known to no better than this share of the label, the rest is not told.
constexpr double open_ratio = 0.03;
/// A loss is told where its likeliest cause has at least this share of what is probable beside that all works.
constexpr double told_ratio = 0.7;

/// How sure it is at least that a display hides what is to be had, where nothing shown is charged to it.
constexpr float least_hidden = 0.1F;

bool works(std::size_t state) { return state == index_of(RowState::works); }

// Where a cause that goes on does not hold the array, and in the dark, everything works.
bool costs_nothing(RowState state, const RowEvidence& e, const StateAccount& y, double label_w) {
    return (state == RowState::slow_tracker && !e.lags) || (state == RowState::wall && !e.wall_holds) ||
           (std::max(y.free_w, e.measured_w) < dark_ratio * label_w && state != RowState::waiting &&
            state != RowState::display);
}

// What gives watts, if fewer, gives fewer than a display shows where all of it is hidden: nothing shown then says of these no
// more than that everything works, and is the display's.
bool hidden_as_well(RowState state) {
    return state == RowState::works || state == RowState::shade_all || state == RowState::shade_part ||
           state == RowState::local_maximum || state == RowState::fixed_voltage || state == RowState::slow_tracker;
}

// Which column would part the two likeliest causes.
Teller teller_of(RowState a, RowState b, const RowEvidence& e) {
    const auto battery = [](RowState s) { return s == RowState::slowing || s == RowState::stopped; };
    if (!e.row.voltage_v) return Teller::voltage;
    if ((battery(a) || battery(b)) && !e.row.charge_ratio) return Teller::charge;
    if ((battery(a) || battery(b)) && !e.row.wall_w) return Teller::wall;
    return Teller::nothing;
}

}  // namespace

ExplainedRow attributed(const RowEvidence& e, const std::vector<StateAccount>& accounts, const RowModel& model) {
    ExplainedRow out;
    out.row = e.row;
    out.label_w = model.label_w();
    out.measured_w = e.measured_w;
    ByCause<double>& lost = out.lost_w;
    double free2 = 0.0;
    double cell_degc = 0.0;
    double sum = 0.0;
    for (std::size_t h = 0; h < state_count; ++h) {
        if (e.account[h] >= 0 && static_cast<double>(e.ahead[h]) > hardly_ratio) sum += static_cast<double>(e.ahead[h]);
    }
    const bool hides = e.priors.little >= least_hidden && !(e.measured_w > 0.0);
    double band_part = 0.0;
    ByState<double> own{};   // what each state's own cause lost
    ByState<bool> nothing_lost{};
    double beside = 0.0;     // how probable it is that something does not work
    std::size_t likeliest = 0;
    std::size_t second = 0;
    double most = 0.0;
    double next = 0.0;
    for (std::size_t h = 0; h < state_count; ++h) {
        const double p = static_cast<double>(e.ahead[h]);
        if (e.account[h] < 0 || !(p > hardly_ratio)) continue;
        const double part = p / sum;
        const StateAccount& y = accounts[static_cast<std::size_t>(e.account[h])];
        const double sun_w = out.label_w * y.irradiance_w_per_m2 / stc_irradiance_w_per_m2;
        out.possible_w += part * y.free_w;
        out.expected_w += part * y.held_w;
        out.expected_v += part * y.held_v;
        out.irradiance_w_per_m2 += part * y.irradiance_w_per_m2;
        cell_degc += part * y.cell_degc;
        free2 += part * y.free2_w2;
        const auto lose = [&](Cause c, double w) { lost[index_of(c)] += part * w; };
        lose(Cause::less_light, out.label_w - sun_w);
        lose(Cause::array, sun_w - y.cool_w);
        lose(Cause::heat, y.cool_w - y.free_w);
        double limits_w = 0.0;
        for (std::size_t i = 0; i < limit_causes.size(); ++i) {
            lose(limit_causes[i], y.limit_w[i]);
            limits_w += y.limit_w[i];
        }
        lose(Cause::array, y.free_w - y.cableless_w - limits_w);  // zero but for rounding
        lose(Cause::cable, y.cableless_w - y.held_w);
        if (part > band_part && y.limit_w[1] != 0.0) {
            band_part = part;
            out.band = y.band;
        }
        const auto state = static_cast<RowState>(h);
        Cause cause = model.cause_of(state);
        double own_w = y.held_w - e.measured_w;
        const bool nothing = costs_nothing(state, e, y, out.label_w);
        if (nothing) cause = Cause::scatter;
        if (hides && hidden_as_well(state)) cause = Cause::display;
        nothing_lost[h] = nothing;
        if (state == RowState::local_maximum) {
            const double shade_w = std::clamp(y.held_w - e.local.possible_w, 0.0, std::max(0.0, own_w));
            lose(Cause::shade, shade_w);
            own_w -= shade_w;
        }
        lose(cause, own_w);
        own[h] = part * own_w;
        const Cause by = cause == Cause::scatter ? y.decided : cause;
        out.probability_ratio[index_of(by)] += part;
        if (cause == Cause::scatter) continue;
        beside += part;
        // States of one cause are one answer.
        if (part > most) {
            if (model.cause_of(static_cast<RowState>(likeliest)) != cause) {
                next = most;
                second = likeliest;
            }
            most = part;
            likeliest = h;
        } else if (part > next && model.cause_of(static_cast<RowState>(likeliest)) != cause) {
            next = part;
            second = h;
        }
    }
    out.cell = Celsius{cell_degc};
    const double open_w = std::sqrt(std::max(0.0, free2 - square(out.possible_w)));
    out.possible_sd_w = e.row.irradiance_w_per_m2 ? 0.0 : open_w;
    const auto untell = [&](Cause c, double w) {
        lost[index_of(c)] -= w;
        lost[index_of(Cause::untold)] += w;
    };
    const double lost_all_w = out.label_w - e.measured_w;
    if (!e.row.irradiance_w_per_m2) {
        // What the light might be more or less by is nobody's, and so is what a cause takes that is none too probable.
        for (std::size_t h = 0; h < state_count; ++h) {
            const double p = static_cast<double>(e.ahead[h]) / sum;
            // Volts alone do not part a battery that slows down from a cool day.
            const bool cool = h == index_of(RowState::slowing) && !e.row.air && !e.row.panel;
            if (works(h) || own[h] == 0.0 || nothing_lost[h] || (p >= told_ratio && !cool)) continue;
            const Cause c = model.cause_of(static_cast<RowState>(h));
            untell(c, own[h]);
            out.untold_by = Teller::irradiance;
        }
        const double open_share = open_w > open_ratio * out.label_w ? std::min(1.0, 2.0 * open_w / std::max(lost_all_w, 1e-9)) : 0.0;
        if (open_share > 0.0) {
            for (double& w : lost) w *= 1.0 - open_share;
            lost[index_of(Cause::untold)] += open_share * lost_all_w;
            out.untold_by = Teller::irradiance;
        }
    } else if (beside > 0.0 && next > (1.0 - told_ratio) * (most + next)) {
        // Where no column would tell, the probabilities do.
        out.untold_by = teller_of(static_cast<RowState>(likeliest), static_cast<RowState>(second), e);
    }
    if (out.untold_by != Teller::nothing && out.untold_by != Teller::irradiance) {
        for (std::size_t h = 0; h < state_count; ++h) {
            const auto state = static_cast<RowState>(h);
            const Cause c = model.cause_of(state);
            if (works(h) || own[h] == 0.0 || nothing_lost[h]) continue;
            untell(c, own[h]);
            const double p = static_cast<double>(e.ahead[h]) / sum;
            out.probability_ratio[index_of(c)] -= p;
            out.probability_ratio[index_of(Cause::untold)] += p;
        }
    }
    out.cause = static_cast<Cause>(std::max_element(out.probability_ratio.begin(), out.probability_ratio.end()) -
                                   out.probability_ratio.begin());
    return out;
}

}  // namespace plait::measured
