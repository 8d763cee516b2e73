#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {
Trial strings(int in_parallel, double isc_a, double rating_a) {
    Trial t;
    t.panel().isc_a = isc_a;
    t.input().max_short_circuit_a = rating_a;
    t.wire(1, in_parallel);
    return t;
}
}  // namespace

TEST_CASE("short circuit: nothing stated, nothing found") { CHECK(Trial{}.check("short-circuit-rating").empty()); }

// 2 × 6 A × 1.25 = 15 A.
TEST_CASE("short circuit: the limit itself, a step beyond, and words") {
    CHECK(strings(2, 6.0, 15.0).check("short-circuit-rating")[0].outcome == Outcome::within);
    const Trial t = strings(2, 6.0, 14.99);
    const Findings found = t.check("short-circuit-rating");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == exactly(15.0));
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK(found[0].decides);
    CHECK_THAT(t.because("short-circuit-rating", found[0]),
               Contains("2 strings") && Contains("15.00 A") && Contains("14.99 A"));
    CHECK_THAT(t.instead("short-circuit-rating", found[0]), Contains("at most 1 string in parallel"));
    // The plain sum stands beside it and decides nothing.
    CHECK(found[1].value == exactly(12.0));
    CHECK(found[1].outcome == Outcome::within);
    CHECK_FALSE(found[1].decides);
    CHECK_THAT(t.because("short-circuit-rating", found[1]), Contains("12.00 A"));
}

// Retailer's forum answer: five modules of 3 A in parallel give 15 A, × 1.56 = 23.4 A of conductor. The rule has the
// first 1.25 (bright sky); the second (continuous duty, NEC 690.8(B)) belongs to cables.
TEST_CASE("five modules of 3 A") {
    const Findings found = strings(5, 3.0, 100.0).check("short-circuit-rating");
    CHECK(found[1].value == exactly(15.0));
    CHECK(found[0].value == exactly(18.75));
    CHECK(1.25 * found[0].value == Approx(23.4).margin(0.05));
}

// A combiner box's manual: a 15 A fuse in each input allows modules of 15/1.56 = 9.62 A. The manual's 1.56 is 1.25
// × 1.25 rounded; unrounded it is 9.60 A, which the maker's figure passes by 0.2 %.
TEST_CASE("how much Isc a 15 A fuse allows") {
    CHECK(1.25 * strings(1, 9.60, 100.0).check("short-circuit-rating")[0].value == exactly(15.0));
    CHECK(1.25 * strings(1, 9.62, 100.0).check("short-circuit-rating")[0].value == Approx(15.0).epsilon(0.0025));
}

// Sandia/NMSU suggested practices (SAND2001-0674), appendix [from memory]: six modules of 4.8 A: 4.8 → 6.0 → 7.5 A
// each, 28.8 → 36 → 45 A together; and one of 3.8 A: 5.9 A.
TEST_CASE("six modules of 4.8 A, one of 3.8 A") {
    const double one_a = strings(1, 4.8, 100.0).check("short-circuit-rating")[0].value;
    CHECK(one_a == exactly(6.0));
    CHECK(1.25 * one_a == exactly(7.5));
    const Findings six = strings(6, 4.8, 100.0).check("short-circuit-rating");
    CHECK(six[1].value == exactly(28.8));
    CHECK(six[0].value == exactly(36.0));
    CHECK(1.25 * six[0].value == exactly(45.0));
    CHECK(1.25 * strings(1, 3.8, 100.0).check("short-circuit-rating")[0].value == Approx(5.9).margin(0.05));
}

TEST_CASE("short circuit: series panels add nothing, the strongest of unlike ones counts") {
    Trial t = strings(1, 6.0, 100.0);
    CHECK(t.wire(3, 1).check("short-circuit-rating")[1].value == exactly(6.0));
    Panel strong = round_panel();
    strong.isc_a = 9.0;
    const std::size_t kind = t.add_kind("strong", strong);
    t.plan[0].strings = {string_of({0, kind, 0}), string_of({0})};
    CHECK(t.check("short-circuit-rating")[1].value == exactly(15.0));
}

// 10 A × (1 + 0.70 × 0.135) = 10.945 A: nameplate irradiance with 135 W/m² from behind, IEC TS 60904-1-2 [from memory].
TEST_CASE("short circuit: two-sided panels count the light from behind") {
    Trial t = strings(1, 10.0, 100.0);
    t.panel().bifaciality_ratio = 0.70;
    CHECK(t.check("short-circuit-rating")[1].value == exactly(10.945));
}

// 12 A ± 5 %: 11.4 … 12.6 A; the bright-sky test carries no tolerance on top.
TEST_CASE("short circuit: tolerance is shown with the plain sum only") {
    Trial t = strings(2, 6.0, 12.5);
    t.panel().isc_tolerance_ratio = 0.05;
    const Findings found = t.check("short-circuit-rating");
    CHECK(found[1].spread.lower() == exactly(11.4));
    CHECK(found[1].spread.upper() == exactly(12.6));
    CHECK(found[1].outcome == Outcome::within);
    CHECK_FALSE(found[1].even_at_worst);
    CHECK(found[0].even_at_worst);
}
