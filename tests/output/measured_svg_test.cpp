// The pictures of measurements: what they say is what was found.
#include "../support/report_text.hpp"

#include <plait/measured/log_series.hpp>
#include <plait/measured/window_comparison.hpp>
#include <plait/output/picture.hpp>
#include <plait/study/verdict.hpp>

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <regex>

using namespace plait;
using namespace plait::output;
using support::times;

TEST_CASE("log picture: the watt-hours it names go from the label to what was measured") {
    measured::LogAccount account;
    account.label_wh = 2000.0;
    account.measured_wh = 703.0;
    account.possible_wh = 1200.0;
    account.lost_wh[measured::index_of(measured::Cause::less_light)] = 812.0;
    account.lost_wh[measured::index_of(measured::Cause::heat)] = -12.0;  // a cold day gains
    account.lost_wh[measured::index_of(measured::Cause::battery)] = 450.0;
    account.lost_wh[measured::index_of(measured::Cause::scatter)] = 47.0;
    measured::LogSeries series;
    for (int i = 0; i < 30; ++i) {
        measured::ExplainedRow row;
        row.row.time_s = 1e9 + 60.0 * i;
        row.hours_s = 60.0;
        row.measured_w = 50.0;
        row.possible_w = 100.0;
        row.expected_w = 90.0;
        row.cause = i < 14 ? measured::Cause::less_light : i < 24 ? measured::Cause::battery : measured::Cause::heat;
        series.add(row);
    }
    const std::string svg = log_svg(Setup{}, account, series, {}, PictureUse::in_file);
    CHECK(times(svg, "class=\"band c0\"") == 2);  // on the band and beside its words
    double sum_wh = 0.0;
    const std::regex line(">(?:[a-f]  |all else)[^<]*: ((?:−)?)([0-9]+) Wh<");
    std::size_t lines = 0;
    for (std::sregex_iterator i(svg.begin(), svg.end(), line); i != std::sregex_iterator(); ++i) {
        sum_wh += (i->str(1).empty() ? 1.0 : -1.0) * std::stod(i->str(2));
        ++lines;
    }
    CHECK(lines == 4);
    CHECK(sum_wh == Approx(2000.0 - 703.0));
    CHECK(times(svg, ">label 2000 Wh less all these: measured 703 Wh<") == 1);
}

TEST_CASE("sweep picture: each reading once, and each gap in which something changes") {
    measured::LearnSheet sheet;
    measured::LearnedWindow& w = sheet.window;
    const auto row = [&](double volts, double amps, bool rising, measured::RowUse use) {
        measured::FittedRow r;
        r.row.voltage_v = volts;
        r.row.current_a = amps;
        r.rising = rising;
        r.use = use;
        w.rows.push_back(r);
    };
    row(11.0, 0.0, true, measured::RowUse::nothing_taken);
    row(12.0, 8.0, true, measured::RowUse::fits);
    row(20.0, 8.0, true, measured::RowUse::fits);
    row(25.0, 3.0, true, measured::RowUse::stands_apart);
    row(30.0, 8.0, false, measured::RowUse::fits);
    row(31.0, 0.0, true, measured::RowUse::left_out);
    w.pieces.push_back({measured::PieceKind::constant_current, 12.0, 30.0, {8.0, Interval(7.9, 8.1)}, 3, 3});
    w.start = measured::SwitchVoltage{Interval(11.0, 12.0)};
    w.trip = measured::SwitchVoltage{Interval(61.0, 62.5)};
    const std::string svg = sweep_svg(sheet, PictureUse::in_file);
    CHECK(times(svg, "<circle") == 4);
    CHECK(times(svg, "class=\"cap\"") == 2);
    CHECK(times(svg, "class=\"take\"") == 2);
    CHECK(times(svg, "starts, voltage rising, between 11.00 V and 12.00 V") == 1);
    CHECK(times(svg, "trips, voltage rising, between 61.00 V and 62.50 V") == 1);
    CHECK(times(svg, "recovers") == 0);
    w.trip.reset();
    w.start.reset();
    CHECK(times(sweep_svg(sheet, PictureUse::in_file), "tinted") == 0);
}
