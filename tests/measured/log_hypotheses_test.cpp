// Single causes by hand: the cables of the set-up, and what keeps an input from starting.
#include "../study/trial.hpp"

#include <plait/measured/log_explanation.hpp>

#include <cmath>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

constexpr double irradiance_w_per_m2 = 800.0;
constexpr Celsius warm{45.0};

Cable cable(CableRun run, double loop_ohm) {
    Cable c;
    c.name = "cable";
    c.run = run;
    c.length_m = 10.0;
    c.size = {4.0, std::nullopt};
    c.resistance_ohm_per_m = loop_ohm / 20.0;
    return c;
}

/// Two strings of two, 0.4 Ω in each string and 0.2 Ω from the joint on: half of 0.4 and 0.2, 0.4 Ω to the array.
Trial wired_trial() {
    Trial t = roomy_trial();
    t.wire(2, 2);
    t.setup.cables = {cable(CableRun::string, 0.4), cable(CableRun::trunk, 0.2)};
    return t;
}

struct Weather {
    KindConditions by_kind{{irradiance_w_per_m2, warm}};
};

LogRow row_at(double time_s, physics::PowerPoint p) {
    LogRow row;
    row.time_s = time_s;
    row.voltage_v = p.voltage_v;
    row.current_a = p.current_a;
    row.irradiance_w_per_m2 = irradiance_w_per_m2;
    row.panel = warm;
    row.charge_ratio = 0.5;
    return row;
}

/// One hour of the same row.
LogAccount hour_of(const Trial& t, physics::PowerPoint p) {
    const SystemModel system(t.setup);
    LogExplainer explainer(system, 0, t.plan[0], {});
    for (int minute = 0; minute <= 60; minute += 10) explainer.add(row_at(60.0 * minute, p), nullptr);
    return explainer.finish(nullptr);
}

physics::OperatingPoint at_input(const Trial& t, bool behind_cables) {
    const SystemModel system(t.setup);
    const InputWiring& w = t.plan[0];
    const auto wires = behind_cables ? system.wires(0, w) : physics::WireResistance{};
    return system.operating_point(0, system.curve(w, Weather().by_kind, wires));
}

void check_adds_up(const LogAccount& a) {
    double left_wh = a.label_wh;
    for (const double lost : a.lost_wh) left_wh -= lost;
    CHECK(left_wh == Approx(a.measured_wh).epsilon(0).margin(1e-9 * a.label_wh));
}

double lost_wh(const LogAccount& a, Cause c) { return a.lost_wh[index_of(c)]; }

// The table of conditions errs by 1e-3 of the label's volts times amps (docs/explain.md).
constexpr double table_wh = 2e-3 * 50.0 * 12.0;

}  // namespace

TEST_CASE("explain: what the cables cost is a loss of its own, between the array's maximum and the input") {
    const Trial t = wired_trial();
    const physics::OperatingPoint bare = at_input(t, false);
    const physics::OperatingPoint wired = at_input(t, true);
    const LogAccount a = hour_of(t, wired.point);
    check_adds_up(a);
    CHECK(a.possible_wh == Approx(bare.point.power_w()).margin(table_wh));
    CHECK(lost_wh(a, Cause::cable) == Approx(bare.point.power_w() - wired.point.power_w()).margin(table_wh));
    // By hand, Joule's law: 0.4 Ω at the array's some 8 A.
    const double amps = wired.point.current_a;
    CHECK(lost_wh(a, Cause::cable) == Approx(0.4 * amps * amps).epsilon(0.05));
    CHECK(std::abs(lost_wh(a, Cause::scatter)) < table_wh);
    CHECK(lost_wh(a, Cause::cable) > 20.0);
}

TEST_CASE("explain: unlike strings behind cables lose in them too") {
    Trial t = wired_trial();
    t.plan[0].strings[1].panels[0].groups = {{0.7, 0.0}, {0.7, 0.0}};
    const physics::OperatingPoint bare = at_input(t, false);
    const physics::OperatingPoint wired = at_input(t, true);
    const LogAccount a = hour_of(t, wired.point);
    check_adds_up(a);
    CHECK(lost_wh(a, Cause::cable) == Approx(bare.point.power_w() - wired.point.power_w()).margin(table_wh));
}

TEST_CASE("explain: cables cost nothing where the input takes no more anyway") {
    Trial t = wired_trial();
    t.input().max_power_w = 200.0;
    const physics::OperatingPoint wired = at_input(t, true);
    REQUIRE(wired.binding == physics::Binding::power_limit);
    const LogAccount a = hour_of(t, wired.point);
    check_adds_up(a);
    CHECK(std::abs(lost_wh(a, Cause::cable)) < table_wh);
    CHECK(lost_wh(a, Cause::power_limit) == Approx(a.possible_wh - 200.0).margin(table_wh));
}

TEST_CASE("explain: an array that only its cables bring to a limit loses to the cables") {
    Trial t = wired_trial();
    t.setup.cables.push_back(cable(CableRun::trunk, 0.8));
    // Between the maximum of the bare array and that behind the cables, some 1.2 Ω × 8 A lower.
    const double bare_v = at_input(t, false).point.voltage_v;
    t.input().tracking_min_v = bare_v - 3.0;
    t.input().start_voltage_v = bare_v - 3.0;
    const physics::OperatingPoint wired = at_input(t, true);
    REQUIRE(wired.binding == physics::Binding::window_bottom);
    const LogAccount a = hour_of(t, wired.point);
    check_adds_up(a);
    CHECK(std::abs(lost_wh(a, Cause::below_window)) < table_wh);
    CHECK(lost_wh(a, Cause::cable) == Approx(a.possible_wh - wired.point.power_w()).margin(table_wh));
    CHECK(a.hours_h[index_of(Cause::cable)] > 0.9);
}

TEST_CASE("explain: a step-down input waits for its battery plus headroom, whatever start is stated") {
    Trial t = roomy_trial();
    t.wire(1, 1);
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{12.0, 14.0, 14.6, std::nullopt};
    t.controller().running_headroom_v = 1.0;
    t.controller().starting_headroom_v = 10.0;  // 24 V, above the warm panel's open circuit
    t.input().tracking_min_v = 15.6;
    t.input().start_voltage_v = 12.0;
    const SystemModel system(t.setup);
    const physics::ArrayCurve curve = system.curve(t.plan[0], Weather().by_kind);
    REQUIRE(system.operating_point(0, curve).held());
    REQUIRE(curve.open_circuit_v() < 23.5);
    const LogAccount a = hour_of(t, {curve.open_circuit_v(), 0.0});
    CHECK(a.hours_h[index_of(Cause::below_window)] > 0.8);
    // With a battery that low it would have started.
    t.controller().starting_headroom_v = 2.0;
    CHECK(hour_of(t, {curve.open_circuit_v(), 0.0}).hours_h[index_of(Cause::below_window)] < 0.2);
}
