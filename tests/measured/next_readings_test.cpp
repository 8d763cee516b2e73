#include <plait/measured/next_readings.hpp>

#include <catch2/catch.hpp>

#include <algorithm>

#include "bench_sweeps.hpp"

namespace plait::measured::test {
namespace {

SweepRow read_at(const TrueWindow& w, double v, double noise_ratio, Dice& dice) {
    SweepRow r;
    r.voltage_v = v;
    const bool works = v >= w.start_v && v <= w.trip_v;
    r.current_a = works ? w.current_a(v) * (1.0 + noise_ratio * dice.normal()) : 0.0;
    return r;
}

struct Case {
    TrueWindow truth;
    std::vector<SweepRow> rows;
    Input printed;
};

/// A sweep upwards, with room between its readings, of an input whose print is its truth.
Case sweep_of(Dice& dice) {
    Case c;
    c.truth.start_v = dice.between(9.0, 14.0);
    c.truth.trip_v = dice.between(45.0, 70.0);
    const double edge_v = dice.between(20.0, 28.0);
    const double low_a = dice.between(5.0, 9.0);
    c.truth.bands = {{c.truth.start_v, edge_v, low_a}, {edge_v, c.truth.trip_v, low_a * dice.between(1.3, 1.6)}};
    c.truth.power_w = c.truth.bands[1].limit_a * dice.between(30.0, 38.0);
    double v = 7.0;
    while (v < c.truth.trip_v + 4.0) {
        c.rows.push_back(read_at(c.truth, v, 0.003, dice));
        v += dice.between(1.2, 4.0);
    }
    c.printed.name = "PV1";
    c.printed.max_voltage_v = dice.between(0.9, 1.05) * c.truth.trip_v;
    c.printed.start_voltage_v = c.truth.start_v;
    return c;
}

std::optional<SwitchVoltage> edge_of(const LearnedWindow& w, ReadingReason reason) {
    return reason == ReadingReason::start ? w.start : reason == ReadingReason::trip ? w.trip : std::nullopt;
}

TEST_CASE("the readings asked for next lie below the print, inside their gaps, and once taken they narrow them") {
    Dice dice(0x4E47);
    int narrowed = 0;
    for (int i = 0; i < 120; ++i) {
        const Case c = sweep_of(dice);
        const auto found = learn_window(c.rows, {});
        if (!found) continue;
        Controller controller;
        controller.inputs.push_back(c.printed);
        for (const bool printed : {true, false}) {
            const auto next = next_readings(*found, printed ? &controller : nullptr, printed ? &c.printed : nullptr);
            REQUIRE(next.size() <= 3);
            CHECK_FALSE(next.empty());
            const double top_v = printed ? *c.printed.max_voltage_v : found->highest_working_v;
            for (std::size_t k = 0; k < next.size(); ++k) {
                const NextReading& n = next[k];
                CAPTURE(i, printed, k, n.voltage_v, top_v, static_cast<int>(n.reason));
                CHECK(n.voltage_v <= top_v);
                CHECK(n.settled_value > 0.0);
                CHECK((k == 0 || n.settled_value <= next[k - 1].settled_value));
                CHECK((n.voltage_v >= n.between_v.lower() && n.voltage_v <= n.between_v.upper()));
                if (!edge_of(*found, n.reason)) continue;
                // Taken, in its place of the sweep upwards.
                std::vector<SweepRow> more = c.rows;
                more.insert(std::find_if(more.begin(), more.end(), [&](const SweepRow& r) { return r.voltage_v > n.voltage_v; }),
                            read_at(c.truth, n.voltage_v, 0.003, dice));
                const auto again = learn_window(more, {});
                REQUIRE(again);
                const auto before = edge_of(*found, n.reason)->between_v;
                const auto after = edge_of(*again, n.reason);
                REQUIRE(after);
                const double was_v = before.upper() - before.lower();
                // Whichever side of it the change lies on; the print may keep the reading from the middle.
                const double settled_v = std::min(n.voltage_v - before.lower(), before.upper() - n.voltage_v);
                CHECK(settled_v > 0.0);
                CHECK(after->between_v.upper() - after->between_v.lower() <= was_v - settled_v + 1e-9);
                ++narrowed;
            }
        }
    }
    CHECK(narrowed > 20);
}

TEST_CASE("what no reading reached inside the printed window is asked for first") {
    // Nothing above 40 V, and 60 V are printed.
    std::vector<SweepRow> rows;
    for (const double v : {10.0, 11.0, 12.0, 14.0, 18.0, 24.0, 30.0, 36.0, 40.0}) {
        SweepRow r;
        r.voltage_v = v;
        r.current_a = v < 12.0 ? 0.0 : 8.0;
        rows.push_back(r);
    }
    Controller controller;
    Input in;
    in.max_voltage_v = 60.0;
    in.tracking_min_v = 12.0;
    in.tracking_max_v = 58.0;
    in.bands = {{12.0, 58.0, 8.0}};
    controller.inputs.push_back(in);
    const auto found = learn_window(rows, {});
    REQUIRE(found);
    const auto next = next_readings(*found, &controller, &in);
    REQUIRE_FALSE(next.empty());
    CHECK(next[0].reason == ReadingReason::unseen);
    CHECK((next[0].voltage_v > 40.0 && next[0].voltage_v <= 58.0));
}

TEST_CASE("nobody is sent above the print to see an input come back") {
    std::vector<SweepRow> rows;
    const auto read = [&](double v, double a) {
        SweepRow r;
        r.voltage_v = v;
        r.current_a = a;
        rows.push_back(r);
    };
    for (const double v : {10.0, 12.0, 16.0, 20.0, 30.0, 40.0, 50.0, 56.0}) read(v, v < 12.0 ? 0.0 : 8.0);
    for (const double v : {60.0, 55.0}) read(v, 0.0);
    for (const double v : {45.0, 30.0}) read(v, 8.0);
    const auto found = learn_window(rows, {});
    REQUIRE(found);
    REQUIRE(found->recovery);
    const auto asks = [&](std::optional<double> maximum_v) {
        Controller controller;
        Input in;
        in.max_voltage_v = maximum_v;
        controller.inputs.push_back(in);
        const auto next = next_readings(*found, &controller, &in, 99);
        return std::any_of(next.begin(), next.end(), [](const NextReading& n) { return n.reason == ReadingReason::recovery; });
    };
    CHECK(asks(62.0));
    CHECK_FALSE(asks(58.0));
    CHECK_FALSE(asks(std::nullopt));
}

TEST_CASE("no plan passes the print, and none is made where nobody printed an end") {
    Dice dice(0x91A4);
    for (int i = 0; i < 200; ++i) {
        Input in;
        in.name = "PV1";
        const double max_v = dice.between(20.0, 500.0);
        const bool maximum = dice.chance(0.8);
        if (maximum) in.max_voltage_v = max_v;
        if (!maximum || dice.chance(0.7)) in.tracking_max_v = max_v * dice.between(0.8, 1.0);
        if (dice.chance(0.7)) in.tracking_min_v = max_v * dice.between(0.05, 0.4);
        if (dice.chance(0.7)) in.start_voltage_v = max_v * dice.between(0.1, 0.5);
        if (dice.chance(0.8)) in.bands = {{in.tracking_min_v.value_or(0.0), in.tracking_max_v.value_or(max_v), dice.between(3.0, 30.0)}};
        if (dice.chance(0.7)) in.max_power_w = dice.between(100.0, 3000.0);
        Controller controller;
        controller.inputs.push_back(in);
        const auto plan = plan_bench(controller, in);
        REQUIRE(plan);
        const double top_v = in.max_voltage_v.value_or(in.tracking_max_v.value_or(0.0));
        CHECK(plan->top_v == top_v);
        CHECK(plan->readings.size() >= 5);
        CHECK(plan->readings.size() <= 40);
        for (std::size_t k = 0; k < plan->readings.size(); ++k) {
            const PlannedReading& r = plan->readings[k];
            CHECK((r.voltage_v > 0.0 && r.voltage_v <= top_v));
            if (k == 0) continue;
            const PlannedReading& before = plan->readings[k - 1];
            CHECK((before.falling ? r.falling : true));
            if (r.falling == before.falling) CHECK((r.falling ? r.voltage_v < before.voltage_v : r.voltage_v > before.voltage_v));
        }
        if (plan->supply_w && in.max_power_w) CHECK(*plan->supply_w <= 1.1 * *in.max_power_w * 1.0001);
    }
    Input open;
    open.bands = {{10.0, 50.0, 8.0}};
    Controller controller;
    controller.inputs.push_back(open);
    CHECK_FALSE(plan_bench(controller, open));
}

}  // namespace
}  // namespace plait::measured::test
