#include "trial.hpp"

#include <plait/study/curve_sheet.hpp>

using namespace plait;
using namespace plait::study;
using physics::Binding;

namespace {

InputCurve drawn(const Trial& t, const PointChoice& choice = {}) {
    return input_curve(SystemModel(t.setup), 0, t.plan[0], {}, choice);
}

/// Two panels in series, one of them in 30 % of the light: two maxima, near one panel's voltage and near two panels'.
Trial half_shaded() {
    Trial t = roomy_trial();
    t.input().tracking_min_v = 5.0;
    t.wire(2, 1);
    PanelPlace& place = t.plan[0].strings[0].panels[0];
    place.groups.assign(static_cast<std::size_t>(std::max(1, t.panel().bypass_diodes)), GroupState{0.3, 0.0});
    return t;
}

}  // namespace

TEST_CASE("curve sheet: even steps, both ends and every mark, rising") {
    const Trial t = half_shaded();
    const InputCurve c = drawn(t, {11, {}, 7});
    CHECK(c.column_w.size() == 7);
    CHECK(c.points.front().point.voltage_v == 0.0);
    CHECK(c.points.back().point.voltage_v == c.open_circuit_v);
    for (std::size_t i = 1; i < c.points.size(); ++i) {
        CHECK(c.points[i].point.voltage_v > c.points[i - 1].point.voltage_v);
        CHECK(c.points[i].point.current_a < c.points[i - 1].point.current_a);
    }
    const auto marked = [&](Mark mark) {
        return std::count_if(c.points.begin(), c.points.end(), [&](const CurvePoint& p) {
            return std::find(p.marks.begin(), p.marks.end(), mark) != p.marks.end();
        });
    };
    CHECK(marked(Mark::maximum) == 2);
    CHECK(marked(Mark::minimum) == 1);
    CHECK(marked(Mark::best) == 1);
    CHECK(marked(Mark::in_operation) == 1);
    CHECK(marked(Mark::first_stop) == 1);
    CHECK(marked(Mark::bypass_knee) == 1);
    CHECK(marked(Mark::window_edge) == 1);  // 5 V; 100 V lies beyond open circuit
    // 11 even steps and the marks inside: maxima, dip, knee, window's edge. Operation and stop stand on maxima.
    CHECK(c.points.size() == 11 + 5);
}

TEST_CASE("curve sheet: at the knee the shaded group has no voltage, just below it its diode conducts") {
    const Trial t = half_shaded();
    const InputCurve c = drawn(t);
    const auto knee = std::find_if(c.points.begin(), c.points.end(), [](const CurvePoint& p) {
        return std::find(p.marks.begin(), p.marks.end(), Mark::bypass_knee) != p.marks.end();
    });
    REQUIRE(knee != c.points.end());
    const SystemModel system(t.setup);
    const physics::ArrayCurve array = system.curve(t.plan[0], c.by_kind);
    const auto shaded_v = [&](double v) {
        return physics::array_reading(array, v).strings[0].panels[0].groups[0].voltage_v;
    };
    CHECK(shaded_v(knee->point.voltage_v) == Approx(0.0).margin(1e-7));
    CHECK(shaded_v(knee->point.voltage_v - 0.6) < -0.1);
    CHECK(shaded_v(knee->point.voltage_v + 0.6) > 0.1);
}

TEST_CASE("first stop: the maximum nearest to open circuit, whatever the other ones are") {
    const Trial t = half_shaded();
    const InputCurve c = drawn(t);
    REQUIRE(c.extremes.maximum_count() == 2);
    REQUIRE(c.first_stop);
    CHECK(c.first_stop->binding == Binding::nothing);
    CHECK(c.first_stop->point.voltage_v == Approx(c.extremes.points.back().point.voltage_v));
    // 30 % of the light on one of two: one panel alone gives more than two at 30 %.
    CHECK(c.extremes.best().point.voltage_v < c.first_stop->point.voltage_v);
    CHECK(c.first_stop_lost_w() == Approx(c.operating.point.power_w() - c.first_stop->point.power_w()).epsilon(1e-12));
    CHECK(c.first_stop_lost_w() > 1.0);
}

TEST_CASE("first stop: limits met on the way down") {
    Trial t = roomy_trial();
    t.wire(3, 2);  // 600 W at 60 V and 10 A, by trial.hpp
    SECTION("none: the maximum") {
        const InputCurve c = drawn(t);
        REQUIRE(c.first_stop);
        CHECK(c.first_stop->point.power_w() == Approx(600.0).epsilon(1e-9));
        CHECK(c.first_stop_lost_w() == Approx(0.0).margin(1e-6));
    }
    SECTION("power") {
        t.input().max_power_w = 400.0;
        const InputCurve c = drawn(t);
        REQUIRE(c.first_stop);
        CHECK(c.first_stop->binding == Binding::power_limit);
        CHECK(c.first_stop->point.power_w() == Approx(400.0).epsilon(1e-9));
        CHECK(c.first_stop->point.voltage_v > 60.0);
    }
    SECTION("current") {
        t.one_limit_a(6.0);
        const InputCurve c = drawn(t);
        REQUIRE(c.first_stop);
        CHECK(c.first_stop->binding == Binding::current_limit);
        CHECK(c.first_stop->point.current_a == Approx(6.0).epsilon(1e-9));
        CHECK(c.first_stop->point.voltage_v == Approx(c.operating.point.voltage_v).epsilon(1e-9));
    }
    SECTION("a band that takes less begins before the maximum") {
        t.input().bands = {{0.0, 65.0, 1.0}, {65.0, 100.0, 50.0}};
        const InputCurve c = drawn(t);
        REQUIRE(c.first_stop);
        CHECK(c.first_stop->binding == Binding::band_edge);
        CHECK(c.first_stop->point.voltage_v == Approx(65.0));
    }
    SECTION("the window ends above the maximum") {
        t.input().tracking_min_v = 66.0;
        const InputCurve c = drawn(t);
        REQUIRE(c.first_stop);
        CHECK(c.first_stop->binding == Binding::window_bottom);
        CHECK(c.first_stop->point.voltage_v == Approx(66.0));
    }
    SECTION("the window ends below the maximum") {
        t.input().tracking_max_v = 50.0;
        const InputCurve c = drawn(t);
        REQUIRE(c.first_stop);
        CHECK(c.first_stop->binding == Binding::window_top);
        CHECK(c.first_stop->point.voltage_v == Approx(50.0));
    }
    SECTION("pushed out at the top: nowhere") {
        t.input().tracking_max_v = 50.0;
        t.one_limit_a(1.0);
        CHECK_FALSE(drawn(t).first_stop);
        CHECK_FALSE(drawn(t).operating.held());
    }
    SECTION("the window is not reached: nowhere") {
        t.input().tracking_min_v = 90.0;
        const InputCurve c = drawn(t);
        CHECK_FALSE(c.first_stop);
        CHECK(c.in_window.empty());
    }
    SECTION("no tracker") {
        t.controller().type = ControllerType::direct_connect;
        t.controller().battery = Battery{10.8, 12.4, 14.7, {}};
        t.controller().direct_connect_drop_v = 0.6;
        const InputCurve c = drawn(t);
        CHECK_FALSE(c.first_stop);
        CHECK(c.operating.point.voltage_v == Approx(13.0));
    }
}

TEST_CASE("first stop is never better than the point in operation") {
    Trial t = half_shaded();
    for (double power_w = 20.0; power_w < 220.0; power_w += 11.0) {
        for (double limit_a = 0.4; limit_a < 6.0; limit_a += 0.7) {
            t.input().max_power_w = power_w;
            t.one_limit_a(limit_a);
            const InputCurve c = drawn(t, {2, {}, 0});
            if (!c.first_stop) continue;
            CAPTURE(power_w, limit_a);
            CHECK(c.operating.held());
            CHECK(c.first_stop->point.power_w() <= c.operating.point.power_w() * (1.0 + 1e-9));
            CHECK(c.first_stop->point.power_w() <= power_w * (1.0 + 1e-9));
            CHECK(c.first_stop->point.current_a <= limit_a * (1.0 + 1e-9));
        }
    }
}

TEST_CASE("curve sheet in the dark: one point, nothing held") {
    const Trial t = half_shaded();
    Weather dark;
    dark.id.reset();
    dark.irradiance_w_per_m2 = 0.0;
    const InputCurve c = input_curve(SystemModel(t.setup), 0, t.plan[0], dark, {});
    CHECK(c.open_circuit_v == Approx(0.0).margin(1e-9));
    CHECK(c.points.size() == 1);
    CHECK_FALSE(c.operating.held());
    CHECK_FALSE(c.first_stop);
    CHECK(c.at_best.mismatch.own_w == 0.0);
}

TEST_CASE("allows: voltage, current and power, the limits themselves included") {
    const physics::AcceptanceWindow window{10.0, 50.0, {{10.0, 30.0, 4.0}, {30.0, 50.0, 8.0}}, 200.0};
    CHECK(allows(window, {10.0, 4.0}));
    CHECK(allows(window, {30.0, 6.0}));
    CHECK(allows(window, {50.0, 4.0}));
    CHECK_FALSE(allows(window, {9.9, 1.0}));
    CHECK_FALSE(allows(window, {50.1, 1.0}));
    CHECK_FALSE(allows(window, {29.9, 4.1}));
    CHECK_FALSE(allows(window, {50.0, 4.1}));
}
