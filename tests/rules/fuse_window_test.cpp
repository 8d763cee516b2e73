#include "wired.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
Trial strings(int in_parallel, double isc_a, double rating_a) {
    Trial t;
    t.panel().isc_a = isc_a;
    t.panel().max_series_fuse_a = rating_a;
    t.wire(2, in_parallel);
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

TEST_CASE("fuse window: one or two equal strings have nothing to choose") {
    CHECK(strings(1, 6.0, 15.0).check("fuse-window").empty());
    CHECK(strings(2, 6.0, 15.0).check("fuse-window").empty());
}

// Isc 5 A, rating 15 A, four strings: by NEC needed. 7.8125 A to 15 A holds 10 and 15 A; IEC 7.5 to 12 A: 8, 10
// A.
TEST_CASE("fuse window: needed, and there is one") {
    const Trial t = strings(4, 5.0, 15.0);
    const Findings found = t.check("fuse-window");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == 10.0);
    CHECK(found[0].limit == 15.0);
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[0].decides);
    CHECK(found[1].value == 8.0);
    CHECK(found[1].limit == exactly(12.0));
    CHECK_FALSE(found[1].decides);  // IEC asks for none
    CHECK_THAT(t.because("fuse-window", found[0]), Contains("7.81 A") && Contains("10, 15 A"));
    CHECK_THAT(t.instead("fuse-window", found[0]), Contains("60.00 V"));  // two panels at 30 V
}

// Isc 10 A, rating 15 A: 15.625 A is above what the panels bear. Three strings push 25 A: needed, and impossible.
TEST_CASE("fuse window: needed, and no size does") {
    const Trial t = strings(3, 10.0, 15.0);
    const Findings found = t.check("fuse-window");
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK(found[0].decides);
    CHECK(found[0].value == 20.0);  // the next above 15.625 A in NEC 240.6(A)
    CHECK(found[1].outcome == Outcome::exceeds);
    CHECK(found[1].value == 16.0);  // the next above 15 A of gPV
    CHECK_THAT(t.because("fuse-window", found[0]), Contains("no standard size"));
    CHECK_THAT(t.instead("fuse-window", found[0]), Contains("at most 2 strings"));
}

TEST_CASE("fuse window: a fitted fuse at each edge and a step beyond") {
    Trial t = strings(4, 8.0, 20.0);  // NEC 12.5 to 20 A, IEC 12 to 19.2 A
    t.setup.fittings.string_fuse_a = 12.5;
    CHECK(of_test(t.check("fuse-window"), 2).outcome == Outcome::within);
    t.setup.fittings.string_fuse_a = 12.4;
    CHECK(of_test(t.check("fuse-window"), 2).outcome == Outcome::needs);
    t.site().code = Code::iec;  // 1.5 × 8 A
    CHECK(of_test(t.check("fuse-window"), 2).outcome == Outcome::within);
    t.setup.fittings.string_fuse_a = 20.0;
    CHECK(of_test(t.check("fuse-window"), 3).outcome == Outcome::exceeds);
    t.site().code = Code::nec;
    CHECK(of_test(t.check("fuse-window"), 3).outcome == Outcome::within);
    t.setup.fittings.string_fuse_a = 20.1;
    CHECK(of_test(t.check("fuse-window"), 3).outcome == Outcome::exceeds);
}

TEST_CASE("fuse window: the fuse's voltage against the coldest morning") {
    Trial t = strings(3, 5.0, 15.0);
    t.setup.fittings.string_fuse_v = 60.0;
    CHECK(of_test(t.check("fuse-window"), 4).value == exactly(60.0));
    CHECK(of_test(t.check("fuse-window"), 4).outcome == Outcome::within);
    t.setup.fittings.string_fuse_v = 59.0;
    CHECK(of_test(t.check("fuse-window"), 4).outcome == Outcome::exceeds);
}

TEST_CASE("fuse window: fuses for too few volts are changed for the same amps and enough volts") {
    Trial t = strings(4, 5.0, 15.0);  // NEC: 10 A or 15 A for two panels at 30 V, and 10 A is the smaller
    t.setup.fittings.string_fuse_a = 15.0;
    t.setup.fittings.string_fuse_v = 59.0;
    const Finding low = of_test(t.check("fuse-window"), 4);
    REQUIRE(low.outcome == Outcome::exceeds);
    Cures cures = t.cures("fuse-window", low);
    REQUIRE(cures.size() == 1);
    CHECK(cures[0].kind == CureKind::string_fuse);
    CHECK(cures[0].rating_a == 15.0);
    CHECK(cures[0].rating_v == exactly(60.0));
    // Too few amps are another matter: the fuse is chosen anew.
    t.setup.fittings.string_fuse_a = 5.0;
    t.setup.fittings.string_fuse_v = 80.0;
    const Finding small = of_test(t.check("fuse-window"), 2);
    REQUIRE(small.outcome == Outcome::needs);
    cures = t.cures("fuse-window", small);
    REQUIRE(!cures.empty());
    CHECK(cures[0].rating_a == 10.0);
    CHECK(cures[0].rating_v == exactly(60.0));
    // Nobody knows the amps of those that are there.
    t.setup.fittings.string_fuse_a.reset();
    t.setup.fittings.string_fuse_v = 59.0;
    cures = t.cures("fuse-window", of_test(t.check("fuse-window"), 4));
    REQUIRE(!cures.empty());
    CHECK(cures[0].rating_a == 10.0);
}

TEST_CASE("fuse window: the Voc tolerance counts for the fuse's voltage too") {
    Trial t = strings(3, 5.0, 15.0);
    t.panel().voc_tolerance_ratio = 0.03;
    t.setup.fittings.string_fuse_v = 61.0;
    const Finding thin = of_test(t.check("fuse-window"), 4);
    CHECK(thin.outcome == Outcome::within);
    CHECK_FALSE(thin.even_at_worst);
    CHECK_THAT(t.instead("fuse-window", thin), Contains("61.80 V"));
    t.setup.fittings.string_fuse_v = 62.0;
    CHECK(of_test(t.check("fuse-window"), 4).even_at_worst);
}

// Strings of 6.1, 6.0 and 6.1 A, panels that bear 15.2 A: 10 A to 15.2 A for all. The others push 1.25 × 12.1 = 15.125
// A into a strong string, which it bears, and 1.25 × 12.2 = 15.25 A into the weak one, which it does not.
TEST_CASE("fuse window: the sentence is about the string that decided, not the first with the same figures") {
    Trial t = strings(3, 6.1, 15.2);
    Panel weak = t.panel();
    weak.isc_a = 6.0;
    const std::size_t kind = t.add_kind("weak", weak);
    t.plan[0].strings[1] = string_of({kind, kind});
    t.site().code = Code::nec;
    const Findings found = t.check("fuse-window");
    REQUIRE(found[0].decides);
    CHECK_THAT(t.because("fuse-window", found[0]), Contains("6.00 A") && !Contains("does not ask"));
    CHECK_THAT(t.instead("fuse-window", found[0]), Contains("Fit DC fuses"));
}

TEST_CASE("fuse window: what a fitted fuse should be instead, and whose limit it is") {
    Trial t = strings(4, 8.0, 20.0);  // NEC 12.5 to 20 A, IEC 12 to 19.2 A
    t.setup.fittings.string_fuse_a = 10.0;
    CHECK_THAT(t.instead("fuse-window", of_test(t.check("fuse-window"), 2)), Contains("DC fuse made for PV of 15 A, rated for 60.00 V"));
    t.setup.fittings.string_fuse_a = 25.0;
    CHECK_THAT(t.because("fuse-window", of_test(t.check("fuse-window"), 3)), Contains("2.4 × Isc"));
    t.site().code = Code::nec;
    CHECK_THAT(t.because("fuse-window", of_test(t.check("fuse-window"), 3)), Contains("panels' maximum series fuse"));
    t.panel().max_series_fuse_a = 10.0;
    CHECK_THAT(t.instead("fuse-window", of_test(t.check("fuse-window"), 3)), Contains("No standard size"));
}

// 12 AWG at 60 °C: 30 × 0.71 = 21.3 A, next standard size 25 A, but 240.4(D) stops at 20 A.
TEST_CASE("fuse window: the fuse guards the string's cable too") {
    Trial t = wired(CableRun::string, awg(12), 5.0);
    t.wire(2, 4);
    t.panel().max_series_fuse_a = 30.0;
    t.site().code = Code::nec;
    t.setup.fittings.string_fuse_a = 20.0;
    CHECK(of_test(t.check("fuse-window"), 5).limit == 20.0);
    CHECK(of_test(t.check("fuse-window"), 5).outcome == Outcome::within);
    t.setup.fittings.string_fuse_a = 25.0;
    CHECK(of_test(t.check("fuse-window"), 5).outcome == Outcome::exceeds);
}

TEST_CASE("fuse window: with fuses fitted the reverse current is held against them") {
    Trial t = strings(4, 6.0, 15.0);  // the others push 22.5 A
    CHECK(t.check("string-fuses")[0].outcome == Outcome::needs);
    t.setup.fittings.string_fuse_a = 12.0;
    const Findings found = t.check("string-fuses");
    CHECK(found[0].value == 12.0);
    CHECK(found[0].limit == 15.0);
    CHECK(found[0].outcome == Outcome::within);
    CHECK_THAT(t.because("string-fuses", found[0]), Contains("22.50 A") && Contains("12.00 A"));
    t.setup.fittings.string_fuse_a = 16.0;
    CHECK(t.check("string-fuses")[0].outcome == Outcome::exceeds);
}
