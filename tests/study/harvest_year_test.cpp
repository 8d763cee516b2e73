#include <plait/study/harvest_sheet.hpp>
#include <plait/study/harvest_year.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>

#include "made_weather.hpp"

using namespace plait;
using namespace plait::study;

namespace {

HarvestYear harvest(const Trial& t, const WeatherSeries& weather) {
    const SystemModel system(t.setup);
    const LightSeries light = light_series(t.setup, weather);
    return HarvestStudy(system, light).run(t.plan);
}
HarvestYear harvest(const Trial& t) { return harvest(t, cloudy_year(t.setup)); }

double sum_of(const std::vector<double>& values) { return std::accumulate(values.begin(), values.end(), 0.0); }

/// The same wiring, written so that nothing in it is equal at a glance: every group says its full light.
ArrayPlan written_by_groups(const SystemModel& system, ArrayPlan plan) {
    for (InputWiring& w : plan) {
        for (SeriesString& s : w.strings) {
            for (PanelPlace& p : s.panels) p.groups.assign(system.group_count(p.kind), GroupState{});
        }
    }
    return plan;
}

}  // namespace

TEST_CASE("every watt-hour of a year is delivered or lost, by year, month and hour of day") {
    Trial t = sunny_trial();
    // In the cold 80 W come before 2 A, in the warmth after.
    t.one_limit_a(2.0);
    t.input().max_power_w = 80.0;
    t.setup.losses.soiling_ratio = 0.03;
    t.setup.losses.ageing_per_year_ratio = 0.005;
    t.setup.losses.age_years = 10.0;
    t.setup.losses.snow_ratio = {0.5, 0.2, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.3};
    t.setup.planes[0].horizon = {{90.0, 12.0}, {180.0, 5.0}, {270.0, 15.0}};
    Cable cable;
    cable.run = CableRun::string;
    cable.length_m = 12.0;
    cable.size = {2.5, std::nullopt};
    t.setup.cables = {cable};
    t.setup.controller.efficiency_ratio = 0.94;
    const HarvestYear y = harvest(t);
    CHECK(std::abs(y.total.imbalance_ratio()) < 1e-9);
    CHECK(y.total.delivered_wh > 50000.0);
    HarvestSum months;
    HarvestSum hours;
    for (const HarvestSum& m : y.months) {
        CHECK(std::abs(m.imbalance_ratio()) < 1e-9);
        months.ideal_wh += m.ideal_wh;
        months.delivered_wh += m.delivered_wh;
    }
    for (const HarvestSum& h : y.hours_of_day) {
        CHECK(std::abs(h.imbalance_ratio()) < 1e-9);
        hours.delivered_wh += h.delivered_wh;
    }
    CHECK(months.ideal_wh == Approx(y.total.ideal_wh).epsilon(1e-12));
    CHECK(months.delivered_wh == Approx(y.total.delivered_wh).epsilon(1e-12));
    CHECK(hours.delivered_wh == Approx(y.total.delivered_wh).epsilon(1e-12));
    CHECK(sum_of(y.delivered_w) == Approx(y.total.delivered_wh).epsilon(1e-12));
    REQUIRE(y.inputs.size() == 1);
    CHECK(std::abs(y.inputs[0].sum.imbalance_ratio()) < 1e-9);
    CHECK(sum_of(y.inputs[0].taken_w) * 0.94 == Approx(y.total.delivered_wh).epsilon(1e-12));
    for (const HarvestLoss loss :
         {HarvestLoss::shade, HarvestLoss::glass, HarvestLoss::soiling, HarvestLoss::snow, HarvestLoss::ageing,
          HarvestLoss::cables, HarvestLoss::current_limit, HarvestLoss::power_limit, HarvestLoss::conversion}) {
        INFO(name_of(loss));
        CHECK(y.total.loss_wh(loss) > 0.0);
    }
    CHECK(std::abs(y.total.loss_wh(HarvestLoss::mismatch)) < 1e-6);
    // By hand: 3 % of what has come through the glass, 5 % of what is left after soiling and snow.
    const double entering = y.total.ideal_wh - y.total.loss_wh(HarvestLoss::shade) - y.total.loss_wh(HarvestLoss::glass);
    CHECK(y.total.loss_wh(HarvestLoss::soiling) == Approx(0.03 * entering));
    CHECK(y.total.loss_wh(HarvestLoss::ageing) == Approx(0.05 * (0.97 * entering - y.total.loss_wh(HarvestLoss::snow))));
    CHECK(y.total.loss_wh(HarvestLoss::conversion) == Approx(0.06 / 0.94 * y.total.delivered_wh));
    CHECK(y.inputs[0].limited_h[static_cast<std::size_t>(HarvestLoss::current_limit)] > 100.0);
    CHECK((!y.unstated.soiling && !y.unstated.snow && !y.unstated.ageing && y.unstated.own_use && !y.unstated.shade));
    CHECK(y.covered_h == 8760.0);
}

TEST_CASE("one hour of the year is what the same curve gives on its own") {
    Trial t = sunny_trial();
    t.one_limit_a(3.0);
    const SystemModel system(t.setup);
    const LightSeries light = light_series(t.setup, cloudy_year(t.setup));
    const HarvestYear y = HarvestStudy(system, light).run(t.plan);
    for (const std::size_t i : {std::size_t{24 * 171 + 12}, std::size_t{24 * 60 + 10}, std::size_t{24 * 300 + 14}}) {
        const LightHour& h = light.hours[i];
        // SAND2004-3535, close to a roof excepted: propped up is glass/glass on an open rack.
        const double g = light.planes[0].light_w_per_m2[i];
        const double cell = h.air.degc + g * (std::exp(-3.47 - 0.0594 * h.wind_m_per_s) + 0.003);
        const physics::DiodeCurve curve =
            system.fitted(0).model.at({light.planes[0].entering_w_per_m2[i], {cell}}).scaled(2, 1);
        const physics::OperatingPoint p = physics::operating_point(curve, system.window(0));
        CHECK(y.delivered_w[i] == Approx(p.point.power_w()).epsilon(1e-10));
        CHECK(y.delivered_w[i] > 0.0);
    }
}

TEST_CASE("the composed curve of every hour gives what equal strings give") {
    Trial t = sunny_trial();
    t.wire(2, 2).one_limit_a(7.0);
    t.input().start_voltage_v = 45.0;
    const SystemModel system(t.setup);
    // A month is enough: the composed curve is the slow one.
    WeatherSeries june = cloudy_year(t.setup);
    june.hours = {june.hours.begin() + 150 * 24, june.hours.begin() + 165 * 24};
    const LightSeries light = light_series(t.setup, june);
    HarvestStudy study(system, light);
    const HarvestYear fast = study.run(t.plan);
    const HarvestYear slow = study.run(written_by_groups(system, t.plan));
    REQUIRE(fast.delivered_w.size() == slow.delivered_w.size());
    for (std::size_t i = 0; i < fast.delivered_w.size(); ++i) {
        CHECK(fast.delivered_w[i] == Approx(slow.delivered_w[i]).epsilon(1e-9).margin(1e-9));
    }
    CHECK(fast.total.loss_wh(HarvestLoss::current_limit) ==
          Approx(slow.total.loss_wh(HarvestLoss::current_limit)).epsilon(1e-7));
    CHECK(fast.total.loss_wh(HarvestLoss::not_started) == Approx(slow.total.loss_wh(HarvestLoss::not_started)).margin(1e-6));
    CHECK(std::abs(slow.total.loss_wh(HarvestLoss::mismatch)) < 1e-6 * slow.total.ideal_wh);
}

TEST_CASE("two half arrays facing alike are one") {
    Trial t = sunny_trial();
    t.wire(2, 2);
    const HarvestYear one = harvest(t);
    Trial two = t;
    two.setup.planes.push_back(two.setup.planes.front());
    for (PanelPlace& p : two.plan[0].strings[1].panels) p.plane = 1;
    const HarvestYear half = harvest(two);
    CHECK(half.total.delivered_wh == Approx(one.total.delivered_wh).epsilon(1e-9));
    CHECK(half.total.ideal_wh == Approx(one.total.ideal_wh).epsilon(1e-12));
    CHECK(std::abs(half.total.loss_wh(HarvestLoss::mismatch)) < 1e-6 * one.total.ideal_wh);
}

TEST_CASE("strings to east and west on one input are a mixed array, not an average") {
    Trial t = sunny_trial();
    t.wire(2, 2);
    t.setup.planes.push_back(t.setup.planes.front());
    t.setup.planes[0].azimuth_deg = 90.0;
    t.setup.planes[1].azimuth_deg = 270.0;
    for (PanelPlace& p : t.plan[0].strings[1].panels) p.plane = 1;
    WeatherSeries weather = climate_year(t.setup);
    weather.hours = {weather.hours.begin() + 150 * 24, weather.hours.begin() + 157 * 24};
    const HarvestYear parallel = harvest(t, weather);
    // Each string by itself.
    Trial apart = t;
    apart.add_input(rules::same_points(20.0, 5.0));
    apart.plan[0].strings = {t.plan[0].strings[0]};
    apart.plan[1].strings = {t.plan[0].strings[1]};
    const HarvestYear each = harvest(apart, weather);
    CHECK(each.total.ideal_wh == Approx(parallel.total.ideal_wh));
    CHECK(parallel.total.loss_wh(HarvestLoss::mismatch) > 0.0);
    CHECK(parallel.total.loss_wh(HarvestLoss::mismatch) < 0.05 * parallel.total.ideal_wh);
    CHECK(parallel.total.delivered_wh < each.total.delivered_wh);
    // In series the weaker half holds the other back far more.
    Trial series = t;
    series.plan[0].strings = {t.plan[0].strings[0]};
    series.plan[0].strings[0].panels.insert(series.plan[0].strings[0].panels.end(), t.plan[0].strings[1].panels.begin(),
                                            t.plan[0].strings[1].panels.end());
    const HarvestYear held_back = harvest(series, weather);
    CHECK(held_back.total.loss_wh(HarvestLoss::mismatch) > 3.0 * parallel.total.loss_wh(HarvestLoss::mismatch));
    // The plane may be the kind's instead of the place's.
    Trial by_kind = t;
    by_kind.add_kind("west", by_kind.panel());
    by_kind.setup.kinds[1].plane = 1;
    for (PanelPlace& p : by_kind.plan[0].strings[1].panels) p = {1, {}};
    CHECK(harvest(by_kind, weather).total.delivered_wh == Approx(parallel.total.delivered_wh).epsilon(1e-9));
}

TEST_CASE("a wider window and higher limits never harvest less") {
    Trial t = sunny_trial();
    t.wire(3, 2);
    const WeatherSeries weather = cloudy_year(t.setup);
    const auto delivered = [&](const Trial& trial) { return harvest(trial, weather).total.delivered_wh; };
    double last = 0.0;
    for (const double high : {30.0, 45.0, 55.0, 65.0, 80.0, 100.0}) {
        Trial w = t;
        w.input().tracking_max_v = high;
        const double now = delivered(w);
        CHECK(now >= last * (1.0 - 1e-12));
        last = now;
    }
    last = 0.0;
    for (const double low : {70.0, 60.0, 50.0, 40.0, 20.0}) {
        Trial w = t;
        w.input().tracking_min_v = low;
        const double now = delivered(w);
        CHECK(now >= last * (1.0 - 1e-12));
        last = now;
    }
    last = 0.0;
    for (const double limit : {1.0, 3.0, 6.0, 9.0, 12.0}) {
        Trial w = t;
        w.one_limit_a(limit);
        const double now = delivered(w);
        CHECK(now >= last * (1.0 - 1e-12));
        last = now;
    }
    last = 0.0;
    for (const double limit : {50.0, 150.0, 300.0, 700.0}) {
        Trial w = t;
        w.input().max_power_w = limit;
        const double now = delivered(w);
        CHECK(now >= last * (1.0 - 1e-12));
        CHECK(now <= limit * 8760.0);
        last = now;
    }
}

TEST_CASE("more sun never lowers what the array offers at equal cell temperature") {
    const Trial t = sunny_trial();
    const SystemModel system(t.setup);
    for (const double degc : {-20.0, 10.0, 45.0, 70.0}) {
        double last = 0.0;
        for (double g = 1.0; g < 1400.0; g *= 1.15) {
            const double now = system.fitted(0).model.at({g, {degc}}).maximum_power().power_w();
            CHECK(now > last);
            last = now;
        }
    }
}

TEST_CASE("the input sleeps until the open circuit reaches its start voltage, and then runs on") {
    Trial t = sunny_trial();
    t.input().tracking_min_v = 20.0;
    const HarvestYear early = harvest(t);
    CHECK(early.total.loss_wh(HarvestLoss::not_started) >= 0.0);
    Trial late = t;
    late.input().start_voltage_v = 47.0;  // two panels: 50 V at 25 °C in full light
    const HarvestYear y = harvest(late);
    CHECK(y.total.loss_wh(HarvestLoss::not_started) > early.total.loss_wh(HarvestLoss::not_started));
    CHECK(y.total.delivered_wh < early.total.delivered_wh);
    CHECK(y.total.delivered_wh > 0.1 * early.total.delivered_wh);
    Trial never = t;
    never.input().start_voltage_v = 90.0;
    const HarvestYear none = harvest(never);
    CHECK(none.total.delivered_wh == 0.0);
    CHECK(none.inputs[0].running_h == 0.0);
}

TEST_CASE("limits on all inputs together, on the battery's charge, and a direct connection have their own accounts") {
    Trial t = sunny_trial();
    t.wire(2, 2);
    t.add_input(rules::same_points(20.0, 5.0));
    t.controller().max_total_power_w = 300.0;
    const HarvestYear shared = harvest(t);
    CHECK(shared.total.loss_wh(HarvestLoss::shared_limit) > 0.0);
    CHECK(*std::max_element(shared.delivered_w.begin(), shared.delivered_w.end()) <= 300.0 * (1.0 + 1e-12));
    Trial charge = sunny_trial();
    charge.wire(2, 2);
    charge.controller().battery = Battery{10.0, 12.0, 14.0, 15.0};
    const HarvestYear c = harvest(charge);
    CHECK(c.total.loss_wh(HarvestLoss::charge_limit) > 0.0);
    CHECK(c.total.loss_wh(HarvestLoss::power_limit) == 0.0);
    CHECK(c.inputs[0].highest_w <= 180.0 * (1.0 + 1e-9));
    // Where there are both, the lower one costs all that is lost by either.
    charge.controller().max_total_power_w = 250.0;
    const HarvestYear by_charge = harvest(charge);
    CHECK(by_charge.total.loss_wh(HarvestLoss::charge_limit) == c.total.loss_wh(HarvestLoss::charge_limit));
    CHECK(by_charge.total.loss_wh(HarvestLoss::shared_limit) == 0.0);
    charge.controller().max_total_power_w = 150.0;
    const HarvestYear by_total = harvest(charge);
    CHECK(by_total.total.loss_wh(HarvestLoss::shared_limit) > c.total.loss_wh(HarvestLoss::charge_limit));
    CHECK(by_total.total.loss_wh(HarvestLoss::charge_limit) == 0.0);
    Trial direct = sunny_trial();
    direct.wire(1, 2);
    direct.controller().type = ControllerType::direct_connect;
    direct.controller().battery = Battery{11.0, 13.0, 14.4, std::nullopt};
    direct.controller().direct_connect_drop_v = 0.5;
    direct.input().start_voltage_v.reset();
    const HarvestYear d = harvest(direct);
    CHECK(d.total.loss_wh(HarvestLoss::pinned) > 0.05 * d.total.ideal_wh);
    CHECK(std::abs(d.total.imbalance_ratio()) < 1e-9);
}

TEST_CASE("hours of which nothing is known count for nothing, and the station's own use runs day and night") {
    Trial t = sunny_trial();
    WeatherSeries w = cloudy_year(t.setup);
    const double whole = harvest(t, w).total.delivered_wh;
    for (std::size_t i = 24u * 181u; i < 24u * 191u; ++i) w.hours[i].global_w_per_m2.reset();
    t.setup.losses.own_use_w = 8.0;
    const HarvestYear y = harvest(t, w);
    CHECK(y.total.delivered_wh < whole);
    CHECK(y.covered_h < 8760.0);
    CHECK(y.own_use_wh == Approx(8.0 * y.covered_h));
    CHECK(y.net_wh() == Approx(y.total.delivered_wh - y.own_use_wh));
    for (std::size_t i = 24u * 181u; i < 24u * 191u; ++i) CHECK(y.delivered_w[i] == 0.0);
}

// An hour cut in two is two half hours of the same light: no energy and no time may change.
TEST_CASE("shorter steps of the same light change no watt-hour and no hour") {
    for (const bool shared : {false, true}) {
        CAPTURE(shared);
        Trial t = sunny_trial();
        t.one_limit_a(2.0);
        if (shared) {
            t.wire(2, 2);
            t.add_input(rules::same_points(20.0, 5.0));
            t.controller().max_total_power_w = 150.0;
        }
        t.setup.losses.own_use_w = 8.0;
        WeatherSeries weather = cloudy_year(t.setup);
        weather.hours = {weather.hours.begin() + 160 * 24, weather.hours.begin() + 170 * 24};
        for (std::size_t i = 30; i < 42; ++i) weather.hours[i].global_w_per_m2.reset();
        const SystemModel system(t.setup);
        const LightSeries hours = light_series(t.setup, weather);
        std::vector<std::size_t> twice;
        for (std::size_t i = 0; i < 2 * hours.hours.size(); ++i) twice.push_back(i / 2);
        LightSeries halves = part_of(hours, twice);
        halves.step_h = 0.5 * hours.step_h;
        const HarvestYear a = HarvestStudy(system, hours).run(t.plan);
        const HarvestYear b = HarvestStudy(system, halves).run(t.plan);

        const auto same = [](double value) { return Approx(value).epsilon(1e-9).margin(1e-9); };
        // An input falls asleep after the interval in which its array first stays below the window: which of the two takes the
        // hour of dusk is a matter of the step, what they take together is not.
        const auto asleep_as_one = [](std::array<double, harvest_loss_count> of) {
            double& not_started = of[static_cast<std::size_t>(HarvestLoss::not_started)];
            not_started += std::exchange(of[static_cast<std::size_t>(HarvestLoss::window_bottom)], 0.0);
            return of;
        };
        const auto same_sum = [&](const HarvestSum& x, const HarvestSum& y) {
            CHECK(y.ideal_wh == same(x.ideal_wh));
            CHECK(y.delivered_wh == same(x.delivered_wh));
            const auto x_wh = asleep_as_one(x.lost_wh);
            const auto y_wh = asleep_as_one(y.lost_wh);
            for (std::size_t i = 0; i < harvest_loss_count; ++i) CHECK(y_wh[i] == same(x_wh[i]));
        };
        REQUIRE(a.total.delivered_wh > 1000.0);
        same_sum(a.total, b.total);
        for (std::size_t m = 0; m < 12; ++m) same_sum(a.months[m], b.months[m]);
        for (std::size_t h = 0; h < 24; ++h) same_sum(a.hours_of_day[h], b.hours_of_day[h]);
        CHECK(b.covered_h == same(a.covered_h));
        CHECK(b.own_use_wh == same(a.own_use_wh));
        double limited_h = 0.0;
        for (std::size_t i = 0; i < harvest_loss_count; ++i) {
            limited_h += a.limited_h[i];
            CHECK(asleep_as_one(b.limited_h)[i] == same(asleep_as_one(a.limited_h)[i]));
        }
        CHECK(limited_h > 10.0);
        REQUIRE(a.inputs.size() == b.inputs.size());
        for (std::size_t i = 0; i < a.inputs.size(); ++i) {
            same_sum(a.inputs[i].sum, b.inputs[i].sum);
            CHECK(b.inputs[i].running_h == same(a.inputs[i].running_h));
            CHECK(b.inputs[i].highest_w == same(a.inputs[i].highest_w));
        }
        for (const HarvestStep step : {HarvestStep::month, HarvestStep::day, HarvestStep::hour}) {
            const std::vector<HarvestPart> of_hours = parts_of(hours, a, step);
            const std::vector<HarvestPart> of_halves = parts_of(halves, b, step);
            REQUIRE(of_hours.size() == of_halves.size());
            for (std::size_t i = 0; i < of_hours.size(); ++i) {
                CHECK(of_halves[i].covered_h == same(of_hours[i].covered_h));
                CHECK(of_halves[i].possible_wh == same(of_hours[i].possible_wh));
                CHECK(of_halves[i].limited_wh == same(of_hours[i].limited_wh));
                CHECK(of_halves[i].delivered_wh == same(of_hours[i].delivered_wh));
            }
        }
    }
}

TEST_CASE("what shade the wiring states is lost to shade") {
    Trial t = sunny_trial();
    WeatherSeries weather = climate_year(t.setup);
    weather.hours = {weather.hours.begin() + 150 * 24, weather.hours.begin() + 155 * 24};
    t.plan[0].strings[0].panels[0].groups = {{0.4, 0.0}, {1.0, 0.0}};
    const HarvestYear y = harvest(t, weather);
    CHECK(y.total.loss_wh(HarvestLoss::shade) > 0.0);
    CHECK(y.total.loss_wh(HarvestLoss::mismatch) > 0.0);
    CHECK(std::abs(y.total.imbalance_ratio()) < 1e-9);
}

TEST_CASE("clear and dull days have the light of days that are alike, and lose more of it to a limit") {
    Trial t = sunny_trial();
    t.setup.climate.daily_global_wh_per_m2 = {900, 1600, 2900, 4100, 5000, 5500, 5400, 4600, 3300, 1900, 1000, 700};
    t.input().max_power_w = 100.0;
    const WeatherSeries alike = climate_year(t.setup);
    const WeatherSeries mixed = climate_year(t.setup, 2025, DaysOfMonth::mixed);
    std::size_t i = 0;
    for (const double stated_wh : *t.setup.climate.daily_global_wh_per_m2) {
        const int month = month_of(date_of(static_cast<int>(std::floor((mixed.hours[i].start_ut_h + 1.0) / 24.0))));
        double sum_wh = 0.0;
        double least_wh = 1e9;
        double most_wh = 0.0;
        double days = 0.0;
        for (; i < mixed.hours.size(); i += 24) {
            if (month_of(date_of(static_cast<int>(std::floor((mixed.hours[i].start_ut_h + 1.0) / 24.0)))) != month) break;
            double day_wh = 0.0;
            for (std::size_t h = i; h < i + 24; ++h) day_wh += *mixed.hours[h].global_w_per_m2;
            sum_wh += day_wh;
            least_wh = std::min(least_wh, day_wh);
            most_wh = std::max(most_wh, day_wh);
            days += 1.0;
        }
        INFO("month " << month);
        CHECK(sum_wh == Approx(days * stated_wh).epsilon(1e-9));
        CHECK(most_wh > 1.2 * stated_wh);
        CHECK(least_wh < 0.5 * stated_wh);
    }
    const HarvestYear even = harvest(t, alike);
    const HarvestYear real = harvest(t, mixed);
    CHECK(real.total.loss_wh(HarvestLoss::power_limit) > 1.2 * even.total.loss_wh(HarvestLoss::power_limit));
    // No month has more days clear than a clear year has.
    t.setup.climate.daily_global_wh_per_m2.reset();
    CHECK(real.total.loss_wh(HarvestLoss::power_limit) < harvest(t, climate_year(t.setup)).total.loss_wh(HarvestLoss::power_limit));
}
