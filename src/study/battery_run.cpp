#include <plait/study/battery_run.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace plait::study {
namespace {

constexpr double minute_h = 1.0 / 60.0;
constexpr double all_but_full = 1e-9;  // of the capacity

bool covers(const HourlyPower& p, double local_h) {
    return p.from_h < p.to_h ? local_h >= p.from_h && local_h < p.to_h : local_h >= p.from_h || local_h < p.to_h;
}

double load_at_w(const Storage& s, double local_h) {
    double sum = 0.0;
    for (const HourlyPower& p : s.loads) sum += covers(p, local_h) ? p.power_w : 0.0;
    return sum;
}

double wall_at_w(const Storage& s, double local_h) {
    if (!s.wall) return 0.0;
    if (s.wall->hours.empty()) return s.wall->limit_w;
    double most = 0.0;
    for (const HourlyPower& p : s.wall->hours) {
        if (covers(p, local_h))
            most = std::max(most, p.power_w > 0.0 ? std::min(p.power_w, s.wall->limit_w) : s.wall->limit_w);
    }
    return most;
}

/// How far toward full, 0 at the taper's beginning, 1 at full.
double taper_share(const Storage& s, double charge_ratio) {
    if (!s.taper_from_ratio || !(*s.taper_from_ratio < 1.0)) return 0.0;
    return std::clamp((charge_ratio - *s.taper_from_ratio) / (1.0 - *s.taper_from_ratio), 0.0, 1.0);
}

/// Offered to the battery, and what of it may come: sun and wall within what they may give together.
struct Offer {
    double solar_w = 0.0;
    double wall_w = 0.0;
    bool combined_cuts = false;
};
Offer together(const Storage& s, double solar_w, double wall_w) {
    Offer offer{solar_w, wall_w, false};
    if (!s.wall || !s.wall->combined_w || !(wall_w > 0.0)) return offer;
    const double most = *s.wall->combined_w;
    if (solar_w + wall_w <= most) return offer;
    offer.combined_cuts = true;
    if (s.wall->wall_goes_first) {
        offer.wall_w = std::min(wall_w, most);
        offer.solar_w = std::min(solar_w, most - offer.wall_w);
    } else {
        offer.solar_w = std::min(solar_w, most);
        offer.wall_w = std::min(wall_w, most - offer.solar_w);
    }
    return offer;
}

/// One minute of the battery.
struct Minute {
    double solar_used_w = 0.0;
    double wall_w = 0.0;
    double load_w = 0.0;
    double into_w = 0.0;    ///< put into the battery
    double stored_w = 0.0;  ///< what of it stays
    double drawn_w = 0.0;   ///< from what is stored, for the loads
    double drain_w = 0.0;
    ChargeLimit limit = ChargeLimit::idle;
};

class Runner {
public:
    Runner(const Storage& s, double start_ratio) : s_(s), stored_wh_(start_ratio * s.capacity_wh) {}

    [[nodiscard]] double ratio() const { return stored_wh_ / s_.capacity_wh; }

    Minute advance(double solar_w, double wall_w, double load_w, bool cold, double dt_h) {
        Minute m;
        // Loads take the sun first, then the wall, then the battery.
        const double load_by_sun = std::min(load_w, solar_w);
        const double load_by_wall = std::min(load_w - load_by_sun, wall_w);
        double rest_w = load_w - load_by_sun - load_by_wall;
        m.drain_w = std::min(s_.standing_drain_w, stored_wh_ / dt_h);
        stored_wh_ -= m.drain_w * dt_h;
        if (rest_w > 0.0) {
            const double floor_wh = (1.0 - s_.usable_ratio) * s_.capacity_wh;
            const double at_hand_w = std::max(0.0, stored_wh_ - floor_wh) / dt_h;
            m.drawn_w = std::min(rest_w / s_.discharge_efficiency_ratio, at_hand_w);
            rest_w -= m.drawn_w * s_.discharge_efficiency_ratio;
            stored_wh_ -= m.drawn_w * dt_h;
        }
        m.load_w = load_w - std::max(rest_w, 0.0);
        charge(m, solar_w - load_by_sun, wall_w - load_by_wall, cold, dt_h);
        m.solar_used_w += load_by_sun;
        m.wall_w += load_by_wall;
        return m;
    }

private:
    void charge(Minute& m, double solar_w, double wall_w, bool cold, double dt_h) {
        if (!(solar_w + wall_w > 0.0)) return;
        if (cold) {
            m.limit = ChargeLimit::cold;
            return;
        }
        const double here = ratio();
        if (here >= 1.0 - all_but_full) {
            m.limit = ChargeLimit::full;
            return;
        }
        const Offer offer = together(s_, solar_w, wall_w);
        const double efficiency = charge_efficiency_ratio(s_, here);
        const double by_taper = charge_limit_w(s_, here);
        const double by_room = (s_.capacity_wh - stored_wh_) / dt_h / efficiency;
        const double offered = offer.solar_w + offer.wall_w;
        m.into_w = std::min({offered, by_taper, by_room});
        if (m.into_w < offered) {
            const bool tapered = taper_share(s_, here) > 0.0;
            m.limit = by_room < by_taper ? ChargeLimit::full : tapered ? ChargeLimit::taper : ChargeLimit::rate;
        } else {
            m.limit = offer.combined_cuts ? ChargeLimit::combined : ChargeLimit::offer;
        }
        // Who steps back: the wall, where the sun goes first.
        const bool wall_first = s_.wall && s_.wall->wall_goes_first;
        if (wall_first) {
            m.wall_w = std::min(offer.wall_w, m.into_w);
            m.solar_used_w = m.into_w - m.wall_w;
        } else {
            m.solar_used_w = std::min(offer.solar_w, m.into_w);
            m.wall_w = m.into_w - m.solar_used_w;
        }
        m.stored_w = m.into_w * efficiency;
        stored_wh_ = std::min(stored_wh_ + m.stored_w * dt_h, s_.capacity_wh);
    }

    const Storage& s_;
    double stored_wh_;
};

}  // namespace

std::string_view name_of(ChargeLimit limit) {
    static constexpr std::array<std::string_view, charge_limit_count> names{"idle",  "offer", "rate", "combined",
                                                                            "taper", "full",  "cold"};
    return names[static_cast<std::size_t>(limit)];
}

double charge_limit_w(const Storage& storage, double charge_ratio) {
    const double most = storage.charge_limit_w.value_or(std::numeric_limits<double>::infinity());
    return most * (1.0 - (1.0 - storage.taper_end_ratio) * taper_share(storage, charge_ratio));
}

double charge_efficiency_ratio(const Storage& storage, double charge_ratio) {
    const double full = storage.full_efficiency_ratio.value_or(storage.charge_efficiency_ratio);
    return storage.charge_efficiency_ratio +
           (full - storage.charge_efficiency_ratio) * taper_share(storage, charge_ratio);
}

double daily_load_wh(const Storage& storage) {
    double sum = 0.0;
    for (const HourlyPower& p : storage.loads) {
        const double h = p.from_h < p.to_h ? p.to_h - p.from_h : 24.0 - p.from_h + p.to_h;
        sum += p.power_w * h;
    }
    return sum;
}

double daily_drain_wh(const Storage& storage) { return 24.0 * storage.standing_drain_w; }

std::optional<double> autonomy_days(const Storage& storage) {
    const double a_day_wh =
        daily_load_wh(storage) / storage.discharge_efficiency_ratio + daily_drain_wh(storage);
    if (!(a_day_wh > 0.0)) return std::nullopt;
    return storage.capacity_wh * storage.usable_ratio / a_day_wh;
}

double BatteryRun::imbalance_ratio(double capacity_wh) const {
    const double in = taken_wh();
    const double out = load_wh + drain_wh + lost_wh();
    const double stored = gained_wh(capacity_wh);
    const double scale = std::max({in, out, capacity_wh});
    return scale > 0.0 ? (in - out - stored) / scale : 0.0;
}

HighestCharge BatteryRun::highest() const {
    HighestCharge most{start_ratio, 0.0};
    for (const BatteryStep& step : steps) {
        // A rounding of the last bits is no rise.
        if (step.charge_ratio > most.charge_ratio + 1e-9) most = {step.charge_ratio, step.to_h()};
    }
    return most;
}

BatteryRun battery_run(const Storage& storage, const LightSeries& light, std::span<const double> solar_w,
                       const BatteryAsk& ask) {
    assert(storage.capacity_wh > 0.0 && solar_w.size() == light.hours.size());
    BatteryRun run;
    const std::size_t end = ask.count == 0 ? light.hours.size() : std::min(light.hours.size(), ask.first + ask.count);
    const auto minutes = static_cast<std::size_t>(std::max(1.0, std::ceil(light.step_h / minute_h - 1e-9)));
    const double dt_h = light.step_h / static_cast<double>(minutes);
    Runner battery(storage, ask.start_ratio);
    run.start_ratio = run.end_ratio = run.lowest_ratio = ask.start_ratio;
    if (ask.target_ratio && ask.start_ratio >= *ask.target_ratio) run.target_h = 0.0;
    double elapsed_h = 0.0;
    double at_h = 0.0;
    for (std::size_t i = ask.first; i < end; ++i) {
        const LightHour& h = light.hours[i];
        const bool cold = h.air + storage.warmer_than_air_k < storage.coldest_charging;
        BatteryStep step;
        step.from_h = at_h;
        std::array<double, charge_limit_count> share{};
        bool short_of = false;
        const auto skipped = static_cast<std::size_t>(i == ask.first ? std::lround(ask.skipped_h / dt_h) : 0);
        const std::size_t begin = std::min(skipped, minutes - 1);
        const double weight = 1.0 / static_cast<double>(minutes - begin);
        step.run_h = dt_h * static_cast<double>(minutes - begin);
        for (std::size_t k = begin; k < minutes; ++k) {
            const double local_h = std::fmod(h.local_h + (static_cast<double>(k) + 0.5) * dt_h, 24.0);
            const double load_w = load_at_w(storage, local_h);
            const double before = battery.ratio();
            const Minute m = battery.advance(solar_w[i], wall_at_w(storage, local_h), load_w, cold, dt_h);
            step.solar_used_w += m.solar_used_w * weight;
            const double away_w = std::max(0.0, solar_w[i] - m.solar_used_w);  // less than nothing is rounding
            step.turned_away_w += away_w * weight;
            step.wall_w += m.wall_w * weight;
            step.load_w += m.load_w * weight;
            step.unserved_w += std::max(0.0, load_w - m.load_w) * weight;
            short_of = short_of || load_w - m.load_w > 1e-9 * load_w;
            run.drain_wh += m.drain_w * dt_h;
            run.charge_loss_wh += (m.into_w - m.stored_w) * dt_h;
            run.discharge_loss_wh += m.drawn_w * (1.0 - storage.discharge_efficiency_ratio) * dt_h;
            share[static_cast<std::size_t>(m.limit)] += weight;
            run.limited_h[static_cast<std::size_t>(m.limit)] += dt_h;
            run.turned_away_by_wh[static_cast<std::size_t>(m.limit)] += away_w * dt_h;
            const double after = battery.ratio();
            run.lowest_ratio = std::min(run.lowest_ratio, after);
            if (ask.target_ratio && !run.target_h && after >= *ask.target_ratio - all_but_full) {
                const double part = after > before ? (*ask.target_ratio - before) / (after - before) : 1.0;
                run.target_h = elapsed_h + std::clamp(part, 0.0, 1.0) * dt_h;
            }
            elapsed_h += dt_h;
        }
        step.charge_ratio = battery.ratio();
        step.limit = static_cast<ChargeLimit>(std::max_element(share.begin(), share.end()) - share.begin());
        run.solar_used_wh += step.solar_used_w * step.run_h;
        run.turned_away_wh += step.turned_away_w * step.run_h;
        run.wall_wh += step.wall_w * step.run_h;
        run.load_wh += step.load_w * step.run_h;
        run.unserved_wh += step.unserved_w * step.run_h;
        if (short_of) run.unserved_h += step.run_h;
        run.steps.push_back(step);
        at_h = step.to_h();
    }
    run.end_ratio = battery.ratio();
    assert(std::abs(run.imbalance_ratio(storage.capacity_wh)) < 1e-9 && "every watt-hour is somewhere");
    return run;
}

}  // namespace plait::study
