#include <plait/study/light_series.hpp>

#include <plait/base/civil_date.hpp>
#include <plait/physics/clear_sky.hpp>
#include <plait/physics/day_clearness.hpp>
#include <plait/physics/incidence.hpp>
#include <plait/physics/sun_position.hpp>
#include <plait/physics/tilted_light.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>
#include <span>

namespace plait::study {
namespace {

constexpr double longest_light_gap_h = 3.0;
constexpr double longest_air_gap_h = 6.0;
constexpr double unix_to_j2000_h = 10957.0 * 24.0 + 12.0;

physics::Moment moment_at(double ut_h) { return {(ut_h - unix_to_j2000_h) / 24.0}; }

constexpr double radians_per_degree = 3.14159265358979323846 / 180.0;

/// The sun in an interval: where it stands in the middle of the part in which it is up.
struct IntervalSun {
    physics::SunDirection sun;
    double extraterrestrial_w_per_m2 = 0.0;
    double up_ratio = 0.0;  ///< share of the interval
};

/// Walks through intervals. The sun's own way is worked out for the middle of each; within it the Earth's turning alone
/// counts: over half an hour the declination changes by less than 0.01°.
class SunWalk {
public:
    SunWalk(const Location& l, double step_h)
        : from_{l.latitude_deg, l.longitude_deg, l.height_m},
          half_h_(0.5 * step_h),
          sin_latitude_(std::sin(l.latitude_deg * radians_per_degree)),
          cos_latitude_(std::cos(l.latitude_deg * radians_per_degree)) {}

    IntervalSun at(double start_ut_h) {
        sun_ = physics::sun_ephemeris(moment_at(start_ut_h + half_h_));
        const double sin_declination = std::sin(sun_.declination_deg * radians_per_degree);
        up_constant_ = sin_latitude_ * sin_declination;
        up_swing_ = cos_latitude_ * std::sqrt(1.0 - sin_declination * sin_declination);
        const double first = up_at(-half_h_);
        const double last = up_at(half_h_);
        const double middle = up_at(0.0);
        IntervalSun out;
        out.extraterrestrial_w_per_m2 = physics::extraterrestrial_w_per_m2(sun_.distance_au);
        if (!(first > 0.0) && !(last > 0.0) && !(middle > 0.0)) {
            out.sun = direction_at(0.0);
            return out;
        }
        // Near the horizon the sun's height is close to a straight line over an interval.
        double begin = 0.0;
        double end = 1.0;
        if (first <= 0.0) begin = -first / ((last > 0.0 ? last : 2.0 * middle) - first);
        if (last <= 0.0) end = first > 0.0 ? first / (first - last) : 1.0;
        out.up_ratio = end - begin;
        out.sun = direction_at((begin + end - 1.0) * half_h_);
        return out;
    }
    /// The sun some time from the middle of the interval that was last asked for.
    [[nodiscard]] physics::SunDirection direction_at(double from_middle_h) const {
        physics::SunEphemeris then = sun_;
        then.greenwich_hour_angle_deg += degrees_per_h * from_middle_h;
        return physics::sun_direction(then, from_);
    }

private:
    static constexpr double degrees_per_h = 15.0;

    /// sin of the elevation, parallax left out.
    [[nodiscard]] double up_at(double from_middle_h) const {
        const double angle_deg = sun_.greenwich_hour_angle_deg + from_.longitude_deg + degrees_per_h * from_middle_h;
        return up_constant_ + up_swing_ * std::cos(angle_deg * radians_per_degree);
    }

    physics::Observer from_;
    double half_h_;
    double sin_latitude_;
    double cos_latitude_;
    physics::SunEphemeris sun_;
    double up_constant_ = 0.0;
    double up_swing_ = 0.0;
};

/// Global, direct and diffuse from what the file has of them; nothing if that is too little.
std::optional<physics::SkyLight> sky_light(const WeatherHour& w, const IntervalSun& s) {
    constexpr double least_sine = 0.05;  // 3°: below it a small error of the difference is a large one of the beam
    const double up = std::max(s.sun.up_ratio, 0.0);
    const double most = s.extraterrestrial_w_per_m2;
    physics::SkyLight light;
    if (w.direct_normal_w_per_m2 && w.diffuse_w_per_m2) {
        light.direct_normal_w_per_m2 = std::min(*w.direct_normal_w_per_m2, most);
        light.diffuse_w_per_m2 = *w.diffuse_w_per_m2;
        const double flat = light.direct_normal_w_per_m2 * up;
        light.global_w_per_m2 = w.global_w_per_m2.value_or(light.diffuse_w_per_m2 + flat);
        // The beam grows while the sun climbs, so the mean of DNI·cos z is not the mean DNI by the middle's cos z, but
        // some per cent off it. Where the three agree to that, the beam is what makes them close.
        const double closing = light.global_w_per_m2 - light.diffuse_w_per_m2;
        if (up > least_sine && std::abs(closing - flat) <= 0.1 * closing + 5.0) {
            light.direct_normal_w_per_m2 = std::min(closing / up, most);
        }
        return light;
    }
    if (!w.global_w_per_m2) return std::nullopt;
    light.global_w_per_m2 = *w.global_w_per_m2;
    if (w.diffuse_w_per_m2) {
        light.diffuse_w_per_m2 = std::min(*w.diffuse_w_per_m2, light.global_w_per_m2);
        const double beam = light.global_w_per_m2 - light.diffuse_w_per_m2;
        if (up > least_sine) {
            light.direct_normal_w_per_m2 = std::min(beam / up, most);
        } else {
            light.diffuse_w_per_m2 = light.global_w_per_m2;
        }
        return light;
    }
    if (w.direct_normal_w_per_m2) {
        light.direct_normal_w_per_m2 = std::min(*w.direct_normal_w_per_m2, most);
        light.diffuse_w_per_m2 = std::max(0.0, light.global_w_per_m2 - light.direct_normal_w_per_m2 * up);
        return light;
    }
    return physics::split_global(light.global_w_per_m2, s.sun.elevation_deg, most);
}

/// Of the light above the air; the mean over the interval counts the part of it in which the sun is down.
double clearness(const physics::SkyLight& light, const IntervalSun& s) {
    return light.global_w_per_m2 / (s.extraterrestrial_w_per_m2 * std::max(s.sun.up_ratio, 0.05) * s.up_ratio);
}

class SeriesMaker {
public:
    SeriesMaker(const Setup& setup, const WeatherSeries& weather)
        : setup_(setup), weather_(weather), location_(setup.location ? *setup.location : *weather.location) {
        out_.name = weather.name;
        out_.step_h = weather.step_h;
        out_.plane_is_assumed = setup.planes.empty();
        planes_ = setup.planes;
        if (planes_.empty()) {
            planes_.push_back(assumed_plane());
            out_.assumed_plane = planes_.front();
        }
    }

    LightSeries run() {
        suns();
        fill_light();
        fill_air();
        planes();
        remarks();
        return std::move(out_);
    }

private:
    [[nodiscard]] Plane assumed_plane() const {
        Plane plane;
        plane.name = "assumed";
        plane.tilt_deg = std::min(std::abs(location_.latitude_deg), 60.0);
        plane.azimuth_deg = location_.in_the_south() ? 0.0 : 180.0;
        return plane;
    }

    void suns() {
        SunWalk walk(location_, weather_.step_h);
        const std::size_t count = weather_.hours.size();
        suns_.reserve(count);
        lights_.reserve(count);
        out_.hours.reserve(count);
        double night = 0.0;
        double all = 0.0;
        for (const WeatherHour& w : weather_.hours) {
            const IntervalSun s = walk.at(w.start_ut_h);
            LightHour h;
            h.start_ut_h = w.start_ut_h;
            const double local_h = w.start_ut_h + location_.from_utc_h;
            h.day = static_cast<int>(std::floor(local_h / 24.0 + 1e-9));
            h.local_h = std::max(0.0, local_h - 24.0 * h.day);
            h.month = h.day == last_day_ ? last_month_ : month_of(date_of(h.day));
            last_day_ = h.day;
            last_month_ = h.month;
            h.elevation_deg = s.sun.elevation_deg;
            h.azimuth_deg = s.sun.azimuth_deg;
            h.wind_m_per_s = w.wind_m_per_s.value_or(0.0);
            std::optional<physics::SkyLight> light = sky_light(w, s);
            if (light) {
                all += light->global_w_per_m2;
                if (!(s.up_ratio > 0.0)) night += light->global_w_per_m2;
            }
            if (!(s.up_ratio > 0.0)) light = physics::SkyLight{};  // dusk is left out
            h.known = light.has_value();
            suns_.push_back(s);
            lights_.push_back(light.value_or(physics::SkyLight{}));
            out_.hours.push_back(h);
        }
        out_.night_light_ratio = all > 0.0 ? night / all : 0.0;
    }

    /// Short gaps by the clearness before and after them, on a straight line.
    void fill_light() {
        const auto longest = static_cast<std::size_t>(std::floor(longest_light_gap_h / out_.step_h + 1e-6));
        for (std::size_t i = 0; i < out_.hours.size(); ++i) {
            if (out_.hours[i].known) continue;
            std::size_t end = i;
            while (end < out_.hours.size() && !out_.hours[end].known) ++end;
            const bool neighbours = i > 0 && end < out_.hours.size();
            const auto usable = [&](std::size_t k) { return suns_[k].sun.elevation_deg > 3.0; };
            if (neighbours && end - i <= longest && (usable(i - 1) || usable(end))) {
                const double before =
                    clearness(lights_[usable(i - 1) ? i - 1 : end], suns_[usable(i - 1) ? i - 1 : end]);
                const double after = clearness(lights_[usable(end) ? end : i - 1], suns_[usable(end) ? end : i - 1]);
                for (std::size_t k = i; k < end; ++k) {
                    const double share = static_cast<double>(k - i + 1) / static_cast<double>(end - i + 1);
                    const double global = (before + share * (after - before)) * suns_[k].extraterrestrial_w_per_m2 *
                                          std::max(suns_[k].sun.up_ratio, 0.0) * suns_[k].up_ratio;
                    lights_[k] =
                        physics::split_global(global, suns_[k].sun.elevation_deg, suns_[k].extraterrestrial_w_per_m2);
                    out_.hours[k].known = true;
                    out_.hours[k].filled = true;
                    ++out_.filled;
                }
            } else {
                out_.unknown += end - i;
            }
            i = end;
        }
        for (std::size_t i = 0; i < out_.hours.size(); ++i) out_.hours[i].global_w_per_m2 = lights_[i].global_w_per_m2;
    }

    void fill_air() {
        const auto longest = static_cast<std::size_t>(std::floor(longest_air_gap_h / out_.step_h + 1e-6));
        const auto& hours = weather_.hours;
        for (std::size_t i = 0; i < hours.size();) {
            if (hours[i].air) {
                out_.hours[i].air = *hours[i].air;
                ++i;
                continue;
            }
            std::size_t end = i;
            while (end < hours.size() && !hours[end].air) ++end;
            const bool line = i > 0 && end < hours.size() && end - i <= longest;
            for (std::size_t k = i; k < end; ++k) {
                const double share = static_cast<double>(k - i + 1) / static_cast<double>(end - i + 1);
                out_.hours[k].air =
                    line ? *hours[i - 1].air + share * (*hours[end].air - *hours[i - 1].air) : setup_.site.warm_air;
            }
            out_.air_assumed += end - i;
            i = end;
        }
        const bool windy = std::any_of(hours.begin(), hours.end(), [](const WeatherHour& w) { return w.wind_m_per_s; });
        out_.warming = setup_.light_models.warming.value_or(windy ? WarmingModel::exponential : WarmingModel::nominal);
    }

    void planes() {
        const std::size_t count = out_.hours.size();
        for (const Plane& plane : planes_) {
            const physics::TiltedPlane tilted(plane);
            Plane without = plane;
            without.horizon.clear();
            const physics::TiltedPlane open(without);
            const physics::IncidenceLoss glass(setup_.light_models.incidence, plane.tilt_deg);
            PlaneSeries series;
            series.open_w_per_m2.assign(count, 0.0);
            series.light_w_per_m2.assign(count, 0.0);
            series.entering_w_per_m2.assign(count, 0.0);
            for (std::size_t i = 0; i < count; ++i) {
                if (!(lights_[i].global_w_per_m2 > 0.0) && !(lights_[i].direct_normal_w_per_m2 > 0.0)) continue;
                physics::SkyMoment now{suns_[i].sun, 0.0, suns_[i].extraterrestrial_w_per_m2, lights_[i]};
                now.apparent_elevation_deg = now.sun.elevation_deg + physics::refraction_deg(now.sun.elevation_deg);
                const double albedo = weather_.hours[i].albedo_ratio.value_or(plane.albedo_ratio);
                const physics::PlaneLight light = tilted.light(now, setup_.light_models.sky, albedo);
                series.light_w_per_m2[i] = light.total_w_per_m2();
                series.entering_w_per_m2[i] = glass.entering_w_per_m2(light);
                series.open_w_per_m2[i] = plane.horizon.empty()
                                              ? series.light_w_per_m2[i]
                                              : open.light(now, setup_.light_models.sky, albedo).total_w_per_m2();
            }
            out_.planes.push_back(std::move(series));
        }
    }

    void remarks() {
        out_.notes = weather_.notes;
        // A sun that is up while it is dark, or light in the night: stamps or zone are not what was said. A hundredth
        // is what dusk and an hour's coarseness give.
        if (out_.night_light_ratio > 0.01) {
            out_.notes.emplace_back(
                "light fell while the sun was down: check the hours from UTC, the place, and whether the stamps begin "
                "or "
                "end their intervals");
        }
        if (weather_.location && setup_.location) {
            const Location& a = *weather_.location;
            const Location& b = *setup_.location;
            if (std::abs(a.latitude_deg - b.latitude_deg) > 1.0 || std::abs(a.longitude_deg - b.longitude_deg) > 1.5 ||
                std::abs(a.height_m - b.height_m) > 300.0) {
                out_.notes.emplace_back(
                    "the weather is of another place than the site: more than a degree or 300 m of height away");
            }
        }
    }

    const Setup& setup_;
    const WeatherSeries& weather_;
    Location location_;
    std::vector<Plane> planes_;
    std::vector<IntervalSun> suns_;
    std::vector<physics::SkyLight> lights_;
    LightSeries out_;
    int last_day_ = -1000000;
    int last_month_ = 1;
};

/// A day's light on flat ground, Wh/m².
struct DayLight {
    double above_air_wh = 0.0;  ///< asked for by days that are mixed
    double clear_wh = 0.0;
    double wanted_wh = 0.0;
};

std::vector<DayLight> day_lights(const Location& l, const WeatherSeries& clear, DaysOfMonth kind) {
    std::vector<DayLight> days(clear.hours.size() / 24);
    SunWalk walk(l, 1.0);
    for (std::size_t i = 0; i < 24 * days.size(); ++i) {
        days[i / 24].clear_wh += *clear.hours[i].global_w_per_m2;
        if (kind == DaysOfMonth::alike) continue;
        const IntervalSun s = walk.at(clear.hours[i].start_ut_h);
        days[i / 24].above_air_wh += s.extraterrestrial_w_per_m2 * std::max(s.sun.up_ratio, 0.0) * s.up_ratio;
    }
    return days;
}

/// Gives a month's days `stated_wh` in the mean: all as much of a clear day's light, or clear days and dull ones in the
/// shares that are usual for such a month, well mixed.
void dim_month(std::span<DayLight> days, double stated_wh, DaysOfMonth kind) {
    const auto count = static_cast<double>(days.size());
    DayLight sum;
    for (const DayLight& day : days) {
        sum.above_air_wh += day.above_air_wh;
        sum.clear_wh += day.clear_wh;
    }
    if (!(sum.clear_wh > 0.0)) return;
    const double alike = stated_wh * count / sum.clear_wh;
    for (DayLight& day : days) day.wanted_wh = alike * day.clear_wh;
    if (kind == DaysOfMonth::alike) return;

    const std::vector<double> clearness =
        physics::day_clearness(alike * sum.clear_wh / sum.above_air_wh, sum.clear_wh / sum.above_air_wh, days.size());
    // Multiples of the golden section spread any run of ranks evenly.
    constexpr double golden_ratio = 0.6180339887498949;
    std::vector<std::size_t> order(days.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto key = [](std::size_t i) { return std::fmod(golden_ratio * static_cast<double>(i + 1), 1.0); };
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
    double wanted_wh = 0.0;
    for (std::size_t rank = 0; rank < days.size(); ++rank) {
        days[order[rank]].wanted_wh *= clearness[rank];
        wanted_wh += days[order[rank]].wanted_wh;
    }
    for (DayLight& day : days) day.wanted_wh *= stated_wh * count / wanted_wh;
}

}  // namespace

LightSeries light_series(const Setup& setup, const WeatherSeries& weather) {
    assert((setup.location || weather.location) && "without a place there is no sun");
    return SeriesMaker(setup, weather).run();
}

WeatherSeries clear_days(const Setup& setup, int first_day, int days) {
    assert(setup.location && "without a place there is no sun");
    constexpr int samples = 4;  // of the sky in an hour
    const Location& l = *setup.location;
    WeatherSeries out;
    out.name = "clear days";
    out.location = l;
    out.hours.reserve(static_cast<std::size_t>(24 * days));
    const physics::ClearAir air{l.turbidity_value, l.height_m};
    SunWalk walk(l, 1.0);
    std::size_t month = 0;
    for (int i = 0; i < 24 * days; ++i) {
        WeatherHour h;
        h.start_ut_h = 24.0 * first_day + i - l.from_utc_h;
        if (i % 24 == 0) month = static_cast<std::size_t>(month_of(date_of(first_day + i / 24)) - 1);
        physics::SkyLight mean;
        const IntervalSun here = walk.at(h.start_ut_h);
        for (int k = 0; k < samples && here.up_ratio > 0.0; ++k) {
            const double elevation_deg = walk.direction_at((k + 0.5) / samples - 0.5).elevation_deg;
            if (!(elevation_deg > 0.0)) continue;
            const physics::SkyLight now = physics::clear_sky(elevation_deg + physics::refraction_deg(elevation_deg),
                                                             here.extraterrestrial_w_per_m2, air);
            mean.global_w_per_m2 += now.global_w_per_m2 / samples;
            mean.direct_normal_w_per_m2 += now.direct_normal_w_per_m2 / samples;
            mean.diffuse_w_per_m2 += now.diffuse_w_per_m2 / samples;
        }
        h.global_w_per_m2 = mean.global_w_per_m2;
        h.direct_normal_w_per_m2 = mean.direct_normal_w_per_m2;
        h.diffuse_w_per_m2 = mean.diffuse_w_per_m2;
        h.air = setup.climate.mean_air_degc ? Celsius{(*setup.climate.mean_air_degc)[month]} : setup.site.warm_air;
        out.hours.push_back(h);
    }
    return out;
}

LightSeries part_of(const LightSeries& light, const std::vector<std::size_t>& intervals) {
    LightSeries part = light;
    const auto take = [&](const auto& from, auto& to) {
        to.clear();
        to.reserve(intervals.size());
        for (const std::size_t i : intervals) to.push_back(from[i]);
    };
    take(light.hours, part.hours);
    for (std::size_t p = 0; p < light.planes.size(); ++p) {
        take(light.planes[p].open_w_per_m2, part.planes[p].open_w_per_m2);
        take(light.planes[p].light_w_per_m2, part.planes[p].light_w_per_m2);
        take(light.planes[p].entering_w_per_m2, part.planes[p].entering_w_per_m2);
    }
    const auto count = [&](auto wanted) {
        return static_cast<std::size_t>(std::count_if(part.hours.begin(), part.hours.end(), wanted));
    };
    part.filled = count([](const LightHour& h) { return h.filled; });
    part.unknown = count([](const LightHour& h) { return !h.known; });
    return part;
}

WeatherSeries climate_year(const Setup& setup, int year, DaysOfMonth kind) {
    constexpr std::size_t days = 365;
    const int first_day = day_number(civil_date(year, 1, 1));
    WeatherSeries out = clear_days(setup, first_day, days);
    if (!setup.climate.daily_global_wh_per_m2) return out;
    out.name = "the site's monthly light";
    std::vector<DayLight> lights = day_lights(*setup.location, out, kind);
    std::size_t begin = 0;
    for (const double stated_wh : *setup.climate.daily_global_wh_per_m2) {
        const int month = month_of(date_of(first_day + static_cast<int>(begin)));
        std::size_t end = begin;
        while (end < days && month_of(date_of(first_day + static_cast<int>(end))) == month) ++end;
        dim_month({lights.data() + begin, end - begin}, stated_wh, kind);
        begin = end;
    }
    // Every hour of a day is dimmed alike; its parts then follow from the global light, as on any day with clouds.
    for (std::size_t i = 0; i < out.hours.size(); ++i) {
        WeatherHour& h = out.hours[i];
        const DayLight& day = lights[i / 24];
        h.global_w_per_m2 = day.clear_wh > 0.0 ? *h.global_w_per_m2 * day.wanted_wh / day.clear_wh : 0.0;
        h.direct_normal_w_per_m2.reset();
        h.diffuse_w_per_m2.reset();
    }
    return out;
}

}  // namespace plait::study
