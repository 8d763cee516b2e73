// What place, plane and clock say of a log's light: clocks, night, the ceiling, and global light turned onto the plane.
#include "../study/made_weather.hpp"
#include "log/sun_prior.hpp"

#include <plait/measured/clear_share.hpp>
#include <plait/measured/log_explanation.hpp>
#include <plait/measured/log_sun.hpp>
#include <plait/physics/clear_sky.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace plait;
using namespace plait::measured;

namespace {

constexpr double hour_s = 3600.0;

double stamp_s(int year, int month, int day, double h) { return 86400.0 * day_number(civil_date(year, month, day)) + hour_s * h; }

study::Trial placed(double tilt_deg = 35.0, double azimuth_deg = 180.0) {
    study::Trial t = study::sunny_trial();
    t.setup.planes[0].tilt_deg = tilt_deg;
    t.setup.planes[0].azimuth_deg = azimuth_deg;
    t.wire(2, 2);
    return t;
}

LogSun sun_of(const study::Trial& t) {
    auto sun = LogSun::of(t.setup, t.plan[0]);
    REQUIRE(sun);
    return *std::move(sun);
}

}  // namespace

TEST_CASE("a log's stamps become universal time by its clock") {
    study::Trial t = placed();
    t.setup.location->summer_time = SummerTime{3, 30, 10, 26, 1.0};
    const LogSun sun = sun_of(t);
    const double noon = stamp_s(2026, 6, 21, 12.0);
    CHECK(sun.universal_s(noon, {}) == noon - hour_s);
    CHECK(sun.universal_s(noon, {false, true, 0.0}) == noon - 2.0 * hour_s);
    CHECK(sun.universal_s(stamp_s(2026, 1, 21, 12.0), {false, true, 0.0}) == stamp_s(2026, 1, 21, 11.0));
    CHECK(sun.universal_s(noon, {true, true, 0.0}) == noon);
    CHECK(sun.universal_s(noon, {true, false, 180.0}) == noon - 180.0);
}

TEST_CASE("a set-up without a place, a plane, or with panels that look two ways bounds nothing") {
    study::Trial t = placed();
    t.setup.planes.push_back(t.setup.planes[0]);
    t.setup.planes[1].name = "other";
    REQUIRE(LogSun::of(t.setup, t.plan[0]));
    InputWiring both = t.plan[0];
    both.strings[0].panels[0].plane = 1;
    CHECK_FALSE(LogSun::of(t.setup, both));
    t.setup.planes.clear();
    CHECK_FALSE(LogSun::of(t.setup, t.plan[0]));
    study::Trial nowhere = placed();
    nowhere.setup.location.reset();
    CHECK_FALSE(LogSun::of(nowhere.setup, nowhere.plan[0]));
}

TEST_CASE("flat ground gets back its global light, and the clear sky's is the ceiling's") {
    const study::Trial t = placed(0.0);
    const LogSun sun = sun_of(t);
    for (int h = 0; h < 24; ++h) {
        for (const int month : {3, 6, 12}) {
            const double at_s = sun.universal_s(stamp_s(2026, month, 21, h), {});
            const SunBound b = sun.bound(at_s);
            CHECK((b.clear_w_per_m2 > 0.0) == (b.brightest_w_per_m2 > 0.0));
            if (b.elevation_deg < -1.0) CHECK(b.clear_w_per_m2 == 0.0);
            CHECK(b.brightest_w_per_m2 >= b.clear_w_per_m2);
            CHECK(b.clear_w_per_m2 < 1150.0);
            if (b.elevation_deg > least_turned_deg) {
                for (const double global : {0.0, 40.0, 300.0, 900.0}) {
                    CHECK(*sun.turned_w_per_m2(global, at_s) == Approx(global).epsilon(1e-9).margin(1e-9));
                }
            } else if (b.elevation_deg > 0.0) {
                CHECK_FALSE(sun.turned_w_per_m2(50.0, at_s));
            }
        }
    }
}

TEST_CASE("global light is turned as the harvest turns it") {
    const study::Trial t = placed(40.0, 150.0);
    const LogSun sun = sun_of(t);
    WeatherSeries w = study::cloudy_year(t.setup);
    w.step_h = 1.0 / 60.0;  // a minute's sun is that of its middle
    const study::LightSeries light = study::light_series(t.setup, w);
    std::size_t checked = 0;
    for (std::size_t i = 0; i < w.hours.size(); i += 7) {
        if (light.hours[i].elevation_deg < least_turned_deg + 0.1) continue;
        const auto turned = sun.turned_w_per_m2(*w.hours[i].global_w_per_m2, hour_s * (w.hours[i].start_ut_h + 0.5 / 60.0));
        REQUIRE(turned);
        CHECK(*turned == Approx(light.planes[0].light_w_per_m2[i]).epsilon(1e-4).margin(0.01));
        ++checked;
    }
    CHECK(checked > 400);
}

TEST_CASE("what is probable of the light before volts and amps are seen adds up to one") {
    for (const double clear : {0.0, 4.0, 19.0, 60.0, 400.0, 1000.0}) {
        const SunLight sun{clear, 1.25 * clear + 20.0};
        double sum = night_share * sun_prior_factor(0.0, sun);
        constexpr double step = 0.05;
        for (double g = 0.5 * step; g < open_sky_w_per_m2 + 400.0; g += step) {
            sum += step * (1.0 - night_share) / open_sky_w_per_m2 * sun_prior_factor(g, sun);
        }
        INFO(clear);
        CHECK(sum == Approx(1.0).margin(2e-3));
    }
    CHECK(sun_prior_factor(500.0, {0.0, 20.0}) == 0.0);
    CHECK(sun_prior_factor(1000.0, {1000.0, 1270.0}) > 3.0 * sun_prior_factor(600.0, {1000.0, 1270.0}));
}

TEST_CASE("the best hour's share of a clear sky's light is a sum by hand") {
    ClearShare share;
    ExplainedRow row;
    row.cause = Cause::less_light;
    row.hours_s = 600.0;
    const auto hour = [&](double from_s, double light, double clear, int rows) {
        for (int i = 0; i < rows; ++i) {
            row.row.time_s = from_s + 600.0 * i;
            row.row.clear_w_per_m2 = clear;
            row.irradiance_w_per_m2 = light;
            share.add(row);
        }
    };
    hour(0.0, 300.0, 600.0, 6);
    CHECK(*share.best_hour_ratio() == Approx(0.5));
    hour(3600.0, 560.0, 800.0, 6);
    hour(7200.0, 800.0, 800.0, 3);  // half an hour is no hour
    CHECK(*share.best_hour_ratio() == Approx(0.7));
    row.cause = Cause::power_limit;  // at a limit amps do not tell the light
    hour(10800.0, 800.0, 800.0, 6);
    row.cause = Cause::heat;
    hour(14400.0, 90.0, 90.0, 6);  // a sun too low
    CHECK(*share.best_hour_ratio() == Approx(0.7));
    row.row.irradiance_w_per_m2 = 700.0;  // measured: nothing to tell
    hour(18000.0, 800.0, 800.0, 6);
    CHECK(*share.best_hour_ratio() == Approx(0.7));
    CHECK_FALSE(ClearShare().best_hour_ratio());
}

// At noon no current means that it is off; at night that it is night. Without the sun nobody could tell.
TEST_CASE("explain: the sun tells night from a trip where no light was measured") {
    const study::Trial t = placed();
    const study::SystemModel system(t.setup);
    const LogSun sun = sun_of(t);
    const auto explained = [&](bool with_sun) {
        LogExplainer explainer(system, 0, t.plan[0], {});
        std::vector<ExplainedRow> rows;
        for (int minute = 0; minute < 1440; minute += 10) {
            LogRow row;
            row.time_s = stamp_s(2026, 6, 21, minute / 60.0);
            row.air = Celsius{20.0};
            row.charge_ratio = 0.5;
            row.voltage_v = 0.0;
            row.current_a = 0.0;
            const SunBound b = sun.bound(sun.universal_s(row.time_s, {}));
            if (b.clear_w_per_m2 > 20.0) row.voltage_v = 40.0;  // open circuit, all day
            if (with_sun) {
                row.clear_w_per_m2 = b.clear_w_per_m2;
                row.brightest_w_per_m2 = b.brightest_w_per_m2;
            }
            explainer.add(row, &rows);
        }
        const LogAccount account = explainer.finish(&rows);
        for (const ExplainedRow& r : rows) {
            if (with_sun) CHECK(r.irradiance_w_per_m2 <= 1.05 * *r.row.brightest_w_per_m2 + 20.0);
        }
        return account;
    };
    const LogAccount with = explained(true);
    const LogAccount without = explained(false);
    CHECK(with.sun_rows == 144);
    CHECK(without.sun_rows == 0);
    CHECK(with.night_wh == 0.0);
    CHECK(with.open_h <= without.open_h);
    // By night the sun leaves nothing open.
    CHECK(with.possible_wh > 0.0);
}
