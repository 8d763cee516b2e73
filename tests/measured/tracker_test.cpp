// Trackers that are not at the maximum, limits that are not their print, and bands beyond the first few: logs by hand.
#include "made_log.hpp"

#include <algorithm>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

constexpr double step_s = 300.0;

/// A day's light, and what is drawn of it.
struct Day {
    Setup setup;
    InputWiring wiring;
    std::vector<LogRow> rows;
    double possible_wh = 0.0;
    double drawn_wh = 0.0;

    /// `draw(hour, curve, maximum)` gives the point; from five to nine.
    template <class Draw>
    static Day of(const Trial& t, double clouds, const Draw& draw) {
        Day d{t.setup, t.plan[0], {}, 0.0, 0.0};
        const SystemModel system(d.setup);
        for (int k = 0; k <= 192; ++k) {
            const double hour = 5.0 + k / 12.0;
            const double height = std::max(0.0, std::sin(3.14159265358979 * k / 192.0));
            // A cloud of twenty minutes every hour, where there are any.
            const double sun = 1000.0 * std::pow(height, 1.3) * (k % 12 < 4 ? 1.0 - clouds : 1.0);
            const double cell = 15.0 + 10.0 * height + 0.025 * sun;
            const physics::ArrayCurve curve = system.curve(d.wiring, {{sun, Celsius{cell}}});
            const physics::PowerPoint top = curve.maximum_power();
            const physics::PowerPoint p = sun > 5.0 ? draw(hour, curve, top) : physics::PowerPoint{};
            LogRow row;
            row.time_s = step_s * k;
            row.voltage_v = 0.1 * std::round(10.0 * p.voltage_v);
            row.current_a = 0.01 * std::round(100.0 * p.current_a);
            row.irradiance_w_per_m2 = std::round(sun);
            row.panel = Celsius{0.1 * std::round(10.0 * cell)};
            row.charge_ratio = 0.5;
            d.rows.push_back(row);
            d.possible_wh += top.power_w() / 12.0;
            d.drawn_wh += p.power_w() / 12.0;
        }
        return d;
    }
    [[nodiscard]] LogAccount account() const {
        const SystemModel system(setup);
        LogExplainer explainer(system, 0, wiring, {});
        for (const LogRow& row : rows) explainer.add(row, nullptr);
        return explainer.finish(nullptr);
    }
};

Trial open_trial() {
    Trial t = roomy_trial();
    t.wire(3, 2);
    t.input().tracking_min_v = 10.0;
    t.input().start_voltage_v = 10.0;
    return t;
}

double lost_wh(const LogAccount& a, Cause c) { return a.lost_wh[index_of(c)]; }

bool fault_hours(double hour) { return hour > 9.0 && hour < 15.0; }

}  // namespace

TEST_CASE("explain: a tracker that stays on the lower of two maxima is named, beside the shade that makes them") {
    const Trial t = open_trial();
    const SystemModel system(t.setup);
    InputWiring shaded = t.plan[0];
    for (SeriesString& s : shaded.strings) s.panels[0].groups = {{0.4, 0.0}, {0.4, 0.0}};
    double shade_wh = 0.0;
    double tracker_wh = 0.0;
    const Day d = Day::of(t, 0.0, [&](double hour, const physics::ArrayCurve& curve, physics::PowerPoint top) {
        if (!fault_hours(hour)) return top;
        const double sun = curve.short_circuit_a();
        (void)sun;
        const double height = std::sin(3.14159265358979 * (hour - 5.0) / 16.0);
        const double light = 1000.0 * std::pow(height, 1.3);
        const physics::ArrayCurve dark =
            system.curve(shaded, {{light, Celsius{15.0 + 10.0 * height + 0.025 * light}}});
        const physics::PowerPoint best = dark.maximum_power();
        // The high maximum, where the shaded panels set the current: from two thirds of open circuit on.
        const physics::PowerPoint high = dark.maximum_power(0.8 * dark.open_circuit_v(), dark.open_circuit_v());
        REQUIRE(high.power_w() < 0.8 * best.power_w());
        shade_wh += (top.power_w() - best.power_w()) / 12.0;
        tracker_wh += (best.power_w() - high.power_w()) / 12.0;
        return high;
    });
    const LogAccount a = d.account();
    CHECK(lost_wh(a, Cause::shade) == Approx(shade_wh).epsilon(0.1));
    CHECK(lost_wh(a, Cause::local_maximum) == Approx(tracker_wh).epsilon(0.1));
}

// The window ends above the one lit panel's best volts, so that its end holds the array on a flank, which moves with warmth and
// light.
TEST_CASE("explain: shade that leaves a maximum below the window is shade, and no tracker's fault") {
    Trial t = open_trial();
    t.input().tracking_min_v = 18.5;
    t.input().start_voltage_v = 18.5;
    const SystemModel system(t.setup);
    InputWiring shaded = t.plan[0];
    for (SeriesString& s : shaded.strings) {
        for (const std::size_t panel : {0U, 1U}) s.panels[panel].groups = {{0.15, 0.0}, {0.15, 0.0}};
    }
    double shade_wh = 0.0;
    const Day d = Day::of(t, 0.5, [&](double hour, const physics::ArrayCurve& curve, physics::PowerPoint top) {
        if (!fault_hours(hour)) return top;
        // The light of this row, from what it gives: Isc follows it.
        const double height = std::sin(3.14159265358979 * (hour - 5.0) / 16.0);
        const double clear = 1000.0 * std::pow(height, 1.3);
        const double light = std::lround((hour - 5.0) * 12.0) % 12 < 4 ? 0.5 * clear : clear;
        REQUIRE(system.curve(t.plan[0], {{light, Celsius{15.0 + 10.0 * height + 0.025 * light}}}).short_circuit_a() ==
                Approx(curve.short_circuit_a()).epsilon(1e-6));
        const physics::PowerPoint held = system.curve(shaded, {{light, Celsius{15.0 + 10.0 * height + 0.025 * light}}})
                                             .maximum_power(18.5, curve.open_circuit_v());
        shade_wh += (top.power_w() - held.power_w()) / 12.0;
        return held;
    });
    const LogAccount a = d.account();
    REQUIRE(shade_wh > 0.2 * d.possible_wh);
    CHECK(lost_wh(a, Cause::shade) == Approx(shade_wh).epsilon(0.05));
    CHECK(lost_wh(a, Cause::local_maximum) < 0.02 * shade_wh);
}

TEST_CASE("explain: a tracker at one voltage is named, with the voltage") {
    const Trial t = open_trial();
    for (const double share : {0.78, 1.06}) {
        double fixed_v = 0.0;
        const Day d = Day::of(t, 0.5, [&](double hour, const physics::ArrayCurve& curve, physics::PowerPoint top) {
            if (fixed_v == 0.0 && fault_hours(hour)) fixed_v = 0.1 * std::round(10.0 * share * top.voltage_v);
            if (!fault_hours(hour)) return top;
            return physics::PowerPoint{fixed_v, std::max(0.0, curve.current_a(fixed_v))};
        });
        const LogAccount a = d.account();
        CAPTURE(share);
        CHECK(lost_wh(a, Cause::fixed_voltage) == Approx(d.possible_wh - d.drawn_wh).epsilon(0.1));
        REQUIRE(a.fixed_v);
        CHECK(*a.fixed_v == Approx(fixed_v).epsilon(0.01));
    }
}

TEST_CASE("explain: a tracker that comes too late after clouds is named") {
    const Trial t = open_trial();
    double asked_a = -1.0;
    const Day d = Day::of(t, 0.6, [&](double, const physics::ArrayCurve& curve, physics::PowerPoint top) {
        asked_a = asked_a < 0.0 ? top.current_a : asked_a + (1.0 - std::exp(-300.0 / 720.0)) * (top.current_a - asked_a);
        const double floor_v = 0.5 * top.voltage_v;
        if (asked_a < curve.current_a(floor_v)) return physics::PowerPoint{curve.voltage_v(asked_a), asked_a};
        return physics::PowerPoint{floor_v, curve.current_a(floor_v)};
    });
    const LogAccount a = d.account();
    REQUIRE(d.possible_wh - d.drawn_wh > 0.05 * d.possible_wh);
    CHECK(lost_wh(a, Cause::slow_tracker) > 0.9 * (d.possible_wh - d.drawn_wh));
}

// In steady light its volts rest left of the maximum for hours, and drift with the light: no voltage is held.
TEST_CASE("explain: a tracker that comes too late is named on a clear day as well") {
    const Trial t = open_trial();
    for (const double lag_s : {480.0, 700.0, 900.0, 1200.0}) {
        double asked_a = -1.0;
        const Day d = Day::of(t, 0.0, [&](double, const physics::ArrayCurve& curve, physics::PowerPoint top) {
            asked_a = asked_a < 0.0 ? top.current_a : asked_a + (1.0 - std::exp(-300.0 / lag_s)) * (top.current_a - asked_a);
            const double floor_v = 0.5 * top.voltage_v;
            if (asked_a < curve.current_a(floor_v)) return physics::PowerPoint{curve.voltage_v(asked_a), asked_a};
            return physics::PowerPoint{floor_v, curve.current_a(floor_v)};
        });
        const LogAccount a = d.account();
        CAPTURE(lag_s);
        const double lost = d.possible_wh - d.drawn_wh;
        REQUIRE(lost > 0.01 * d.possible_wh);
        CHECK(lost_wh(a, Cause::slow_tracker) > (lost > 0.02 * d.possible_wh ? 0.9 : 0.6) * lost);
        CHECK(lost_wh(a, Cause::fixed_voltage) < 0.1 * lost);
    }
}

TEST_CASE("explain: what a display hides is the display's, also after an hour in shade") {
    const Trial t = open_trial();
    LogAccuracy accuracy;
    accuracy.display_w = 40.0;
    const SystemModel system(t.setup);
    LogExplainer explainer(system, 0, t.plan[0], accuracy);
    std::vector<ExplainedRow> ready;
    double hidden_wh = 0.0;
    for (int minute = 0; minute <= 300; ++minute) {
        const double light = minute / 15 % 2 == 0 ? 400.0 : 30.0;
        const Celsius cell{15.0 + 0.025 * light};
        const physics::PowerPoint top = system.curve(t.plan[0], {{light, cell}}).maximum_power();
        const bool shaded = minute > 120 && minute < 180 && light > 60.0;
        const physics::PowerPoint p = shaded ? system.curve(t.plan[0], {{0.6 * light, cell}}).maximum_power() : top;
        const bool shown = p.power_w() >= accuracy.display_w;
        LogRow row;
        row.time_s = 60.0 * minute;
        row.voltage_v = 0.1 * std::round(10.0 * p.voltage_v);
        row.current_a = shown ? 0.01 * std::round(100.0 * p.current_a) : 0.0;
        row.irradiance_w_per_m2 = std::round(light);
        row.panel = cell;
        row.charge_ratio = 0.5;
        if (!shown && !shaded) hidden_wh += p.power_w() / 60.0;
        explainer.add(row, &ready);
    }
    REQUIRE(explainer.finish(&ready).rows == 301);
    double charged_wh = 0.0;
    double shade_wh = 0.0;
    for (const ExplainedRow& row : ready) {
        if (row.measured_w > 0.0 || *row.row.irradiance_w_per_m2 > 60.0) continue;
        charged_wh += row.hours_s / 3600.0 * row.lost_w[index_of(Cause::display)];
        shade_wh += row.hours_s / 3600.0 * row.lost_w[index_of(Cause::shade)];
    }
    REQUIRE(hidden_wh > 5.0);
    CHECK(charged_wh == Approx(hidden_wh).epsilon(0.05));
    CHECK(shade_wh < 0.02 * hidden_wh);
}

TEST_CASE("explain: a limit off its print is learned and told") {
    Trial t = open_trial();
    const double real_w = 372.0;
    t.input().max_power_w = 400.0;
    const Day d = Day::of(t, 0.0, [&](double, const physics::ArrayCurve& curve, physics::PowerPoint top) {
        return top.power_w() <= real_w ? top : curve.power_crossing(real_w, top, {curve.open_circuit_v(), 0.0});
    });
    const LogAccount a = d.account();
    CHECK(lost_wh(a, Cause::power_limit) == Approx(d.possible_wh - d.drawn_wh).epsilon(0.02));
    REQUIRE(a.limits.size() == 1);
    CHECK(a.limits[0].cause == Cause::power_limit);
    CHECK(a.limits[0].found_value == Approx(real_w).epsilon(0.005));
    CHECK(a.limits[0].differs());
}

TEST_CASE("explain: the current of the ninth band and later ones is that band's") {
    Trial t = open_trial();
    std::vector<CurrentBand>& bands = t.input().bands;
    bands.clear();
    for (int b = 0; b < 14; ++b) bands.push_back({10.0 + 3.0 * b, 13.0 + 3.0 * b, 2.0 + 0.3 * b});
    bands.push_back({52.0, 100.0, 7.0});
    const SystemModel system(t.setup);
    std::array<double, most_bands> by_band_wh{};
    const Day d = Day::of(t, 0.0, [&](double, const physics::ArrayCurve& curve, physics::PowerPoint top) {
        const physics::OperatingPoint op = system.operating_point(0, curve);
        for (std::size_t b = 0; b < bands.size() && op.held() && op.binding != physics::Binding::nothing; ++b) {
            if (op.point.voltage_v < bands[b].from_v || op.point.voltage_v > bands[b].to_v) continue;
            by_band_wh[b] += (top.power_w() - op.point.power_w()) / 12.0;
            break;
        }
        return op.held() ? op.point : physics::PowerPoint{curve.open_circuit_v(), 0.0};
    });
    const LogAccount a = d.account();
    const auto most = std::max_element(by_band_wh.begin(), by_band_wh.end()) - by_band_wh.begin();
    REQUIRE(most >= 8);
    REQUIRE(by_band_wh[static_cast<std::size_t>(most)] > 20.0);
    CHECK(a.band_wh[static_cast<std::size_t>(most)] == Approx(by_band_wh[static_cast<std::size_t>(most)]).epsilon(0.05));
}

TEST_CASE("explain: with and without the wall are accounted apart") {
    const Trial t = open_trial();
    Day d = Day::of(t, 0.0, [](double, const physics::ArrayCurve&, physics::PowerPoint top) { return top; });
    for (LogRow& row : d.rows) row.wall_w = row.time_s < 8.0 * 3600.0 ? 0.0 : 300.0;
    const LogAccount a = d.account();
    CHECK(a.with_wall.measured_wh + a.without_wall.measured_wh == Approx(a.measured_wh));
    CHECK(a.with_wall.logged_h + a.without_wall.logged_h == Approx(a.logged_h));
    CHECK(a.without_wall.logged_h == Approx(8.0).margin(0.1));
}
