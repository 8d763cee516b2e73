#include <plait/study/harvest_year.hpp>

#include "harvest_input.hpp"
#include "harvest_panels.hpp"

#include <plait/study/judgement.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace plait::study {
namespace {

UnstatedLosses unstated_of(const Setup& setup) {
    UnstatedLosses u;
    u.soiling = !setup.losses.soiling_ratio;
    u.snow = !setup.losses.snow_ratio;
    u.ageing = !setup.losses.ageing_per_year_ratio || !setup.losses.age_years;
    u.own_use = !setup.losses.own_use_w;
    u.conversion = !(setup.controller.efficiency_ratio < 1.0);
    u.cables = setup.cables.empty();
    u.shade = std::all_of(setup.planes.begin(), setup.planes.end(), [](const Plane& p) { return p.horizon.empty(); });
    return u;
}

}  // namespace

std::string_view name_of(HarvestLoss loss) {
    static constexpr std::array<std::string_view, harvest_loss_count> names{
        "shade",         "glass",       "soiling",      "snow",          "ageing",       "cells",
        "mismatch",      "cables",      "not-started",  "window-bottom", "window-top",   "band-edge",
        "current-limit", "power-limit", "charge-limit", "pinned",        "shared-limit", "conversion"};
    return names[static_cast<std::size_t>(loss)];
}

double HarvestSum::all_lost_wh() const {
    double sum = 0.0;
    for (const double wh : lost_wh) sum += wh;
    return sum;
}

double HarvestSum::from_panels_wh() const {
    double sum = delivered_wh;
    for (const HarvestLoss loss : losses_after_the_panels) sum += loss_wh(loss);
    return sum;
}

double HarvestSum::imbalance_ratio() const {
    const double off = ideal_wh - all_lost_wh() - delivered_wh;
    return ideal_wh > 0.0 ? off / ideal_wh : off;
}

class HarvestStudy::Impl {
public:
    Impl(const SystemModel& system, const LightSeries& light) : panels_(system, light) {}

    HarvestYear run(const ArrayPlan& plan) {
        const Setup& setup = panels_.system().setup();
        const LightSeries& light = panels_.light();
        const LitHours& lit = panels_.lit();
        HarvestYear year;
        year.unstated = unstated_of(setup);
        year.delivered_w.assign(light.hours.size(), 0.0);
        year.covered_h = light.step_h * static_cast<double>(light.hours.size() - light.unknown);
        year.own_use_wh = setup.losses.own_use_w.value_or(0.0) * year.covered_h;
        year.possible_w.assign(light.hours.size(), 0.0);
        year.limited_w.assign(light.hours.size(), 0.0);
        year.limited_by.assign(light.hours.size(), std::nullopt);
        limits_.assign(lit.size(), 0);
        largest_w_.assign(lit.size(), 0.0);
        std::vector<double> together_w(lit.size(), 0.0);
        for (std::size_t input = 0; input < plan.size(); ++input) {
            if (plan[input].empty()) continue;
            InputHarvest& here = year.inputs.emplace_back();
            here.input = input;
            add_panels(plan[input], year, here);
            const std::vector<InputHour> hours = input_hours(panels_, input, plan[input]);
            add_hours(hours, year, here);
            for (std::size_t k = 0; k < lit.size(); ++k) together_w[k] += hours[k].taken_w;
        }
        deliver(together_w, year);
        count_limited_hours(year);
        assert(std::abs(year.total.imbalance_ratio()) < 1e-9 && "every watt-hour is delivered or lost");
        return year;
    }

private:
    /// What the panels' planes, glass and cells do, panel by panel; up to each one's own maximum in full light.
    void add_panels(const InputWiring& wiring, HarvestYear& year, InputHarvest& here) {
        std::map<std::pair<std::size_t, std::size_t>, double> counts;
        for (const SeriesString& string : wiring.strings) {
            for (const PanelPlace& place : string.panels) {
                counts[{place.kind, plane_of(panels_.system().setup(), place)}] += 1.0;
            }
        }
        const auto take = [](HarvestSum& to, const HarvestSum& from, double count) {
            const double delivered_wh = to.delivered_wh;
            add(to, from, count);
            to.delivered_wh = delivered_wh;  // that is still to come
        };
        own_w_.assign(panels_.lit().size(), 0.0);
        for (const auto& [which, count] : counts) {
            const PanelSeries& one = panels_.of(which.first, which.second);
            take(here.sum, one.total, count);
            for (std::size_t m = 0; m < 12; ++m) take(year.months[m], one.months[m], count);
            for (std::size_t h = 0; h < 24; ++h) take(year.hours_of_day[h], one.hours_of_day[h], count);
            for (std::size_t k = 0; k < own_w_.size(); ++k) own_w_[k] += count * one.best_v[k] * one.best_a[k];
        }
    }

    void add_hours(const std::vector<InputHour>& hours, HarvestYear& year, InputHarvest& here) {
        const LitHours& lit = panels_.lit();
        const double step_h = panels_.light().step_h;
        here.taken_w.assign(panels_.light().hours.size(), 0.0);
        for (std::size_t k = 0; k < hours.size(); ++k) {
            const InputHour& h = hours[k];
            const double shade_wh = (own_w_[k] - h.own_w) * step_h;  // what the wiring says of its light
            const double mismatch_wh = (h.own_w - h.array_w) * step_h;
            const double cables_wh = (h.array_w - h.wired_w) * step_h;
            const double limit_wh = (h.wired_w - h.taken_w) * step_h;
            for (HarvestSum* sum : {&here.sum, &year.months[lit.month[k]], &year.hours_of_day[lit.hour[k]]}) {
                lost(*sum, HarvestLoss::shade) += shade_wh;
                lost(*sum, HarvestLoss::mismatch) += mismatch_wh;
                lost(*sum, HarvestLoss::cables) += cables_wh;
                lost(*sum, h.loss) += limit_wh;
            }
            year.possible_w[lit.index[k]] += h.own_w;
            here.sum.delivered_wh += h.taken_w * step_h;
            here.taken_w[lit.index[k]] = h.taken_w;
            here.highest_w = std::max(here.highest_w, h.taken_w);
            if (h.taken_w > 0.0) here.running_h += step_h;
            if (h.wired_w - h.taken_w > least_share * h.wired_w) {
                here.limited_h[static_cast<std::size_t>(h.loss)] += step_h;
                limited(year, k, h.loss, h.wired_w - h.taken_w);
            }
        }
    }

    /// A limit takes so many watts in a lit hour.
    void limited(HarvestYear& year, std::size_t k, HarvestLoss by, double lost_w) {
        const std::size_t interval = panels_.lit().index[k];
        year.limited_w[interval] += lost_w;
        limits_[k] |= 1U << static_cast<unsigned>(by);
        if (lost_w > largest_w_[k]) {
            largest_w_[k] = lost_w;
            year.limited_by[interval] = by;
        }
    }

    void count_limited_hours(HarvestYear& year) const {
        for (const std::uint32_t limits : limits_) {
            for (std::size_t loss = 0; loss < harvest_loss_count && limits != 0; ++loss) {
                if ((limits >> loss & 1U) != 0) year.limited_h[loss] += panels_.light().step_h;
            }
        }
    }

    void deliver(const std::vector<double>& together_w, HarvestYear& year) {
        const Setup& setup = panels_.system().setup();
        const LitHours& lit = panels_.lit();
        const double step_h = panels_.light().step_h;
        const HarvestLoss by = lower_limit_on_all(setup.controller);
        for (std::size_t k = 0; k < together_w.size(); ++k) {
            const double shared = shared_w(setup.controller, together_w[k]);
            const double delivered = shared * setup.controller.efficiency_ratio;
            for (HarvestSum* sum : {&year.months[lit.month[k]], &year.hours_of_day[lit.hour[k]]}) {
                lost(*sum, by) += (together_w[k] - shared) * step_h;
                lost(*sum, HarvestLoss::conversion) += (shared - delivered) * step_h;
                sum->delivered_wh += delivered * step_h;
            }
            if (together_w[k] - shared > least_share * together_w[k]) limited(year, k, by, together_w[k] - shared);
            year.delivered_w[lit.index[k]] = delivered;
        }
        for (const HarvestSum& month : year.months) add(year.total, month, 1.0);
    }

    // Below this share of the array's best, a limit takes nothing but rounding.
    static constexpr double least_share = 1e-9;

    PanelHarvest panels_;
    std::vector<double> own_w_;  // of the input at hand: every panel in full light
    // By lit hour: a bit for each limit that took something, and the most that one took.
    std::vector<std::uint32_t> limits_;
    std::vector<double> largest_w_;
};

HarvestStudy::HarvestStudy(const SystemModel& system, const LightSeries& light)
    : impl_(std::make_unique<Impl>(system, light)) {}
HarvestStudy::~HarvestStudy() = default;
HarvestStudy::HarvestStudy(HarvestStudy&&) noexcept = default;
HarvestStudy& HarvestStudy::operator=(HarvestStudy&&) noexcept = default;

HarvestYear HarvestStudy::run(const ArrayPlan& plan) { return impl_->run(plan); }

}  // namespace plait::study
