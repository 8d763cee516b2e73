#include "log_sums.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double hour_s = 3600.0;
constexpr double day_s = 86400.0;
constexpr double shown_limit_h = 0.25;  // a limit met for less was hardly seen
constexpr double shade_ratio = 0.05;    // of what was possible in a row, to count its time of day as shaded

template <std::size_t N>
void totals(const std::array<Sum, N>& sums, std::array<double, N>& out) {
    for (std::size_t i = 0; i < N; ++i) out[i] = sums[i].total();
}

}  // namespace

void LogSums::Part::add(const ExplainedRow& row, double hours_h) {
    hours.add(hours_h);
    possible.add(hours_h * row.possible_w);
    expected.add(hours_h * row.expected_w);
    measured.add(hours_h * row.measured_w);
}

LogPart LogSums::Part::part() const { return {hours.total(), possible.total(), expected.total(), measured.total()}; }

void LogSums::add(const ExplainedRow& row, const RowEvidence& e, std::size_t rows) {
    const double h = row.hours_s / hour_s;
    rows_ += rows;
    irradiance_rows_ += row.row.irradiance_w_per_m2 ? rows : 0U;
    turned_rows_ += row.row.irradiance_is_turned ? rows : 0U;
    sun_rows_ += row.row.clear_w_per_m2 ? rows : 0U;
    if (row.row.clear_w_per_m2 && !(*row.row.clear_w_per_m2 > 0.0)) night_.add(h * row.measured_w);
    air_rows_ += row.row.air ? rows : 0U;
    panel_rows_ += row.row.panel ? rows : 0U;
    voltage_rows_ += row.row.voltage_v ? rows : 0U;
    charge_rows_ += row.row.charge_ratio ? rows : 0U;
    wall_rows_ += row.row.wall_w ? rows : 0U;
    label_.add(h * row.label_w);
    all_.add(row, h);
    if (row.row.wall_w) (*row.row.wall_w > display_w_ ? with_wall_ : without_wall_).add(row, h);
    if (row.possible_sd_w > 0.1 * row.label_w) open_.add(h);
    for (std::size_t c = 0; c < cause_count; ++c) {
        if (row.lost_w[c] != 0.0) lost_[c].add(h * row.lost_w[c]);
        if (row.probability_ratio[c] != 0.0) hours_[c].add(h * row.probability_ratio[c]);
    }
    const std::size_t limit = index_of(Cause::current_limit);
    const std::size_t band = std::min(row.band, most_bands - 1);
    if (row.lost_w[limit] != 0.0) band_lost_[band].add(h * row.lost_w[limit]);
    if (row.probability_ratio[limit] != 0.0) band_hours_[band].add(h * row.probability_ratio[limit]);
    const double untold_w = row.lost_w[index_of(Cause::untold)];
    if (untold_w != 0.0) untold_[static_cast<std::size_t>(row.untold_by)].add(h * untold_w);

    const double day = std::floor(row.row.time_s / day_s);
    if (days_ == 0 || day != day_) ++days_;
    day_ = day;
    const double shade_w = row.lost_w[index_of(Cause::shade)];
    if (shade_w > shade_ratio * row.possible_w && shade_w > 0.0) {
        const auto at = static_cast<std::size_t>((row.row.time_s - day * day_s) / day_s * day_parts) % day_parts;
        if (shade_days_[at] == 0 || shade_day_[at] != day) ++shade_days_[at];
        shade_day_[at] = day;
        shade_wh_[at] += h * shade_w;
        const double all = static_cast<double>(e.ahead[index_of(RowState::shade_all)]);
        const double part = static_cast<double>(e.ahead[index_of(RowState::shade_part)]);
        // Family 0 is shade on everything.
        Shade& s = shade_by_family_[all > part ? 0U : e.shade_part.family];
        const double light = all > part ? row.measured_w / std::max(row.expected_w, 1e-9)
                                        : static_cast<double>(e.shade_part.light_ratio);
        s.lost_wh += h * shade_w;
        s.light_wh += h * shade_w * light;
    }
    const double fixed_w = row.lost_w[index_of(Cause::fixed_voltage)];
    if (fixed_w > 0.0 && row.row.voltage_v) {
        fixed_wh_ += h * fixed_w;
        fixed_v_wh_ += h * fixed_w * *row.row.voltage_v;
    }
}

// Half hours that were shaded on more than one day, and on every other one at least.
std::vector<ShadeHours> LogSums::shade_hours(double measured_wh) const {
    std::vector<ShadeHours> all;
    for (std::size_t at = 0; at < day_parts; ++at) {
        if (shade_days_[at] < 2 || 2 * shade_days_[at] < days_) continue;
        const double from_h = 24.0 * static_cast<double>(at) / day_parts;
        if (!all.empty() && all.back().to_h == from_h) {
            all.back().days = std::max(all.back().days, shade_days_[at]);
        } else {
            all.push_back({from_h, from_h, shade_days_[at], 0.0});
        }
        all.back().to_h = 24.0 * static_cast<double>(at + 1) / day_parts;
        all.back().lost_wh += shade_wh_[at];
    }
    all.erase(std::remove_if(all.begin(), all.end(), [&](const ShadeHours& s) { return s.lost_wh < 0.01 * measured_wh; }),
              all.end());
    return all;
}

LogAccount LogSums::account(RowModel& model) const {
    LogAccount a;
    a.rows = rows_;
    a.irradiance_rows = irradiance_rows_;
    a.turned_rows = turned_rows_;
    a.sun_rows = sun_rows_;
    a.night_wh = night_.total();
    a.air_rows = air_rows_;
    a.panel_rows = panel_rows_;
    a.voltage_rows = voltage_rows_;
    a.charge_rows = charge_rows_;
    a.wall_rows = wall_rows_;
    a.logged_h = all_.hours.total();
    a.label_wh = label_.total();
    a.possible_wh = all_.possible.total();
    a.expected_wh = all_.expected.total();
    a.measured_wh = all_.measured.total();
    a.open_h = open_.total();
    totals(lost_, a.lost_wh);
    totals(hours_, a.hours_h);
    totals(band_lost_, a.band_wh);
    totals(band_hours_, a.band_h);
    totals(untold_, a.untold_wh);
    a.with_wall = with_wall_.part();
    a.without_wall = without_wall_.part();
    a.days = days_;
    a.shade_hours = shade_hours(a.measured_wh);
    if (fixed_wh_ > 0.01 * a.measured_wh) a.fixed_v = fixed_v_wh_ / fixed_wh_;
    const auto most = std::max_element(shade_by_family_.begin(), shade_by_family_.end(), [](const auto& x, const auto& y) {
        return x.second.lost_wh < y.second.lost_wh;
    });
    if (most != shade_by_family_.end() && most->second.lost_wh > 0.01 * a.measured_wh) {
        const ShadeFamily& f = model.families()[most->first];
        a.shade_seen = ShadeSeen{f.groups, f.panels, f.strings, most->second.light_wh / most->second.lost_wh,
                                 most->second.lost_wh};
    }
    const RowModel::Learned& learned = model.learned();
    const LogCalibration& c = learned.calibration;
    constexpr double usual_light = 700.0;
    if (irradiance_rows_ > 0) {
        a.biases = {c.light_factor() - 1.0, c.volts_factor(usual_light) - 1.0, c.amps_factor(usual_light) - 1.0};
    }
    const auto put = [&](const LimitFactor& f, Cause cause, std::size_t band, double printed) {
        if (f.seen_s < shown_limit_h * hour_s) return;
        const double half = 2.0 * std::sqrt(f.var);
        a.limits.push_back({cause, band, printed, f.mean_ratio * printed, (f.mean_ratio - half) * printed,
                            (f.mean_ratio + half) * printed, f.seen_s / hour_s});
    };
    put(learned.power, Cause::power_limit, 0, model.printed().power_w);
    put(learned.low_v, Cause::below_window, 0, model.printed().low_v);
    put(learned.high_v, Cause::above_window, 0, model.printed().high_v);
    for (std::size_t b = 0; b < learned.bands.size(); ++b) {
        put(learned.bands[b], Cause::current_limit, b, model.printed().bands[b].limit_a);
    }
    return a;
}

}  // namespace plait::measured
