// Harvest over a time in random set-ups: the account, the order of wirings by it, and what would add.
#include "../study/made_weather.hpp"
#include "../support/setups.hpp"

#include <plait/physics/acceptance_window.hpp>
#include <plait/search/energy_order.hpp>
#include <plait/search/harvest_gains.hpp>
#include <plait/study/harvest_sheet.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numeric>

using namespace plait;
using namespace plait::search;
using namespace plait::study;

namespace {

/// A few days of it are a thousandth of a year's work.
LightSeries some_days(const Setup& setup) {
    const LightSeries year = light_series(setup, cloudy_year(setup));
    LightSeries out = light_in(year, {HarvestSpan::day, 6, 21, std::nullopt});
    for (const auto& [month, day] : {std::pair(12, 21), std::pair(3, 3), std::pair(9, 12)}) {
        const LightSeries more = light_in(year, {HarvestSpan::day, month, day, std::nullopt});
        out.hours.insert(out.hours.end(), more.hours.begin(), more.hours.end());
        for (std::size_t p = 0; p < out.planes.size(); ++p) {
            const auto add = [](std::vector<double>& to, const std::vector<double>& from) { to.insert(to.end(), from.begin(), from.end()); };
            add(out.planes[p].open_w_per_m2, more.planes[p].open_w_per_m2);
            add(out.planes[p].light_w_per_m2, more.planes[p].light_w_per_m2);
            add(out.planes[p].entering_w_per_m2, more.planes[p].entering_w_per_m2);
        }
    }
    return out;
}

Setup placed(test::Dice& dice) {
    Setup setup = test::random_setup(dice, true);
    setup.kinds.front().count = 6;
    setup.location = middle_place(dice.chance(0.3));
    Plane roof;
    roof.name = "roof";
    roof.tilt_deg = dice.between(0.0, 80.0);
    roof.azimuth_deg = dice.between(0.0, 359.0);
    if (dice.chance(0.5)) roof.horizon = {{90.0, dice.between(0.0, 30.0)}, {200.0, 2.0}, {270.0, dice.between(0.0, 20.0)}};
    setup.planes = {roof};
    if (dice.chance(0.5)) setup.losses.soiling_ratio = dice.between(0.0, 0.2);
    return setup;
}

double sum_of(const std::vector<double>& values) { return std::accumulate(values.begin(), values.end(), 0.0); }

}  // namespace

TEST_CASE("harvest: in random set-ups every watt-hour is delivered or lost, whichever way it is summed up") {
    test::Dice dice(20261);
    for (int round = 0; round < test::rounds(40, 400); ++round) {
        const Setup setup = placed(dice);
        ArrayPlan plan;
        for (std::size_t i = 0; i < setup.controller.inputs.size(); ++i) plan.push_back(test::random_setup_wiring(dice, setup, true));
        if (std::all_of(plan.begin(), plan.end(), [](const InputWiring& w) { return w.empty(); })) continue;
        const SystemModel system(setup);
        const LightSeries light = some_days(setup);
        const HarvestYear y = HarvestStudy(system, light).run(plan);
        INFO("round " << round);
        CHECK(std::abs(y.total.imbalance_ratio()) < 1e-9);
        const double small_wh = 1e-9 * std::max(1.0, y.total.ideal_wh);
        CHECK(sum_of(y.delivered_w) * light.step_h == Approx(y.total.delivered_wh).margin(small_wh));
        double limited_wh = 0.0;
        double between_wh = 0.0;
        for (std::size_t i = 0; i < harvest_loss_count; ++i) {
            const auto loss = static_cast<HarvestLoss>(i);
            if (is_limit(loss)) limited_wh += y.total.loss_wh(loss);
            if (loss == HarvestLoss::mismatch || loss == HarvestLoss::cables || loss == HarvestLoss::conversion) {
                between_wh += y.total.loss_wh(loss);
            }
            CHECK(std::isfinite(y.total.lost_wh[i]));
        }
        // Limits that take less than a thousand millionth of an hour's best are not listed by interval.
        const double listed_wh = 1e-8 * std::max(1.0, y.total.ideal_wh);
        CHECK(sum_of(y.limited_w) * light.step_h == Approx(limited_wh).margin(listed_wh));
        CHECK(sum_of(y.possible_w) * light.step_h - limited_wh - between_wh == Approx(y.total.delivered_wh).margin(listed_wh));
        for (const HarvestStep step : {HarvestStep::month, HarvestStep::day, HarvestStep::hour}) {
            double delivered_wh = 0.0;
            double covered_h = 0.0;
            for (const HarvestPart& part : parts_of(light, y, step)) {
                delivered_wh += part.delivered_wh;
                covered_h += part.covered_h;
                CHECK(std::accumulate(part.limited_h.begin(), part.limited_h.end(), 0.0) <= part.covered_h + 1e-9);
            }
            CHECK(delivered_wh == Approx(y.total.delivered_wh).margin(small_wh));
            CHECK(covered_h == Approx(96.0));
        }
    }
}

TEST_CASE("harvest: lifting a limit on all inputs brings more if something is booked to it, and nothing if not") {
    test::Dice dice(20264);
    int booked_to_charge = 0;
    int booked_to_sum = 0;
    int not_booked = 0;
    for (int round = 0; round < test::rounds(60, 600); ++round) {
        Setup setup = placed(dice);
        Controller& controller = setup.controller;
        if (controller.type == ControllerType::direct_connect) continue;  // its volts are the battery's
        const double volts = controller.battery ? controller.battery->nominal_voltage_v : 12.8;
        controller.battery = Battery{0.875 * volts, volts, 1.2 * volts, dice.between(2.0, 40.0)};
        controller.max_total_power_w = dice.between(0.5, 1.5) * *physics::charging_power_limit_w(controller);
        for (Input& input : controller.inputs) {
            if (dice.chance(0.5)) input.max_power_w = dice.between(0.3, 2.0) * *controller.max_total_power_w;
        }
        ArrayPlan plan;
        for (std::size_t i = 0; i < controller.inputs.size(); ++i) plan.push_back(test::random_setup_wiring(dice, setup, true));
        if (std::all_of(plan.begin(), plan.end(), [](const InputWiring& w) { return w.empty(); })) continue;
        const auto harvested = [&](const Setup& one) {
            const SystemModel system(one);
            return HarvestStudy(system, some_days(one)).run(plan).total;
        };
        const HarvestSum as_it_is = harvested(setup);
        Setup no_charge_limit = setup;
        no_charge_limit.controller.battery->max_charge_current_a.reset();
        Setup no_sum = setup;
        no_sum.controller.max_total_power_w.reset();
        const double small_wh = 1e-7 * std::max(1.0, as_it_is.ideal_wh);
        CAPTURE(round, *controller.max_total_power_w, *physics::charging_power_limit_w(controller));
        const auto check = [&](HarvestLoss loss, const Setup& lifted, int& booked) {
            const double more_wh = harvested(lifted).delivered_wh - as_it_is.delivered_wh;
            CAPTURE(loss, as_it_is.loss_wh(loss), more_wh);
            if (as_it_is.loss_wh(loss) > small_wh) {
                CHECK(more_wh > 0.0);
                ++booked;
            } else if (as_it_is.loss_wh(HarvestLoss::window_top) <= small_wh) {
                // What an array is pushed out for that gives more than the input takes everywhere is booked to the window.
                CHECK(std::abs(more_wh) <= small_wh);
                ++not_booked;
            }
        };
        check(HarvestLoss::charge_limit, no_charge_limit, booked_to_charge);
        check(HarvestLoss::shared_limit, no_sum, booked_to_sum);
    }
    CHECK(booked_to_charge > 5);
    CHECK(booked_to_sum > 5);
    CHECK(not_booked > 5);
}

TEST_CASE("two sums of the same energy are equal whichever library rounded them") {
    // One year of two wirings of the demo, by glibc's and by musl's exp and pow.
    CHECK(compared_wh(1088139.238989549) == compared_wh(1088139.2389895488));
    CHECK(compared_wh(1088139.24) > compared_wh(1088139.23));
}

TEST_CASE("order by energy: what exceeds or falls short is never counted, and the classes keep their order") {
    test::Dice dice(77);
    for (int round = 0; round < test::rounds(12, 100); ++round) {
        const Setup setup = placed(dice);
        const SystemModel system(setup);
        const LightSeries light = some_days(setup);
        Arrangement a = arrange(system);
        const Arrangement by_watts = a;
        order_by_energy(system, light, {}, a);
        REQUIRE(a.by_energy);
        REQUIRE(a.plans.size() == by_watts.plans.size());
        INFO("round " << round);
        const auto grade = [](const Answers& v) { return v.holds() ? 0 : v.usable() ? 1 : 2; };
        for (std::size_t i = 0; i < a.plans.size(); ++i) {
            const std::optional<double>& wh = a.by_energy->delivered_wh[i];
            CHECK(wh.has_value() == a.plans[i].verdict.usable());
            CHECK(by_watts.plans[a.by_energy->place_by_watts[i]].candidates == a.plans[i].candidates);
            if (i == 0) continue;
            CHECK(grade(a.plans[i - 1].verdict) <= grade(a.plans[i].verdict));
            if (wh && grade(a.plans[i - 1].verdict) == grade(a.plans[i].verdict)) {
                const double before_wh = compared_wh(*a.by_energy->delivered_wh[i - 1]);
                CHECK(before_wh >= compared_wh(*wh));
                // Equals stay in the order of watts: no rounding of exp or pow decides between them.
                if (before_wh == compared_wh(*wh)) CHECK(a.by_energy->place_by_watts[i - 1] < a.by_energy->place_by_watts[i]);
            }
        }
        CHECK(a.advised.has_value() == by_watts.advised.has_value());
        if (!a.advised) continue;
        CHECK(a.plans[*a.advised].verdict.usable());
        CHECK(*a.by_energy->delivered_wh[*a.advised] >= (1.0 - near_tie_ratio) * *a.by_energy->delivered_wh.front());
        CHECK(a.plans[*a.by_energy->advised_by_watts].candidates == by_watts.plans[*by_watts.advised].candidates);
    }
}

TEST_CASE("order by energy: stopped at once, it counts nothing and leaves the order by watts") {
    Trial t = sunny_trial();
    t.setup.kinds[0].count = 4;
    const SystemModel system(t.setup);
    Arrangement a = arrange(system);
    const std::optional<std::size_t> advised = a.advised;
    order_by_energy(system, some_days(t.setup), [](const SearchProgress&) { return false; }, a);
    CHECK_FALSE(a.by_energy->finished);
    CHECK(a.advised == advised);
    for (std::size_t i = 0; i < a.plans.size(); ++i) {
        CHECK(a.by_energy->place_by_watts[i] == i);
        CHECK_FALSE(a.by_energy->delivered_wh[i]);
    }
}

TEST_CASE("what would add: a forbidden wiring gets another one, never more panels; gains are wirings that hold") {
    Trial t = sunny_trial();
    t.setup.kinds[0].count = 4;
    Cable cable;
    cable.run = CableRun::string;
    cable.length_m = 20.0;
    cable.size = {2.5, std::nullopt};
    t.setup.cables = {cable};
    const SystemModel system(t.setup);
    const LightSeries light = some_days(t.setup);
    // Round panels are 30 V open in the cold: two in series are within 100 V, four are not.
    const ArrayPlan two{plait::written_out({0, 2, 1})};
    const ArrayPlan four{plait::written_out({0, 4, 1})};
    const double two_wh = HarvestStudy(system, light).run(two).total.delivered_wh;
    const HarvestGains small = harvest_gains(system, light, two, judge(system, two).verdict, two_wh);
    REQUIRE(small.best);
    CHECK(small.best->verdict.holds());
    // Four panels give about twice what two do: an input this roomy clips nothing.
    CHECK(small.best->delivered_wh == Approx(2.0 * two_wh).epsilon(0.03));
    CHECK(small.one_more.empty());  // two are in the shed
    REQUIRE(small.cables.size() == 1);
    CHECK(small.cables[0].size.area_mm2 == 4.0);
    CHECK(small.cables[0].delivered_wh > two_wh);
    CHECK(small.best_cable() == &small.cables[0]);
    CHECK(small.gain(small.cables[0].delivered_wh).more_wh == small.cables[0].delivered_wh - two_wh);
    CHECK(small.gain(1.25 * two_wh).more_ratio == Approx(0.25));

    const Verdict forbidden = judge(system, four).verdict;
    REQUIRE(forbidden.connection == Connection::forbidden);
    const HarvestGains over = harvest_gains(system, light, four, forbidden, 0.0);
    CHECK(over.gain(1.0).more_ratio == std::numeric_limits<double>::infinity());
    CHECK(over.best_cable() == nullptr);
    REQUIRE(over.best);
    CHECK(over.best->verdict.holds());
    CHECK_FALSE(over.best_is_this);
    CHECK(over.one_more.empty());
    CHECK(over.cables.empty());
}

TEST_CASE("a clear day in June and in December, and the sun's way, north and south") {
    Trial t = sunny_trial();
    const SystemModel north(t.setup);
    const ClearDays n = clear_day_harvest(north, t.plan);
    CHECK(n.june_wh > n.december_wh);
    t.setup.location = middle_place(true);
    t.setup.planes[0].azimuth_deg = 0.0;
    const SystemModel south(t.setup);
    const ClearDays s = clear_day_harvest(south, t.plan);
    CHECK(s.december_wh > s.june_wh);
    // By the obliquity alone: 90° − 48° ± 23.44° at noon.
    const std::vector<SunWay> ways = sun_ways(middle_place());
    const auto highest = [](const SunWay& way) {
        double most = 0.0;
        for (const SunWay::Place& p : way.places) most = std::max(most, p.elevation_deg);
        return most;
    };
    REQUIRE(ways.size() == 4);
    CHECK(highest(ways[0]) == Approx(42.0 + 23.44).margin(0.05));
    CHECK(highest(ways[3]) == Approx(42.0 - 23.44).margin(0.05));
    Location pole = middle_place();
    pole.latitude_deg = 80.0;
    CHECK(sun_ways(pole)[3].places.empty());
    // At midsummer the sun does not set there: every ten minutes from midnight to midnight.
    const std::vector<SunWay::Place> day = sun_ways(pole)[0].places;
    REQUIRE(day.size() == 24 * 6 + 1);
    CHECK(day.front().local_h == 0.0);
    CHECK(day.back().local_h == 24.0);
    CHECK(day.back().elevation_deg == Approx(day.front().elevation_deg).margin(0.05));
}
