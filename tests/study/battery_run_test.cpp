#include <plait/study/battery_run.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "made_weather.hpp"

using namespace plait;
using namespace plait::study;

namespace {

/// Hours from midnight on, in air of 20 °C.
LightSeries days(std::size_t hours) {
    LightSeries l;
    for (std::size_t i = 0; i < hours; ++i) {
        LightHour h;
        h.local_h = static_cast<double>(i % 24);
        h.air = Celsius{20.0};
        l.hours.push_back(h);
    }
    return l;
}

Storage kilowatt_hour() {
    Storage s;
    s.capacity_wh = 1000.0;
    return s;
}

double limit_h(const BatteryRun& r, ChargeLimit l) { return r.limited_h[static_cast<std::size_t>(l)]; }

}  // namespace

TEST_CASE("a battery charges as the sum on paper says") {
    Storage s = kilowatt_hour();
    s.charge_efficiency_ratio = 0.9;
    const LightSeries l = days(24);
    // 500 Wh at 0.9 × 100 W.
    const BatteryRun r = battery_run(s, l, std::vector<double>(24, 100.0), {0, 0, 0.0, 0.5});
    REQUIRE(r.target_h);
    CHECK(*r.target_h == Approx(500.0 / 90.0).epsilon(1e-9));
    CHECK(r.end_ratio == Approx(1.0));
    CHECK(r.solar_used_wh == Approx(1000.0 / 0.9));
    CHECK(r.turned_away_wh == Approx(2400.0 - 1000.0 / 0.9));
    CHECK(r.charge_loss_wh == Approx(1000.0 / 0.9 - 1000.0));
    CHECK(limit_h(r, ChargeLimit::offer) == Approx(1000.0 / 90.0).margin(0.02));
    CHECK(limit_h(r, ChargeLimit::full) == Approx(24.0 - 1000.0 / 90.0).margin(0.02));
    CHECK(std::abs(r.imbalance_ratio(1000.0)) < 1e-12);
}

TEST_CASE("law: a run that begins within an hour has the rest of its light, to the minute, and never none of it") {
    const Storage s = kilowatt_hour();
    const LightSeries l = days(2);
    for (const double skipped_h : {0.0, 0.25, 0.5, 0.9, 0.983, 0.999, 1.0}) {
        CAPTURE(skipped_h);
        const BatteryRun r = battery_run(s, l, std::vector<double>(2, 100.0), {0, 0, 0.1, std::nullopt, skipped_h});
        REQUIRE(r.steps.size() == 2);
        const double first_h = std::max(1.0, 60.0 - std::round(60.0 * skipped_h)) / 60.0;
        CHECK(r.steps[0].run_h == Approx(first_h));
        CHECK(r.steps[0].solar_used_w == Approx(100.0));
        CHECK(r.steps[1].run_h == Approx(1.0));
        CHECK(r.solar_used_wh == Approx(100.0 * (first_h + 1.0)));
        CHECK(r.end_ratio == Approx(0.1 + 0.1 * (first_h + 1.0)));
    }
}

TEST_CASE("near full the charge falls off as an exponential in time") {
    Storage s = kilowatt_hour();
    s.charge_limit_w = 200.0;
    s.taper_from_ratio = 0.8;
    s.taper_end_ratio = 0.1;
    const LightSeries l = days(48);
    const BatteryRun r = battery_run(s, l, std::vector<double>(48, 1000.0), {0, 0, 0.0, 0.98});
    REQUIRE(r.target_h);
    // By hand: 800 Wh at 200 W; then dE/dt = 200·(1 − 0.9·x), x = (E − 800)/200, so t = ln(1/(1 − 0.9·x))/0.9 hours.
    const double by_hand_h = 4.0 + std::log(1.0 / (1.0 - 0.9 * 0.9)) / 0.9;
    CHECK(*r.target_h == Approx(by_hand_h).margin(0.02));
    CHECK(limit_h(r, ChargeLimit::rate) == Approx(4.0).margin(0.02));
    CHECK(limit_h(r, ChargeLimit::taper) > 1.5);
    CHECK(charge_limit_w(s, 0.5) == 200.0);
    CHECK(charge_limit_w(s, 0.9) == Approx(200.0 * 0.55));
    CHECK(charge_limit_w(s, 1.0) == Approx(20.0));
    s.charge_efficiency_ratio = 0.95;
    s.full_efficiency_ratio = 0.75;
    CHECK(charge_efficiency_ratio(s, 0.5) == 0.95);
    CHECK(charge_efficiency_ratio(s, 0.9) == Approx(0.85));
}

TEST_CASE("a lithium battery is not charged below 0 °C") {
    Storage s = kilowatt_hour();
    LightSeries l = days(24);
    for (LightHour& h : l.hours) h.air = Celsius{-0.5};
    const std::vector<double> sun(24, 50.0);
    const BatteryRun r = battery_run(s, l, sun, {0, 0, 0.3, std::nullopt});
    CHECK(r.end_ratio == 0.3);
    CHECK(r.turned_away_wh == Approx(1200.0));
    CHECK(limit_h(r, ChargeLimit::cold) == Approx(24.0));
    s.warmer_than_air_k = 1.0;
    CHECK(battery_run(s, l, sun, {0, 0, 0.3, std::nullopt}).end_ratio > 0.9);
    s.warmer_than_air_k = 0.0;
    s.coldest_charging = Celsius{-20.0};
    CHECK(battery_run(s, l, sun, {0, 0, 0.3, std::nullopt}).end_ratio > 0.9);
}

TEST_CASE("loads take the sun first, then the battery down to its usable share") {
    Storage s = kilowatt_hour();
    s.usable_ratio = 0.8;
    s.discharge_efficiency_ratio = 0.9;
    s.loads = {{18.0, 6.0, 60.0}};  // over midnight
    CHECK(daily_load_wh(s) == Approx(720.0));
    CHECK(*autonomy_days(s) == Approx(800.0 / (720.0 / 0.9)));
    const LightSeries l = days(24);
    const BatteryRun dark = battery_run(s, l, std::vector<double>(24, 0.0), {0, 0, 1.0, std::nullopt});
    // 800 Wh are 720 Wh at the loads: all of the day's, to the minute.
    CHECK(dark.load_wh == Approx(720.0));
    CHECK(dark.unserved_wh == Approx(0.0).margin(1e-9));
    CHECK(dark.lowest_ratio == Approx(0.2));
    CHECK(dark.discharge_loss_wh == Approx(80.0));
    s.standing_drain_w = 10.0;
    CHECK(*autonomy_days(s) < 1.0);
    const BatteryRun drained = battery_run(s, l, std::vector<double>(24, 0.0), {0, 0, 1.0, std::nullopt});
    CHECK(drained.drain_wh == Approx(240.0));
    CHECK(drained.unserved_wh > 0.0);
    CHECK(drained.unserved_h >= 1.0);
    CHECK(std::abs(drained.imbalance_ratio(1000.0)) < 1e-12);
    const BatteryRun sunny = battery_run(s, l, std::vector<double>(24, 80.0), {0, 0, 0.2, std::nullopt});
    CHECK(sunny.unserved_wh == Approx(0.0).margin(1e-9));
    CHECK_FALSE(autonomy_days(kilowatt_hour()));
}

TEST_CASE("what the wall leaves the sun depends on which goes first") {
    Storage s = kilowatt_hour();
    WallCharging wall;
    wall.limit_w = 300.0;
    wall.combined_w = 350.0;
    s.wall = wall;
    const LightSeries l = days(2);
    const std::vector<double> sun(2, 200.0);
    const BatteryRun sun_first = battery_run(s, l, sun, {0, 0, 0.0, std::nullopt});
    CHECK(sun_first.solar_used_wh == Approx(400.0));
    CHECK(sun_first.wall_wh == Approx(300.0));
    CHECK(limit_h(sun_first, ChargeLimit::combined) == Approx(2.0));
    s.wall->wall_goes_first = true;
    const BatteryRun wall_first = battery_run(s, l, sun, {0, 0, 0.0, std::nullopt});
    CHECK(wall_first.wall_wh == Approx(600.0));
    CHECK(wall_first.solar_used_wh == Approx(100.0));
    CHECK(wall_first.turned_away_wh == Approx(300.0));
    // Only for an hour, and then less than it could.
    s.wall->hours = {{1.0, 2.0, 100.0}};
    const BatteryRun an_hour = battery_run(s, l, sun, {0, 0, 0.0, std::nullopt});
    CHECK(an_hour.wall_wh == Approx(100.0));
    CHECK(an_hour.solar_used_wh == Approx(400.0));
}

TEST_CASE("more sun never leaves less in the battery, a larger one never turns more away") {
    Storage s = kilowatt_hour();
    s.charge_limit_w = 150.0;
    s.taper_from_ratio = 0.85;
    s.charge_efficiency_ratio = 0.95;
    s.loads = {{7.0, 23.0, 25.0}, {18.0, 21.0, 70.0}};
    s.standing_drain_w = 3.0;
    Trial t = sunny_trial();
    const LightSeries l = light_series(t.setup, cloudy_year(t.setup));
    const auto sun = [&](double scale) {
        std::vector<double> w;
        for (const double g : l.planes[0].light_w_per_m2) w.push_back(scale * g);
        return w;
    };
    double last_load = 0.0;
    for (const double scale : {0.02, 0.05, 0.1, 0.2, 0.4}) {
        const BatteryRun r = battery_run(s, l, sun(scale), {0, 0, 0.5, std::nullopt});
        CHECK(r.load_wh >= last_load * (1.0 - 1e-12));
        CHECK(std::abs(r.imbalance_ratio(s.capacity_wh)) < 1e-9);
        last_load = r.load_wh;
    }
    double last_away = 1e12;
    for (const double capacity : {300.0, 600.0, 1200.0, 5000.0}) {
        s.capacity_wh = capacity;
        const BatteryRun r = battery_run(s, l, sun(0.1), {0, 0, 0.5, std::nullopt});
        CHECK(r.turned_away_wh <= last_away * (1.0 + 1e-9));
        last_away = r.turned_away_wh;
    }
    CHECK(last_away >= 0.0);
}

TEST_CASE("a day out of a year, from one state of charge to another") {
    Trial t = sunny_trial();
    t.wire(2, 2);
    const SystemModel system(t.setup);
    const LightSeries l = light_series(t.setup, climate_year(t.setup));
    const HarvestYear y = HarvestStudy(system, l).run(t.plan);
    Storage s = kilowatt_hour();
    const BatteryRun june = battery_run(s, l, y.delivered_w, {24u * 171u, 24, 0.2, 0.8});
    REQUIRE(june.target_h);
    CHECK(*june.target_h > 5.0);  // after sunrise
    CHECK(*june.target_h < 14.0);
    CHECK(june.steps.size() == 24);
    const BatteryRun december = battery_run(s, l, y.delivered_w, {24u * 350u, 24, 0.2, 0.8});
    CHECK((!december.target_h || *december.target_h > *june.target_h));
    CHECK(battery_run(s, l, y.delivered_w, {0, 24, 0.9, 0.8}).target_h == 0.0);
}
