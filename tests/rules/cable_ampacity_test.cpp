#include "wired.hpp"

using namespace plait;
using namespace plait::rules;

TEST_CASE("cable ampacity: without cables the rule is silent") { CHECK(Trial().check("cable-ampacity").empty()); }

// 2.5 mm² is taken as 14 AWG: 15 A at 60 °C terminals (NEC 310.16); 90 °C column 25 A × 0.71 at 60 °C = 17.75 A; EN
// 50618 bundled 33 A.
TEST_CASE("cable ampacity: by hand, at the limit and a step beyond") {
    Trial t = wired(CableRun::string, metric(2.5), 5.0);
    t.panel().isc_a = 9.6;  // × 1.5625 = 15 A
    Findings found = t.check("cable-ampacity");
    REQUIRE(found.size() == 3);
    CHECK(found[0].value == exactly(15.0));
    CHECK(found[0].limit == 15.0);
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[1].value == exactly(12.0));
    CHECK(found[1].limit == exactly(17.75));
    CHECK(found[2].value == exactly(12.0));
    CHECK(found[2].limit == exactly(33.0));
    t.panel().isc_a = 9.601;
    found = t.check("cable-ampacity");
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK_THAT(t.because("cable-ampacity", found[0]), Contains("2.5 mm²") && Contains("15.00 A"));
    CHECK_THAT(t.instead("cable-ampacity", found[0]), Contains("12 AWG"));
    CHECK(found[1].outcome == Outcome::within);
}

TEST_CASE("cable ampacity: the site's code decides") {
    Trial t = wired(CableRun::string, metric(4), 5.0);
    t.site().code = Code::nec;
    CHECK(t.check("cable-ampacity")[0].decides);
    CHECK_FALSE(t.check("cable-ampacity")[2].decides);
    t.site().code = Code::iec;
    CHECK_FALSE(t.check("cable-ampacity")[0].decides);
    CHECK_FALSE(t.check("cable-ampacity")[1].decides);
    CHECK(t.check("cable-ampacity")[2].decides);
}

// Four strings of 5 A at a rating of 30 A: by NEC the others push 18.75 A through a faulty one, which the panels bear; 2.5
// mm² (14 AWG at 60 °C terminals) bears 15 A, its own string wants 7.81 A, and 18.75 A × 1.25 is too much.
TEST_CASE("cable ampacity: where only a fault is too much for a string's cable, fuses are enough") {
    Trial t = wired(CableRun::string, metric(2.5), 5.0);
    t.site().code = Code::nec;
    t.panel().isc_a = 5.0;
    t.panel().max_series_fuse_a = 30.0;
    t.wire(1, 4);
    const Finding f = t.check("cable-ampacity")[0];
    CHECK(f.value == exactly(18.75 * 1.25));
    CHECK(f.outcome == Outcome::needs);
    CHECK(t.check("string-fuses")[0].outcome == Outcome::within);
    CHECK_THAT(t.because("cable-ampacity", f), Contains("through a faulty string"));
    const Condition needed = t.condition("cable-ampacity", f);
    CHECK(needed.kind == ConditionKind::string_fuses);
    CHECK(needed.count == 4);
    CHECK(needed.rating_a == 15.0);  // what guards the cable, not the panels' 30 A
    const Cures cures = t.cures("cable-ampacity", f);
    REQUIRE(cures.size() == 2);
    CHECK(cures[0].kind == CureKind::string_fuse);
    CHECK(cures[0].rating_a == 10.0);
    CHECK(cures[1].kind == CureKind::cable_sizes);
    t.setup.fittings.string_fuse_a = 10.0;
    for (const Finding& now : t.check("cable-ampacity")) CHECK(now.outcome == Outcome::within);
    // Where its own string is too much, no fuse helps.
    t.setup.fittings.string_fuse_a.reset();
    t.panel().isc_a = 11.0;
    CHECK(t.check("cable-ampacity")[0].outcome == Outcome::exceeds);
}

TEST_CASE("cable ampacity: where the table ends nothing may be carried") {
    Trial t = wired(CableRun::string, awg(12), 5.0);
    t.setup.cables[0].ambient = Celsius{85.0};  // beyond the NEC's 80 °C; 2.5 mm² by EN 50618 still has 0.75
    const Findings found = t.check("cable-ampacity");
    CHECK(found[1].limit == 0.0);
    CHECK(found[1].outcome == Outcome::exceeds);
    CHECK_THAT(t.because("cable-ampacity", found[1]), Contains("no value"));
    CHECK_FALSE(t.instead("cable-ampacity", found[1]).empty());
    CHECK(found[2].limit == exactly(33.0 * 0.75));
}

TEST_CASE("cable ampacity: a cable that nothing helps comes before one that fuses help") {
    Trial t = wired(CableRun::string, metric(1.5), 5.0);
    t.site().code = Code::iec;
    t.panel().isc_a = 5.0;
    t.panel().max_series_fuse_a = 30.0;
    t.wire(1, 6);  // 25 A through a faulty string's 1.5 mm²: fuses help
    const auto found_iec = [&] { return t.check("cable-ampacity")[2]; };
    REQUIRE(found_iec().outcome == Outcome::needs);
    Cable trunk = t.setup.cables[0];
    trunk.run = CableRun::trunk;
    trunk.name = "thin trunk";
    t.setup.cables.push_back(trunk);  // 30 A in the same size: nothing helps
    CHECK(found_iec().outcome == Outcome::exceeds);
    std::swap(t.setup.cables[0], t.setup.cables[1]);
    CHECK(found_iec().outcome == Outcome::exceeds);
    CHECK_THAT(t.because("cable-ampacity", found_iec()), Contains("thin trunk"));
}

TEST_CASE("cable ampacity: of several cables the one that stands worst is held up") {
    Trial t = wired(CableRun::string, metric(6), 5.0);
    t.setup.cables.push_back(t.setup.cables[0]);
    t.setup.cables[1].run = CableRun::trunk;
    t.setup.cables[1].name = "long one";
    t.wire(1, 3);
    const Findings found = t.check("cable-ampacity");
    CHECK(found[0].value == exactly(18.0 * 1.5625));
    CHECK_THAT(t.because("cable-ampacity", found[0]), Contains("long one"));
    t.setup.cables[1].input = 1;  // leads elsewhere
    CHECK_THAT(t.because("cable-ampacity", t.check("cable-ampacity")[0]), !Contains("long one"));
}
