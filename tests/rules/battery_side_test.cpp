#include "wired.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
// 1000 W into 25 V are 40 A; 60 °C terminals: 8 AWG 40 A / 1.25 = 32 A, 6 AWG 44 A.
Trial with_battery(CableSize size) {
    Trial t = wired(CableRun::battery, size, 1.0);
    t.setup.cables[0].ambient = Celsius{30.0};
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{21.0, 25.0, 29.0, std::nullopt};
    t.wire(2, 5);
    return t;
}
const Finding& of_test(const Findings& found, int test) {
    for (const Finding& f : found) {
        if (f.test == test) return f;
    }
    FAIL("no finding of test " << test);
    return found.front();
}
}  // namespace

TEST_CASE("battery side: silent without a battery, or without a cable and a fuse") {
    CHECK(Trial().check("battery-side").empty());
    Trial t = with_battery(awg(6));
    t.setup.cables.clear();
    CHECK(t.check("battery-side").empty());
}

TEST_CASE("battery side: the charge current against the cable") {
    const Findings enough = with_battery(awg(6)).check("battery-side");
    CHECK(of_test(enough, 0).value == exactly(40.0));
    CHECK(of_test(enough, 0).limit == exactly(44.0));
    CHECK(of_test(enough, 0).outcome == Outcome::within);
    const Trial thin = with_battery(awg(8));
    const Finding f = of_test(thin.check("battery-side"), 0);
    CHECK(f.limit == exactly(32.0));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(thin.instead("battery-side", f), Contains("6 AWG"));
}

// The first cable is thick enough; what the sentence says must be of the second, which is not.
TEST_CASE("battery side: of several cables the weakest is named, with the size that mends it") {
    Trial t = with_battery(awg(6));
    Cable thin = t.setup.cables[0];
    thin.name = "extension";
    thin.size = awg(10);
    thin.insulation = Celsius{60.0};
    thin.ambient = Celsius{50.0};  // × 0.58: 40 A want 69 A in the 60 °C column, 4 AWG with 70 A
    t.setup.cables.push_back(thin);
    const Finding f = of_test(t.check("battery-side"), 0);
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.because("battery-side", f), Contains("extension (10 AWG)"));
    CHECK_THAT(t.instead("battery-side", f), Contains("4 AWG"));
    const Finding drop = of_test(t.check("battery-side"), 2);
    t.setup.fittings.battery_fuse_a = 49.0;
    // The extension guards itself by no fuse that carries 40 A for hours.
    CHECK_THAT(t.instead("battery-side", of_test(t.check("battery-side"), 3)), Contains("No standard size"));
    CHECK(drop.outcome == Outcome::within);
}

// 6 AWG, 90 °C column 75 A, but 60 °C terminals allow 55 A (NEC 110.14(C)): next standard size 60 A. Terminals for 75 °C:
// 65 A, so 70 A; for 90 °C 75 A, so 80 A. As 10 mm² with 90 °C insulation, IEC 60364-5-52 method C has 80 A.
TEST_CASE("battery side: the fuse carries the charge current and guards the cable") {
    Trial t = with_battery(awg(6));
    t.setup.fittings.battery_fuse_a = 50.0;  // 1.25 × 40 A
    CHECK(of_test(t.check("battery-side"), 3).outcome == Outcome::within);
    t.setup.fittings.battery_fuse_a = 49.0;
    CHECK(of_test(t.check("battery-side"), 3).outcome == Outcome::needs);
    const Finding least = of_test(t.check("battery-side"), 3);
    CHECK_THAT(t.instead("battery-side", least), Contains("fit a fuse of 50 A") || Contains("Fit a fuse of 50 A"));
    t.setup.fittings.battery_fuse_a = 80.0;
    CHECK(of_test(t.check("battery-side"), 4).limit == 60.0);
    CHECK(of_test(t.check("battery-side"), 4).outcome == Outcome::exceeds);
    t.setup.cables[0].terminals = Celsius{75.0};
    CHECK(of_test(t.check("battery-side"), 4).limit == 70.0);
    t.setup.cables[0].terminals = Celsius{90.0};
    CHECK(of_test(t.check("battery-side"), 4).limit == 80.0);
    CHECK(of_test(t.check("battery-side"), 4).outcome == Outcome::within);
    t.site().code = Code::iec;
    CHECK(of_test(t.check("battery-side"), 4).limit == 80.0);
    t.setup.cables[0].insulation = Celsius{75.0};  // PVC: 63 A
    CHECK(of_test(t.check("battery-side"), 4).limit == 63.0);
}

TEST_CASE("battery side: drop against the battery's voltage") {
    Trial t = with_battery(awg(6));
    t.setup.cables[0].resistance_ohm_per_m = 0.00625;  // 2 × 1 m: 12.5 mΩ, 0.5 V at 40 A, 2 % of 25 V
    CHECK(of_test(t.check("battery-side"), 2).value == exactly(0.5));
    CHECK(of_test(t.check("battery-side"), 2).outcome == Outcome::within);
    t.setup.cables[0].length_m = 1.01;
    CHECK(of_test(t.check("battery-side"), 2).outcome == Outcome::clips);
}

// By the NEC the terminals for 60 °C hold the first cable to 55 A, the second has 65 A; the IEC knows no terminals and gives the
// first 80 A, the second, in PVC, 63 A.
TEST_CASE("battery side: by each code the words are of the cable that is the weakest by it") {
    Trial t = with_battery(awg(6));
    t.setup.cables[0].name = "first";
    t.setup.cables[0].insulation = Celsius{90.0};
    t.setup.cables[0].terminals = Celsius{60.0};
    Cable second = t.setup.cables[0];
    second.name = "second";
    second.insulation = Celsius{75.0};
    second.terminals = Celsius{75.0};
    t.setup.cables.push_back(second);
    const Findings found = t.check("battery-side");
    CHECK(of_test(found, 0).limit == exactly(44.0));
    CHECK(of_test(found, 1).limit == exactly(63.0));
    CHECK_THAT(t.because("battery-side", of_test(found, 0)), Contains("first") && !Contains("second"));
    CHECK_THAT(t.because("battery-side", of_test(found, 1)), Contains("second") && !Contains("first"));
}
