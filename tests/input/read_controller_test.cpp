#include "reading.hpp"

namespace plait::input::test {
namespace {

const std::string step_down =
    "name = \"Van charger\"\ntype = \"step-down\"\n"
    "[battery]\nmin_voltage = 10.5\nmax_voltage = 14.6\nmax_charge_current = 30\n"
    "[[input]]\nmax_voltage = 100\nmax_current = 25\n";

TEST_CASE("a plain controller file is read as written") {
    const auto text = from_disk(source_dir + "/tests/input/good/controller_plain.toml");
    REQUIRE(text);
    const ControllerFile f = controller_of(*text);
    REQUIRE(f.assumptions.size() == 1);
    CHECK(assumed(f.assumptions, Quantity::input_over_limit).value == "only clips");
    CHECK(f.doubts.empty());
    CHECK(f.controller.name == "Shed box");
    CHECK(f.controller.type == ControllerType::wide_range);
    CHECK_FALSE(f.controller.battery);
    REQUIRE(f.controller.inputs.size() == 1);
    const Input& in = f.controller.inputs.front();
    CHECK(in.name == "PV1");
    CHECK(in.max_voltage_v == 60.0);
    CHECK(in.tracking_min_v.value() == 12.0);
    CHECK(in.tracking_max_v.value() == 55.0);
    CHECK_FALSE(in.start_voltage_v);
    REQUIRE(in.bands.size() == 1);
    CHECK(in.bands[0].from_v == 0.0);
    CHECK(in.bands[0].to_v == 60.0);
    CHECK(in.bands[0].limit_a == 15.0);
    CHECK(in.over_current == OverCurrent::unsaid);
}

TEST_CASE("a step-down controller takes its headroom, and its lower end from the battery") {
    const ControllerFile f = controller_of(step_down);
    const Controller& c = f.controller;
    CHECK(c.running_headroom_v == 1.0);
    CHECK(c.starting_headroom_v == 5.0);
    CHECK(c.efficiency_ratio == 1.0);
    REQUIRE(c.battery);
    CHECK(c.battery->nominal_voltage_v == Approx(12.55));  // midway between 10.5 and 14.6
    CHECK(c.battery->max_charge_current_a.value() == 30.0);
    REQUIRE(c.inputs.size() == 1);
    CHECK(c.inputs[0].tracking_min_v.value() == Approx(15.6));
    CHECK(c.inputs[0].tracking_max_v.value() == 100.0);
    CHECK(assumed(f.assumptions, Quantity::battery_voltage).value == "12.55 V");
    CHECK(assumed(f.assumptions, Quantity::controller_efficiency).value == "100 %");
    int headrooms = 0;
    int ranges = 0;
    for (const Assumption& a : f.assumptions) {
        headrooms += a.quantity == Quantity::controller_headroom ? 1 : 0;
        if (a.quantity != Quantity::input_tracking_range) continue;
        ++ranges;
        CHECK(a.input.value() == 0);
        CHECK(a.subject == "input 'PV1'");
    }
    CHECK(headrooms == 2);
    CHECK(ranges == 2);
}

TEST_CASE("without a tracking range the start voltage is its lower end") {
    const ControllerFile f =
        controller_of("type = \"wide-range\"\n[[input]]\nmax_voltage = 60\nstart_voltage = 14\nmax_current = 10\n");
    CHECK(f.controller.inputs[0].tracking_min_v.value() == 14.0);
    CHECK(f.controller.name == "controller");
}

TEST_CASE("a direct-connect controller needs no tracking range") {
    const ControllerFile f = controller_of(
        "type = \"direct-connect\"\n[battery]\nmin_voltage = 10.5\nnominal_voltage = 12.4\nmax_voltage = 14.7\n"
        "[[input]]\nmax_voltage = 50\nmax_current = 30\nover_current = \"do-not-exceed\"\n");
    CHECK(f.controller.direct_connect_drop_v == 0.5);
    CHECK(f.controller.running_headroom_v == 0.0);
    CHECK_FALSE(f.controller.inputs[0].tracking_min_v);
    CHECK_FALSE(f.controller.inputs[0].tracking_max_v);
    CHECK(f.controller.inputs[0].over_current == OverCurrent::not_permitted);
    CHECK(assumed(f.assumptions, Quantity::controller_headroom).value == "0.5 V");
    CHECK_FALSE(is_assumed(f.assumptions, Quantity::input_tracking_range));
}

TEST_CASE("bands may touch; a missing current limit is listed") {
    const ControllerFile f = controller_of(
        "type = \"wide-range\"\n[[input]]\nmax_voltage = 60\ntracking_min = 11\n"
        "bands = [ { from = \"11 V\", to = \"24 V\", current = \"8 A\" }, { from = 24, to = 60, current = \"13000 mA\" "
        "} ]\n"
        "[[input]]\nmax_voltage = 60\ntracking_min = 11\n");
    const Input& banded = f.controller.inputs[0];
    REQUIRE(banded.bands.size() == 2);
    CHECK(banded.bands[1].from_v == 24.0);
    CHECK(banded.bands[1].to_v == 60.0);
    CHECK(banded.bands[1].limit_a == 13.0);
    CHECK(f.controller.inputs[1].bands.empty());
    CHECK(f.controller.inputs[1].name == "PV2");
    const Assumption none = assumed(f.assumptions, Quantity::input_current_limit);
    CHECK(none.value == "none");
    CHECK(none.input.value() == 1);
}

TEST_CASE("limits that look swapped raise a doubt") {
    const ControllerFile f = controller_of(
        "type = \"wide-range\"\n[[input]]\nmax_voltage = 60\ntracking_min = 11\nmax_current = 15\n"
        "max_short_circuit_current = 10\nmax_power = 600\nmax_array_power = 400\n");
    REQUIRE(f.doubts.size() == 2);
    CHECK(has(f.doubts[0], "controller.toml:6:29: 'max_short_circuit_current' is 10 A, below 'max_current' 15 A"));
    CHECK(has(f.doubts[1], "'max_array_power'"));
}

TEST_CASE("what the manual does not say of an array above the limits is assumed, where it matters") {
    const std::string head = "type = \"wide-range\"\n[[input]]\nmax_voltage = 60\ntracking_min = 12\n";
    const auto asked = [&](const std::string& lines) {
        int n = 0;
        for (const Assumption& a : controller_of(head + lines).assumptions) n += a.quantity == Quantity::input_over_limit ? 1 : 0;
        return n;
    };
    CHECK(asked("") == 0);  // nothing to be above
    CHECK(asked("max_current = 15\n") == 1);
    CHECK(asked("max_power = 400\n") == 1);
    CHECK(asked("max_current = 15\nmax_power = 400\nover_current = \"clips\"\n") == 0);
    CHECK(asked("max_current = 15\nover_current = \"do-not-exceed\"\n") == 0);
    CHECK(asked("max_current = 15\nmax_power = 400\nover_current = \"do-not-exceed\"\n") == 1);
    CHECK(asked("max_current = 15\nmax_power = 400\nmax_array_power = 500\nover_current = \"do-not-exceed\"\n") == 0);
    const ControllerFile direct = controller_of(
        "type = \"direct-connect\"\n[battery]\nmin_voltage = 11\nmax_voltage = 14\n[[input]]\nmax_voltage = 60\n"
        "max_current = 15\n");
    for (const Assumption& a : direct.assumptions) CHECK(a.quantity != Quantity::input_over_limit);
}

TEST_CASE("an input without its maximum is read, and what nobody knows is listed") {
    const ControllerFile f = controller_of(
        "type = \"wide-range\"\n[[input]]\ntracking_min = 12\ntracking_max = 57.5\nmax_current = 9\nover_current = "
        "\"clips\"\n");
    const Input& in = f.controller.inputs.front();
    CHECK_FALSE(in.max_voltage_v);
    CHECK(in.tracking_max_v == 57.5);
    REQUIRE(in.bands.size() == 1);
    CHECK(in.bands[0].to_v == 57.5);
    CHECK(assumed(f.assumptions, Quantity::input_max_voltage).value == "not known");
    CHECK(has(assumed(f.assumptions, Quantity::input_max_voltage).why, "Ask the maker"));
}

}  // namespace
}  // namespace plait::input::test
