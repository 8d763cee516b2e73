// Rows of one minute as one: what may be put together, and that a log's account stays what its rows say.
#include "log/condition_table.hpp"
#include "log/row_group.hpp"
#include "made_log.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

LogRow row_at(double time_s) {
    LogRow row;
    row.time_s = time_s;
    row.voltage_v = 40.0;
    row.current_a = 5.0;
    row.irradiance_w_per_m2 = 600.0;
    row.panel = Celsius{45.0};
    row.charge_ratio = 0.5;
    row.wall_w = 0.0;
    return row;
}

/// The same log with so many rows for each of its own, which say the same within a meter's noise.
std::vector<LogRow> finer(const MadeLog& log, int times, double step_s, test::Dice& dice) {
    std::vector<LogRow> rows;
    for (const MadeRow& made : log.rows) {
        for (int k = 0; k < times; ++k) {
            LogRow row = made.row;
            row.time_s += step_s * k;
            if (row.current_a) *row.current_a *= dice.between(0.997, 1.003);
            if (row.voltage_v) *row.voltage_v *= dice.between(0.999, 1.001);
            rows.push_back(row);
        }
    }
    return rows;
}

LogAccount account_of(const MadeLog& log, const std::vector<LogRow>& rows, std::vector<ExplainedRow>* ready) {
    const SystemModel system(log.setup);
    LogExplainer explainer(system, 0, log.wiring, log.accuracy);
    for (const LogRow& row : rows) explainer.add(row, ready);
    return explainer.finish(ready);
}

}  // namespace

TEST_CASE("row groups: rows of a minute that say the same are their mean") {
    RowGroup group(2.0);
    group.begin(row_at(0.0));
    LogRow second = row_at(10.0);
    second.voltage_v = 40.2;
    second.current_a = 5.1;
    second.panel = Celsius{46.0};
    REQUIRE(group.takes(second));
    group.add(second);
    const LogRow mean = group.mean();
    CHECK(mean.time_s == 0.0);
    CHECK(*mean.voltage_v == Approx(40.1));
    CHECK(*mean.current_a == Approx(5.05));
    CHECK(mean.panel->degc == Approx(45.5));
    CHECK_FALSE(mean.power_w.has_value());
}

TEST_CASE("row groups: what a meter's noise does not make begins a group of its own") {
    RowGroup group(2.0);
    group.begin(row_at(0.0));
    CHECK(group.takes(row_at(59.0)));
    CHECK_FALSE(group.takes(row_at(60.0)));
    CHECK_FALSE(group.takes(row_at(0.0)));
    const auto changed = [](auto change) {
        LogRow row = row_at(10.0);
        change(row);
        return row;
    };
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.current_a = 0.0; })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.current_a = 4.5; })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.voltage_v = 41.0; })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.irradiance_w_per_m2 = 500.0; })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.irradiance_w_per_m2.reset(); })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.charge_ratio = 0.51; })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.wall_w = 50.0; })));
    CHECK_FALSE(group.takes(changed([](LogRow& r) { r.power_w = 200.0; })));
}

TEST_CASE("row groups: the account of quick rows adds up, is that of its rows, and blames the same") {
    test::Dice dice(71);
    for (const Cause cause : {Cause::power_limit, Cause::battery, Cause::shade, Cause::tripped}) {
        CAPTURE(static_cast<int>(cause));
        const MadeLog log = LogMaker(cause, 21).made();
        const std::vector<LogRow> rows = finer(log, 10, 30.0, dice);
        std::vector<ExplainedRow> ready;
        const LogAccount a = account_of(log, rows, &ready);
        const LogAccount alone = account_of(log, rows, nullptr);  // nobody wants the rows
        REQUIRE(ready.size() == rows.size());
        CHECK(a.rows == rows.size());
        CHECK(alone.measured_wh == Approx(a.measured_wh).epsilon(1e-12));
        double left_wh = a.label_wh;
        for (std::size_t c = 0; c < cause_count; ++c) left_wh -= a.lost_wh[c];
        CHECK(left_wh == Approx(a.measured_wh).margin(1e-9 * a.label_wh));
        double measured_wh = 0.0;
        ByCause<double> lost_wh{};
        for (std::size_t i = 0; i < ready.size(); ++i) {
            const ExplainedRow& row = ready[i];
            CHECK(row.row.time_s == rows[i].time_s);
            CHECK(row.measured_w == *rows[i].voltage_v * *rows[i].current_a);
            measured_wh += row.hours_s / 3600.0 * row.measured_w;
            for (std::size_t c = 0; c < cause_count; ++c) lost_wh[c] += row.hours_s / 3600.0 * row.lost_w[c];
        }
        CHECK(a.measured_wh == Approx(measured_wh).epsilon(1e-9));
        for (std::size_t c = 0; c < cause_count; ++c) {
            CHECK(a.lost_wh[c] == Approx(lost_wh[c]).margin(1e-4 * a.label_wh));
            CHECK(alone.lost_wh[c] == Approx(a.lost_wh[c]).margin(1e-9 * a.label_wh));
        }
        // One row a minute, of which none are put together, says the same of the cause. A battery's share that stays for five
        // minutes and then jumps, as these copies make it, is half a tracker at a fixed voltage: its share hangs on the dice.
        if (cause == Cause::battery) continue;
        const LogAccount minutes = account_of(log, finer(log, 5, 60.0, dice), nullptr);
        const double wanted_wh = minutes.lost_wh[index_of(cause)];
        CHECK(a.lost_wh[index_of(cause)] == Approx(wanted_wh).margin(0.01 * wanted_wh));
    }
}

TEST_CASE("the curve right of its maximum is read both ways") {
    std::array<double, right_points> right_v{};
    for (std::size_t i = 0; i < right_points; ++i) right_v[i] = 48.0 - 8.0 * std::pow(right_share(i), 3.0);
    for (double share = 0.0; share <= 1.0; share += 0.0137) {
        CHECK(right_share_at(right_v, right_voltage_v(right_v, share)) == Approx(share).margin(1e-9));
    }
    CHECK(right_share_at(right_v, 50.0) == 0.0);
    CHECK(right_share_at(right_v, 30.0) == 1.0);
}
