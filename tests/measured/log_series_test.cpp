#include <plait/measured/log_series.hpp>

#include <catch2/catch.hpp>

using namespace plait::study;
using namespace plait::measured;

TEST_CASE("log series: however long the log, few spans, and not a watt-second lost") {
    for (const int rows : {1, 10, 1000, 100000}) {
        LogSeries series;
        double measured_ws = 0.0;
        double covered_s = 0.0;
        for (int i = 0; i < rows; ++i) {
            ExplainedRow row;
            row.row.time_s = 1e9 + 30.0 * i;
            row.hours_s = 30.0;
            row.measured_w = 100.0 + i % 7;
            row.cause = i % 3 == 0 ? Cause::battery : Cause::shade;
            measured_ws += row.measured_w * row.hours_s;
            covered_s += row.hours_s;
            series.add(row);
        }
        CAPTURE(rows);
        REQUIRE(series.spans().size() <= LogSeries::most_spans);
        double sum_ws = 0.0;
        double sum_s = 0.0;
        for (const LogSpan& s : series.spans()) {
            sum_ws += s.measured_ws;
            sum_s += s.covered_s;
        }
        CHECK(sum_ws == Approx(measured_ws).epsilon(1e-12));
        CHECK(sum_s == Approx(covered_s).epsilon(1e-12));
        if (rows >= 10) CHECK(series.spans().back().covered_s > 0.0);
        if (rows == 100000) CHECK(series.spans()[5].cause() == Cause::shade);  // two thirds of its rows
    }
}
