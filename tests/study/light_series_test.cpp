#include <plait/physics/clear_sky.hpp>
#include <plait/physics/sun_position.hpp>
#include <plait/study/light_series.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "made_weather.hpp"

using namespace plait;
using namespace plait::study;

namespace {

double sum_of(const std::vector<double>& values) { return std::accumulate(values.begin(), values.end(), 0.0); }

Setup setup_at(const Location& location, double tilt_deg, double azimuth_deg) {
    Setup s;
    s.location = location;
    s.site = rules::round_site();
    Plane plane;
    plane.tilt_deg = tilt_deg;
    plane.azimuth_deg = azimuth_deg;
    s.planes = {plane};
    return s;
}

}  // namespace

TEST_CASE("a day's light above the air, as a textbook works it out") {
    // Duffie & Beckman, Solar Engineering of Thermal Processes, example 1.10.1 [from memory]: 43° north, 15 April,
    // 33.8 MJ/m² by (24 h/π)·E0·(cos φ cos δ sin ω + ω sin φ sin δ), a solar constant of 1367 W/m² and δ = 9.4°. That
    // declination is Cooper's approximation; the true one is 9.9°, worth 1 %: the formula is held to both.
    const auto day_mj = [](double e0_w_per_m2, double declination_deg) {
        constexpr double pi = 3.14159265358979;
        const double phi = 43.0 * pi / 180.0;
        const double delta = declination_deg * pi / 180.0;
        const double omega = std::acos(-std::tan(phi) * std::tan(delta));
        return 86400e-6 / pi * e0_w_per_m2 *
               (std::cos(phi) * std::cos(delta) * std::sin(omega) + omega * std::sin(phi) * std::sin(delta));
    };
    CHECK(day_mj(1367.0 * (1.0 + 0.033 * std::cos(6.283185 * 105.0 / 365.0)), 9.4) == Approx(33.8).margin(0.05));
    const physics::Observer at{43.0, 0.0, 0.0};
    double sum_j = 0.0;
    for (double h = 0.0; h < 24.0; h += 0.01) {
        const physics::SunEphemeris sun = physics::sun_ephemeris(physics::Moment::of(civil_date(2021, 4, 15), h));
        const double up = physics::sun_direction(sun, at).up_ratio;
        sum_j += std::max(up, 0.0) * physics::extraterrestrial_w_per_m2(sun.distance_au) * 36.0;
    }
    const physics::SunEphemeris noon = physics::sun_ephemeris(physics::Moment::of(civil_date(2021, 4, 15), 12.0));
    CHECK(noon.declination_deg == Approx(9.9469).margin(0.005));  // python3-ephem 4.1.4
    // Parallax takes 6e-5; the solar day is 15 s short in April, 1.7e-4.
    CHECK(sum_j * 1e-6 ==
          Approx(day_mj(physics::extraterrestrial_w_per_m2(noon.distance_au), noon.declination_deg)).epsilon(3e-4));
}

TEST_CASE("a flat plane under an even sky gives back the light on flat ground, hour by hour") {
    Setup setup = setup_at(middle_place(), 0.0, 77.0);
    setup.light_models.sky = SkyModel::isotropic;
    for (const bool clouds : {false, true}) {
        const LightSeries s = light_series(setup, clouds ? cloudy_year(setup) : climate_year(setup));
        for (std::size_t i = 0; i < s.hours.size(); ++i) {
            if (s.hours[i].elevation_deg < 5.0) continue;  // there the beam is not closed: the sum below has it
            INFO(i << " at " << s.hours[i].elevation_deg << "°");
            CHECK(s.planes[0].light_w_per_m2[i] == Approx(s.hours[i].global_w_per_m2).epsilon(1e-9));
        }
        const double all = std::accumulate(s.hours.begin(), s.hours.end(), 0.0,
                                           [](double a, const LightHour& h) { return a + h.global_w_per_m2; });
        CHECK(sum_of(s.planes[0].light_w_per_m2) == Approx(all).epsilon(clouds ? 1e-9 : 0.001));
    }
}

TEST_CASE("the south is the north half a year later") {
    Setup north = setup_at(middle_place(false), 35.0, 180.0);
    Setup south = setup_at(middle_place(true), 35.0, 0.0);
    const LightSeries n = light_series(north, climate_year(north));
    const LightSeries s = light_series(south, climate_year(south));
    const auto month_sum = [](const LightSeries& l, int month) {
        double sum = 0.0;
        for (std::size_t i = 0; i < l.hours.size(); ++i) {
            if (l.hours[i].month == month) sum += l.planes[0].light_w_per_m2[i];
        }
        return sum;
    };
    // The Earth is nearest to the sun in January: southern summers get some 3 % more than northern ones.
    CHECK(month_sum(s, 12) > month_sum(s, 6));
    CHECK(month_sum(n, 6) > month_sum(n, 12));
    CHECK(month_sum(s, 12) / month_sum(n, 6) == Approx(1.06).margin(0.05));
    CHECK(sum_of(s.planes[0].light_w_per_m2) == Approx(sum_of(n.planes[0].light_w_per_m2)).epsilon(0.02));
    // Turned away from the equator a plane gets less.
    Setup away = setup_at(middle_place(true), 35.0, 180.0);
    CHECK(sum_of(light_series(away, climate_year(away)).planes[0].light_w_per_m2) <
          0.75 * sum_of(s.planes[0].light_w_per_m2));
}

TEST_CASE("in the polar night there is no light, and in the polar day it never ends") {
    Location place = middle_place();
    place.latitude_deg = 78.0;
    const Setup setup = setup_at(place, 45.0, 180.0);
    const LightSeries s = light_series(setup, climate_year(setup));
    std::size_t dark_in_december = 0;
    std::size_t lit_in_june = 0;
    for (std::size_t i = 0; i < s.hours.size(); ++i) {
        if (s.hours[i].month == 12) dark_in_december += s.planes[0].light_w_per_m2[i] == 0.0 ? 1u : 0u;
        if (s.hours[i].month == 6) lit_in_june += s.planes[0].light_w_per_m2[i] > 0.0 ? 1u : 0u;
    }
    CHECK(dark_in_december == 31 * 24);
    CHECK(lit_in_june == 30 * 24);
    CHECK(s.unknown == 0);
}

TEST_CASE("the brightest hour is at noon of the sun, whatever the zone") {
    for (const double zone : {1.0, 5.5, -3.5, 12.75}) {
        Location place = middle_place();
        place.longitude_deg = 15.0 * zone > 180.0 ? 15.0 * zone - 360.0 : 15.0 * zone;
        place.from_utc_h = zone;
        const Setup setup = setup_at(place, 0.0, 180.0);
        const LightSeries s = light_series(setup, climate_year(setup));
        const auto best = std::max_element(s.planes[0].light_w_per_m2.begin(), s.planes[0].light_w_per_m2.end());
        const LightHour& h = s.hours[static_cast<std::size_t>(best - s.planes[0].light_w_per_m2.begin())];
        INFO(zone);
        CHECK(h.local_h == Approx(11.5).margin(1.01));
        CHECK((h.month == 6 || h.month == 5 || h.month == 7));
        CHECK(s.hours.front().local_h == Approx(0.0).margin(1e-9));
        CHECK(s.hours.front().month == 1);
    }
}

TEST_CASE("any two of global, direct and diffuse make the third") {
    const Setup setup = setup_at(middle_place(), 35.0, 180.0);
    WeatherSeries all = climate_year(setup);
    const LightSeries whole = light_series(setup, all);
    WeatherSeries no_direct = all;
    WeatherSeries no_diffuse = all;
    WeatherSeries no_global = all;
    for (std::size_t i = 0; i < all.hours.size(); ++i) {
        no_direct.hours[i].direct_normal_w_per_m2.reset();
        no_diffuse.hours[i].diffuse_w_per_m2.reset();
        no_global.hours[i].global_w_per_m2.reset();
    }
    const double wanted = sum_of(whole.planes[0].light_w_per_m2);
    CHECK(sum_of(light_series(setup, no_direct).planes[0].light_w_per_m2) == Approx(wanted).epsilon(0.005));
    CHECK(sum_of(light_series(setup, no_diffuse).planes[0].light_w_per_m2) == Approx(wanted).epsilon(0.005));
    CHECK(sum_of(light_series(setup, no_global).planes[0].light_w_per_m2) == Approx(wanted).epsilon(0.005));
}

TEST_CASE("short gaps are filled by clearness, long ones left out and counted") {
    const Setup setup = setup_at(middle_place(), 35.0, 180.0);
    WeatherSeries w = cloudy_year(setup);
    const LightSeries whole = light_series(setup, w);
    // Two hours at noon of 20 June, and all of 1 July.
    const std::size_t noon = 24u * 170u + 11u;
    for (std::size_t i = noon; i < noon + 2; ++i) w.hours[i].global_w_per_m2.reset();
    const std::size_t july = 24u * 181u;
    for (std::size_t i = july; i < july + 24; ++i) w.hours[i].global_w_per_m2.reset();
    for (std::size_t i = 100; i < 103; ++i) w.hours[i].air.reset();
    const LightSeries s = light_series(setup, w);
    CHECK(s.filled == 2);
    CHECK(s.unknown >= 14);
    CHECK(s.unknown <= 18);  // the hours of that day with sun
    CHECK(s.planes[0].light_w_per_m2[noon] == Approx(whole.planes[0].light_w_per_m2[noon]).epsilon(0.25));
    CHECK(s.planes[0].light_w_per_m2[july + 12] == 0.0);
    CHECK_FALSE(s.hours[july + 12].known);
    CHECK(s.air_assumed == 3);
    // By hand: the sagitta of its daily swing of 5 K over 4 h, 5·(1 − cos 30°), and the year's slope.
    CHECK(s.hours[101].air.degc == Approx(whole.hours[101].air.degc).margin(0.7));
}

// The light of a sky that lets the same share through all the time, but for a slow change.
TEST_CASE("law: a short gap gets the light of its neighbours' sky, at dawn and dusk too; a longer one gets none") {
    for (const double step_h : {1.0, 0.25}) {
        for (const int month : {3, 6, 12}) {
            const Setup setup = setup_at(middle_place(month == 3), 35.0, 180.0);
            const physics::Observer at{setup.location->latitude_deg, setup.location->longitude_deg, setup.location->height_m};
            WeatherSeries day;
            day.step_h = step_h;
            const auto count = static_cast<std::size_t>(24.0 / step_h);
            const CivilDate date = civil_date(2023, month, 20);
            for (std::size_t i = 0; i < count; ++i) {
                WeatherHour h;
                h.start_ut_h = 24.0 * day_number(date) + step_h * static_cast<double>(i) - setup.location->from_utc_h;
                // The mean over the interval, from a hundred moments of it.
                constexpr int moments = 100;
                double up = 0.0;
                double above_air_w_per_m2 = 0.0;
                for (int k = 0; k < moments; ++k) {
                    const double ut_h = step_h * (static_cast<double>(i) + (k + 0.5) / moments) - setup.location->from_utc_h;
                    const physics::SunEphemeris sun = physics::sun_ephemeris(physics::Moment::of(date, ut_h));
                    up += std::max(0.0, physics::sun_direction(sun, at).up_ratio) / moments;
                    above_air_w_per_m2 = physics::extraterrestrial_w_per_m2(sun.distance_au);
                }
                h.global_w_per_m2 = 0.5 * up * above_air_w_per_m2;
                day.hours.push_back(h);
            }
            const LightSeries whole = light_series(setup, day);
            const auto high = [&](std::size_t i) { return whole.hours[i].elevation_deg > 3.0; };
            const auto longest = static_cast<std::size_t>(3.0 / step_h);
            std::size_t filled = 0;
            for (std::size_t first = 1; first + longest + 2 < count; ++first) {
                for (const std::size_t length : {std::size_t{1}, longest, longest + 1}) {
                    CAPTURE(step_h, month, first, length);
                    WeatherSeries torn = day;
                    for (std::size_t i = first; i < first + length; ++i) torn.hours[i].global_w_per_m2.reset();
                    const LightSeries s = light_series(setup, torn);
                    // Hours of the night are known to be dark: they bound a gap.
                    std::size_t begin = first;
                    std::size_t end = first + length;
                    const auto dark = [&](std::size_t i) { return *day.hours[i].global_w_per_m2 == 0.0; };
                    while (begin < end && dark(begin)) ++begin;
                    while (begin < end && dark(end - 1)) --end;
                    const bool can = end - begin <= longest && (high(begin - 1) || high(end));
                    for (std::size_t i = begin; i < end; ++i) {
                        CHECK(s.hours[i].filled == can);
                        CHECK(s.hours[i].known == can);
                        // One place of the sun for a whole hour is some per cent off where it is low.
                        if (can) CHECK(s.hours[i].global_w_per_m2 == Approx(*day.hours[i].global_w_per_m2).epsilon(0.06).margin(3.0));
                    }
                    CHECK(s.filled == (can ? end - begin : 0));
                    CHECK(s.unknown == (can ? 0 : end - begin));
                    filled += s.filled;
                }
            }
            CHECK(filled > 20);
        }
    }
}

TEST_CASE("law: air on a straight line is the same with a gap of six hours in it; without both neighbours the site's counts") {
    Setup setup = setup_at(middle_place(), 35.0, 180.0);
    setup.site.warm_air = Celsius{-60.0};
    for (const double step_h : {1.0, 0.25}) {
        WeatherSeries w;
        w.step_h = step_h;
        const auto count = static_cast<std::size_t>(24.0 / step_h);
        for (std::size_t i = 0; i < count; ++i) {
            WeatherHour h;
            h.start_ut_h = 24.0 * day_number(civil_date(2023, 6, 20)) + step_h * static_cast<double>(i);
            h.global_w_per_m2 = 100.0;
            h.air = Celsius{-7.0 + 0.75 * static_cast<double>(i)};
            w.hours.push_back(h);
        }
        const auto longest = static_cast<std::size_t>(6.0 / step_h);
        for (std::size_t first = 0; first + 1 < count; ++first) {
            for (const std::size_t length : {std::size_t{1}, longest, longest + 1}) {
                const std::size_t end = std::min(first + length, count);
                CAPTURE(step_h, first, end);
                WeatherSeries torn = w;
                for (std::size_t i = first; i < end; ++i) torn.hours[i].air.reset();
                const LightSeries s = light_series(setup, torn);
                const bool line = first > 0 && end < count && end - first <= longest;
                for (std::size_t i = 0; i < count; ++i) {
                    const bool gap = i >= first && i < end;
                    CHECK(s.hours[i].air.degc == Approx(gap && !line ? -60.0 : w.hours[i].air->degc).margin(1e-9));
                }
                CHECK(s.air_assumed == end - first);
            }
        }
    }
}

TEST_CASE("light in the night is noted: the zone is not what the file says") {
    const Setup setup = setup_at(middle_place(), 35.0, 180.0);
    WeatherSeries w = climate_year(setup);
    CHECK(light_series(setup, w).night_light_ratio < 0.001);
    CHECK(light_series(setup, w).notes.empty());
    for (WeatherHour& h : w.hours) h.start_ut_h += 6.0;
    const LightSeries s = light_series(setup, w);
    CHECK(s.night_light_ratio > 0.05);
    REQUIRE(s.notes.size() == 1);
    WeatherSeries elsewhere = climate_year(setup);
    elsewhere.location->latitude_deg += 3.0;
    CHECK(light_series(setup, elsewhere).notes.size() == 1);
}

TEST_CASE("the climate's monthly light is what its year sums up to") {
    Setup setup = setup_at(middle_place(), 35.0, 180.0);
    setup.climate.daily_global_wh_per_m2 = {900, 1600, 2900, 4100, 5000, 5500, 5400, 4600, 3300, 1900, 1000, 700};
    setup.climate.mean_air_degc = {-2, 0, 4, 9, 13, 17, 19, 18, 14, 9, 3, -1};
    const WeatherSeries w = climate_year(setup);
    double january = 0.0;
    double june = 0.0;
    for (std::size_t i = 0; i < w.hours.size(); ++i) {
        if (i < 31u * 24u) january += *w.hours[i].global_w_per_m2;
        if (i >= 151u * 24u && i < 181u * 24u) june += *w.hours[i].global_w_per_m2;
    }
    CHECK(january == Approx(31.0 * 900.0));
    CHECK(june == Approx(30.0 * 5500.0));
    CHECK(w.hours[0].air == Celsius{-2.0});
    CHECK_FALSE(w.hours[12].diffuse_w_per_m2);
    const LightSeries s = light_series(setup, w);
    CHECK(s.warming == WarmingModel::nominal);  // no wind is known
}

TEST_CASE("a plane is assumed where the set-up has none, towards the equator") {
    Setup setup = setup_at(middle_place(true), 0.0, 0.0);
    setup.planes.clear();
    const LightSeries s = light_series(setup, climate_year(setup));
    CHECK(s.plane_is_assumed);
    CHECK(s.assumed_plane.azimuth_deg == 0.0);
    CHECK(s.assumed_plane.tilt_deg == 48.0);
    CHECK(s.planes.size() == 1);
}
