// plait charge's figures: the hand rule, single days against sums on paper, and laws over random set-ups.
#include <plait/study/charge_sheet.hpp>

#include <plait/base/civil_date.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "made_weather.hpp"

using namespace plait;
using namespace plait::study;

namespace {

struct Made {
    Trial trial = sunny_trial();
    Storage storage;
    Made() {
        trial.wire(2, 2);
        storage.capacity_wh = 1000.0;
    }
};

ChargeSheet sheet_of(const Made& m, const WeatherSeries& weather, const ChargeAsk& ask, Skies skies = Skies::clear) {
    const SystemModel system(m.trial.setup);
    const LightSeries light = light_series(m.trial.setup, weather);
    const auto first = first_of_day(light, ask.day, skies != Skies::measured);
    REQUIRE(first);
    return charge_sheet(system, m.trial.plan, light, m.storage, ask, *first, skies);
}

double sum_wh(const BatteryRun& run, const ChargeSheet& s) {
    double wh = 0.0;
    for (std::size_t i = 0; i < run.steps.size(); ++i) wh += s.offered_w[s.first + i] * run.steps[i].run_h;
    return wh;
}

}  // namespace

// Common practice, no source: "1 kWh at 400 W is a bit under three hours": 2½ h, and what charging and the taper cost.
TEST_CASE("a kilowatt-hour at 400 W takes a bit under three hours") {
    Storage s;
    s.capacity_wh = 1000.0;
    s.charge_limit_w = 400.0;
    s.taper_from_ratio = 0.95;
    s.charge_efficiency_ratio = 0.95;
    LightSeries l;
    for (int i = 0; i < 6; ++i) {
        LightHour h;
        h.local_h = 8.0 + i;
        h.air = Celsius{20.0};
        l.hours.push_back(h);
    }
    const BatteryRun r = battery_run(s, l, std::vector<double>(6, 400.0), {0, 0, 0.0, 1.0});
    REQUIRE(r.target_h);
    CHECK(*r.target_h > 2.5);
    CHECK(*r.target_h < 3.0);
}

TEST_CASE("a run begins in the middle of an interval, to the minute") {
    Storage s;
    s.capacity_wh = 1000.0;
    LightSeries l;
    for (int i = 0; i < 4; ++i) {
        LightHour h;
        h.local_h = 8.0 + i;
        h.air = Celsius{20.0};
        l.hours.push_back(h);
    }
    // A quarter of the first hour is left: 25 Wh of the 100 W; the rest of 225 Wh in hours of 100 Wh.
    const BatteryRun r = battery_run(s, l, std::vector<double>(4, 100.0), {0, 0, 0.0, 0.225, 0.75});
    REQUIRE(r.target_h);
    CHECK(*r.target_h == Approx(2.25));
    CHECK(r.steps.front().run_h == Approx(0.25));
    CHECK(r.solar_used_wh == Approx(325.0));
}

TEST_CASE("a clear June day fills it, and the day's account goes on where the harvest's ends") {
    Made m;
    m.storage.charge_limit_w = 150.0;
    m.storage.taper_from_ratio = 0.9;
    m.storage.loads = {{18.0, 23.0, 20.0}};
    ChargeAsk ask;
    ask.from_ratio = 0.2;
    const ChargeSheet s = sheet_of(m, climate_year(m.trial.setup), ask);
    REQUIRE(s.target_h());
    CHECK(s.days_later() == 0);
    CHECK(s.start_is_dawn);
    CHECK(s.start_h > 2.0);
    CHECK(s.start_h < 6.0);
    CHECK(s.target_time_h() == Approx(s.start_h + *s.target_h()));
    CHECK(s.first_day.highest().charge_ratio == Approx(1.0));
    // Midnight to midnight the sun offers what the harvest delivers; from first light on it is all of it.
    CHECK(sum_wh(s.first_day, s) == Approx(s.harvest.total.delivered_wh).epsilon(1e-9));
    CHECK(s.first_day.solar_used_wh + s.first_day.turned_away_wh == Approx(sum_wh(s.first_day, s)).epsilon(1e-9));
    double by_limit = 0.0;
    for (const double wh : s.first_day.turned_away_by_wh) by_limit += wh;
    CHECK(by_limit == Approx(s.first_day.turned_away_wh).epsilon(1e-9));
    CHECK(s.first_day.turned_away_by_wh[static_cast<std::size_t>(ChargeLimit::full)] > 0.0);
    // The stretches are the day.
    double spans_wh = 0.0;
    double at_h = s.start_h;
    for (const ChargeSpan& span : s.spans) {
        CHECK(span.from_h == Approx(at_h));
        at_h = span.to_h;
        spans_wh += span.offered_wh;
    }
    CHECK(at_h == Approx(24.0));
    CHECK(spans_wh == Approx(sum_wh(s.first_day, s)).epsilon(1e-9));
    // The run's first day is the first day's run.
    for (std::size_t i = 0; i < s.first_day.steps.size(); ++i) {
        CHECK(s.run.steps[i].charge_ratio == s.first_day.steps[i].charge_ratio);
    }
    REQUIRE(s.months.size() == 12);
    CHECK(s.months[5].reached == s.months[5].days);
}

TEST_CASE("in December it may take days, and a typical year goes on in January") {
    Made m;
    m.storage.capacity_wh = 6000.0;
    ChargeAsk ask;
    ask.from_ratio = 0.1;
    ask.day = {HarvestSpan::day, 12, 28, std::nullopt};
    const ChargeSheet s = sheet_of(m, climate_year(m.trial.setup), ask);
    REQUIRE(s.target_h());
    CHECK(s.days_later() > 3);
    CHECK(s.light.hours.size() == 24u * most_charge_days);
    // Measured days end where the file ends.
    const ChargeSheet ends = sheet_of(m, climate_year(m.trial.setup), ask, Skies::measured);
    CHECK(ends.light.hours.size() == 24u * 4u);
    CHECK_FALSE(ends.target_h());
    CHECK(ends.run.highest().charge_ratio < 1.0);
}

TEST_CASE("a day is found by its year only where years say something") {
    Made m;
    const LightSeries light = light_series(m.trial.setup, climate_year(m.trial.setup));
    CHECK(*first_of_day(light, {HarvestSpan::day, 3, 1, std::nullopt}, false) == 24u * 59u);
    CHECK_FALSE(first_of_day(light, {HarvestSpan::day, 3, 1, 1999}, false));
    CHECK(first_of_day(light, {HarvestSpan::day, 3, 1, 1999}, true));
    CHECK_FALSE(first_of_day(light, {HarvestSpan::day, 2, 29, std::nullopt}, true));  // 2025 has none
}

TEST_CASE("the station's own use is the drain where the battery states none, never both") {
    Made m;
    m.trial.setup.losses.own_use_w = 8.0;
    const WeatherSeries year = climate_year(m.trial.setup);
    CHECK(sheet_of(m, year, {}).storage.standing_drain_w == 8.0);
    CHECK(sheet_of(m, year, {}).own_use_is_drain);
    m.storage.standing_drain_w = 3.0;
    CHECK(sheet_of(m, year, {}).storage.standing_drain_w == 3.0);
}

TEST_CASE("laws of charging hold for random set-ups", "[laws]") {
    std::mt19937 random(20260621);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    Made m;
    const SystemModel system(m.trial.setup);
    const LightSeries light = light_series(m.trial.setup, cloudy_year(m.trial.setup));
    const std::vector<double> sun_w = HarvestStudy(system, light).run(m.trial.plan).delivered_w;
    for (int i = 0; i < 300; ++i) {
        Storage s;
        s.capacity_wh = between(200.0, 8000.0);
        s.usable_ratio = between(0.5, 1.0);
        s.charge_limit_w = between(50.0, 800.0);
        if (i % 3 != 0) s.taper_from_ratio = between(0.6, 0.98);
        s.charge_efficiency_ratio = between(0.75, 1.0);
        if (i % 4 == 0) s.full_efficiency_ratio = s.charge_efficiency_ratio * between(0.6, 1.0);
        s.discharge_efficiency_ratio = between(0.8, 1.0);
        s.standing_drain_w = between(0.0, 10.0);
        s.warmer_than_air_k = between(0.0, 10.0);
        if (i % 2 == 0) s.loads = {{between(0.0, 23.0), between(0.0, 23.0), between(5.0, 120.0)}};
        BatteryAsk ask{static_cast<std::size_t>(between(0.0, 364.0)) * 24u + 6u, 72, between(0.0, 0.7), 0.0, between(0.0, 0.9)};
        ask.target_ratio = between(ask.start_ratio + 0.05, 1.0);
        const auto scaled = [&](double by) {
            std::vector<double> w;
            for (const double one : sun_w) w.push_back(by * one);
            return w;
        };
        const auto reached_h = [](const BatteryRun& r) { return r.target_h.value_or(1e9); };
        INFO("case " << i);
        const BatteryRun run = battery_run(s, light, sun_w, ask);
        CHECK(std::abs(run.imbalance_ratio(s.capacity_wh)) < 1e-9);
        CHECK(run.solar_used_wh + run.turned_away_wh >= 0.0);
        // More sun is never later. Half a minute: in the taper a step is a minute long.
        const BatteryRun brighter = battery_run(s, light, scaled(between(1.0, 3.0)), ask);
        CHECK(reached_h(brighter) <= reached_h(run) + 0.5 / 60.0);
        // Nor is a wall beside it: whichever goes first.
        Storage walled = s;
        WallCharging wall;
        wall.limit_w = between(20.0, 900.0);
        wall.wall_goes_first = i % 5 == 0;
        walled.wall = wall;
        const BatteryRun beside = battery_run(walled, light, sun_w, ask);
        CHECK(std::abs(beside.imbalance_ratio(s.capacity_wh)) < 1e-9);
        CHECK(reached_h(beside) <= reached_h(run) + 0.5 / 60.0);
        // With a limit on both together too, as long as the wall alone could give as much.
        walled.wall->combined_w = between(1.0, 1.5) * std::max(wall.limit_w, 1200.0);
        CHECK(reached_h(battery_run(walled, light, sun_w, ask)) <= reached_h(run) + 0.5 / 60.0);
        // A larger battery is never full earlier.
        Storage larger = s;
        larger.capacity_wh *= between(1.0, 3.0);
        CHECK(reached_h(battery_run(larger, light, sun_w, ask)) >= reached_h(run) - 0.5 / 60.0);
        // A warmer one never later.
        Storage warmer = s;
        warmer.warmer_than_air_k += between(0.0, 20.0);
        CHECK(reached_h(battery_run(warmer, light, sun_w, ask)) <= reached_h(run) + 0.5 / 60.0);
    }
}
