#include "reading.hpp"

namespace plait::input::test {
namespace {

const std::string head = R"(
[[panel]]
count = 4
id = "meadow"
technology = "mono"
pmax = 100
vmp = 18
imp = 5.56
voc = 21.6
isc = 6
[controller]
type = "wide-range"
[controller.battery]
min_voltage = 10
max_voltage = 14
[[controller.input]]
name = "PV1"
max_voltage = "60 V"
tracking_min = "12 V"
plug_rating = "10 A"
[[controller.input]]
name = "PV2"
max_voltage = "60 V"
tracking_min = "12 V"
[site]
hottest_air = "36 °C"
)";

std::size_t assumed(const Setup& s, Quantity q) {
    return static_cast<std::size_t>(std::count_if(s.assumptions.begin(), s.assumptions.end(),
                                                  [&](const Assumption& a) { return a.quantity == q; }));
}

TEST_CASE("a cable with every key said leaves nothing to assume") {
    const Setup s = setup_of("drop_target = \"1.5 %\"\n" + head + R"(
[[cable]]
run = "trunk"
input = "PV2"
name = "drum"
length = "16 ft"
size = "12 AWG"
kind = "tinned"
conductor_temperature = "60 °C"
ambient = "45 °C"
laid = "free-air"
circuits = 2
insulation = "90 °C"
terminals = "75 °C"
)");
    REQUIRE(s.cables.size() == 1);
    const Cable& c = s.cables[0];
    CHECK(c.run == CableRun::trunk);
    CHECK(c.input == 1);
    CHECK(c.name == "drum");
    CHECK(c.length_m == Approx(16 * 0.3048));
    CHECK(c.size.awg == 12);
    CHECK(c.size.area_mm2 == 3.31);  // NEC chapter 9 table 8
    CHECK(c.kind == ConductorKind::tinned);
    CHECK(c.conductor.degc == 60.0);
    CHECK(c.ambient.degc == 45.0);
    CHECK(c.laying == Laying::free_air);
    CHECK(c.circuits == 2);
    CHECK(c.insulation.degc == 90.0);
    CHECK(c.terminals.degc == 75.0);
    CHECK(s.drop_target_ratio == Approx(0.015));
    CHECK(s.controller.inputs[0].plug_rating_a == 10.0);
    CHECK_FALSE(s.controller.inputs[1].plug_rating_a);
    CHECK(assumed(s, Quantity::cable_resistance) == 0);
    CHECK(assumed(s, Quantity::cable_surroundings) == 0);
    CHECK(assumed(s, Quantity::drop_target) == 0);
}

TEST_CASE("what a cable leaves out is assumed, cautiously, and listed") {
    const Setup s = setup_of(head + R"(
[[cable]]
run = "string"
length = 5
size = "4 mm2"
[[cable]]
run = "battery"
length = "80 cm"
size = "6 AWG"
resistance = "1.7 Ω/km"
)");
    REQUIRE(s.cables.size() == 2);
    CHECK_FALSE(s.cables[0].input);
    CHECK_FALSE(s.cables[0].size.awg);
    CHECK(s.cables[0].size.area_mm2 == 4.0);
    CHECK(s.cables[0].kind == ConductorKind::tinned);
    CHECK(s.cables[0].conductor.degc == 75.0);
    CHECK(s.cables[0].ambient.degc == 60.0);
    CHECK(s.cables[0].laying == Laying::bundled);
    CHECK(s.cables[0].terminals.degc == 60.0);
    CHECK(s.cables[1].length_m == Approx(0.8));
    CHECK(s.cables[1].kind == ConductorKind::plain);
    CHECK(s.cables[1].ambient.degc == 36.0);
    CHECK(s.cables[1].resistance_ohm_per_m == Approx(0.0017));
    CHECK(s.drop_target_ratio == 0.02);
    CHECK(assumed(s, Quantity::cable_resistance) == 1);  // the other has its maker's
    CHECK(assumed(s, Quantity::cable_surroundings) == 2);
    CHECK(assumed(s, Quantity::drop_target) == 1);
}

TEST_CASE("a resistance per thousand feet is one per 304.8 m") {
    const Setup s = setup_of(
        head + "[[cable]]\nrun = \"trunk\"\nlength = \"10 ft\"\nsize = \"12 AWG\"\nresistance = \"1.60 ohm/kft\"\n");
    CHECK(s.cables.at(0).resistance_ohm_per_m == Approx(1.60 / 304.8));
}

TEST_CASE("without cables nothing is assumed of them") {
    const Setup s = setup_of(head + "[fittings]\nstring_fuse = \"10 A\"\nbranch = \"50 A\"\nbattery_fuse = \"80 A\"\n");
    CHECK(s.cables.empty());
    CHECK(assumed(s, Quantity::drop_target) == 0);
    CHECK(s.fittings.string_fuse_a == 10.0);
    CHECK(s.fittings.branch_a == 50.0);
    CHECK(s.fittings.battery_fuse_a == 80.0);
    CHECK_FALSE(s.fittings.disconnect_a);
}

}  // namespace
}  // namespace plait::input::test
