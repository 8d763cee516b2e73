#include "harvest_panels.hpp"

#include <plait/physics/wind_warming.hpp>

#include <algorithm>

namespace plait::study {
namespace {

double years_left_ratio(const StatedLosses& losses) {
    if (!losses.ageing_per_year_ratio || !losses.age_years) return 1.0;
    return std::max(0.0, 1.0 - *losses.ageing_per_year_ratio * *losses.age_years);
}

double after_soiling_ratio(const StatedLosses& losses) { return 1.0 - losses.soiling_ratio.value_or(0.0); }

double after_snow_ratio(const StatedLosses& losses, std::size_t month) {
    return losses.snow_ratio ? 1.0 - (*losses.snow_ratio)[month] : 1.0;
}

}  // namespace

void add(HarvestSum& to, const HarvestSum& from, double times) {
    to.ideal_wh += times * from.ideal_wh;
    for (std::size_t i = 0; i < harvest_loss_count; ++i) to.lost_wh[i] += times * from.lost_wh[i];
    to.delivered_wh += times * from.delivered_wh;
}

PanelHarvest::PanelHarvest(const SystemModel& system, const LightSeries& light) : system_(system), light_(light) {
    for (std::size_t i = 0; i < light.hours.size(); ++i) {
        const LightHour& h = light.hours[i];
        const bool any = h.known && std::any_of(light.planes.begin(), light.planes.end(),
                                                [i](const PlaneSeries& p) { return p.open_w_per_m2[i] > 0.0; });
        if (!any) continue;
        lit_.follows.push_back(!lit_.index.empty() && lit_.index.back() + 1 == i ? 1 : 0);
        lit_.index.push_back(static_cast<std::uint32_t>(i));
        lit_.month.push_back(static_cast<std::uint8_t>(h.month - 1));
        lit_.hour.push_back(static_cast<std::uint8_t>(std::min(23, static_cast<int>(h.local_h + 1e-9))));
    }
}

double PanelHarvest::kept_ratio(std::size_t month) const {
    const StatedLosses& losses = system_.setup().losses;
    return after_soiling_ratio(losses) * after_snow_ratio(losses, month) * years_left_ratio(losses);
}

const PanelSeries& PanelHarvest::of(std::size_t kind, std::size_t plane) {
    std::unique_ptr<PanelSeries>& series = made_[{kind, plane}];
    if (!series) series = make(kind, plane);
    return *series;
}

std::unique_ptr<PanelSeries> PanelHarvest::make(std::size_t kind, std::size_t plane) const {
    auto out = std::make_unique<PanelSeries>();
    const Setup& setup = system_.setup();
    const Panel& panel = setup.kinds[kind].panel;
    const StatedLosses& losses = setup.losses;
    const std::optional<Mounting> own = plane < setup.planes.size() ? setup.planes[plane].mounting : std::nullopt;
    const Mounting mounting = own.value_or(setup.site.mounting);
    const PlaneSeries& light = light_.planes[plane];
    const std::size_t count = lit_.size();
    out->conditions.reserve(count);
    out->curves.reserve(count);
    for (std::size_t k = 0; k < count; ++k) {
        const std::size_t i = lit_.index[k];
        const double rise_k = physics::rise_above_air_in_wind_k(panel, mounting, light_.warming,
                                                                light.light_w_per_m2[i], light_.hours[i].wind_m_per_s);
        const double cell_degc = std::clamp((light_.hours[i].air + rise_k).degc, -60.0, 150.0);  // where curves hold
        out->conditions.push_back({light.entering_w_per_m2[i] * kept_ratio(lit_.month[k]), {cell_degc}});
        out->curves.add(system_.fitted(kind).model.at(out->conditions.back()));
    }
    out->best_v.resize(count);
    out->best_a.resize(count);
    physics::maximum_power_points(out->curves, out->best_v, out->best_a);

    const double rated_per_light = panel.pmax_w / stc_irradiance_w_per_m2 * light_.step_h;
    for (std::size_t k = 0; k < count; ++k) {
        const std::size_t i = lit_.index[k];
        HarvestSum now;
        const double open = rated_per_light * light.open_w_per_m2[i];
        const double on_plane = rated_per_light * light.light_w_per_m2[i];
        const double entering = rated_per_light * light.entering_w_per_m2[i];
        const double soiled = entering * after_soiling_ratio(losses);
        const double snowed = soiled * after_snow_ratio(losses, lit_.month[k]);
        const double aged = snowed * years_left_ratio(losses);
        now.ideal_wh = open;
        now.delivered_wh = out->best_v[k] * out->best_a[k] * light_.step_h;
        lost(now, HarvestLoss::shade) = open - on_plane;
        lost(now, HarvestLoss::glass) = on_plane - entering;
        lost(now, HarvestLoss::soiling) = entering - soiled;
        lost(now, HarvestLoss::snow) = soiled - snowed;
        lost(now, HarvestLoss::ageing) = snowed - aged;
        lost(now, HarvestLoss::cells) = aged - now.delivered_wh;
        add(out->total, now, 1.0);
        add(out->months[lit_.month[k]], now, 1.0);
        add(out->hours_of_day[lit_.hour[k]], now, 1.0);
    }
    return out;
}

}  // namespace plait::study
