#include "situation.hpp"

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
}  // namespace

TEST_CASE("string fuses: one string has no others") { CHECK(strings(1, 50.0, 1.0).check("string-fuses").empty()); }

// A training blog after IS/IEC 62548: two strings of 18, Isc 12.28 A, rating 20 A: (2 − 1) × 12.28 A < 20 A, not
// needed.
TEST_CASE("two strings of 12.28 A") {
    const Findings found = strings(2, 12.28, 20.0).check("string-fuses");
    REQUIRE(found.size() == 2);
    CHECK(found[1].value == exactly(12.28));
    CHECK(found[1].outcome == Outcome::within);
    CHECK(found[0].value == exactly(15.35));  // × 1.25, the NEC's way [computed]
    CHECK(found[0].outcome == Outcome::within);
}

// A forum, after an NMSU Code Corner article: Isc 5 A, rating 15 A, three strings: 2 × 6.25 = 12.5 A < 15 A, not
// needed; by IEC 10 A < 15 A.
TEST_CASE("three strings of 5 A") {
    const Trial t = strings(3, 5.0, 15.0);
    const Findings found = t.check("string-fuses");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == exactly(12.5));
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[1].value == exactly(10.0));
    CHECK(found[1].outcome == Outcome::within);
    CHECK_THAT(t.because("string-fuses", found[0]), Contains("12.50 A") && Contains("15.00 A"));
    CHECK(t.instead("string-fuses", found[0]).empty());
}

// [computed] The same with four strings: 18.75 A > 15 A by the NEC [clause from memory]; by IEC 62548:2016 cl. 6.5.3
// [clause from memory] 15 A is not greater than 15 A. The codes disagree, and the words say so on both sides.
TEST_CASE("four strings of 5 A, where the codes disagree") {
    const Trial t = strings(4, 5.0, 15.0);
    const Findings found = t.check("string-fuses");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == exactly(18.75));
    CHECK(found[0].outcome == Outcome::needs);
    CHECK(found[1].value == exactly(15.0));
    CHECK(found[1].outcome == Outcome::within);
    CHECK_THAT(t.because("string-fuses", found[0]),
               Contains("18.75 A") && Contains("15.00 A") && Contains("IEC test would not ask for fuses"));
    CHECK_THAT(t.instead("string-fuses", found[0]), Contains("codes disagree") && Contains("DC fuse made for PV of 10 A"));
    CHECK_THAT(t.because("string-fuses", found[1]), Contains("15.00 A") && Contains("NEC test asks for fuses"));
    CHECK_THAT(t.instead("string-fuses", found[1]), Contains("codes disagree"));
}

// A step past equality: 3 × 5.01 = 15.03 A.
TEST_CASE("string fuses: a step beyond, IEC asks too, and the words no longer speak of disagreement") {
    const Trial t = strings(4, 5.01, 15.0);
    const Findings found = t.check("string-fuses");
    CHECK(found[1].outcome == Outcome::needs);
    CHECK_THAT(t.instead("string-fuses", found[1]), Contains("DC fuse made for PV of 10 A") && !Contains("disagree"));
    CHECK_THAT(t.because("string-fuses", found[0]), !Contains("would not ask"));
}

TEST_CASE("string fuses: the site's code decides, the other is shown beside it") {
    Trial t = strings(4, 5.0, 15.0);
    t.site().code = Code::nec;
    CHECK(t.check("string-fuses")[0].decides);
    CHECK_FALSE(t.check("string-fuses")[1].decides);
    t.site().code = Code::iec;
    CHECK_FALSE(t.check("string-fuses")[0].decides);
    CHECK(t.check("string-fuses")[1].decides);
    t.site().code = Code::both;
    CHECK(t.check("string-fuses")[0].decides);
    CHECK(t.check("string-fuses")[1].decides);
}

TEST_CASE("string fuses: more strings and more current never need fewer fuses") {
    double before_a = 0.0;
    for (int n = 2; n <= 8; ++n) {
        const double now_a = strings(n, 5.0, 15.0).check("string-fuses")[0].value;
        CHECK(now_a > before_a);
        before_a = now_a;
    }
    CHECK(strings(3, 6.0, 15.0).check("string-fuses")[0].value > strings(3, 5.0, 15.0).check("string-fuses")[0].value);
}

// A small panel (2 A, rating 5 A) beside two of 6 A, rating 15 A: the small one faces 12 A, 15 A with the NEC's 1.25.
TEST_CASE("string fuses: each string is held against the sum of the others") {
    Trial t = strings(2, 6.0, 15.0);
    Panel small = round_panel();
    small.isc_a = 2.0;
    small.max_series_fuse_a = 5.0;
    const std::size_t kind = t.add_kind("small", small);
    t.plan[0].strings.push_back(string_of({kind, kind}));
    const Findings found = t.check("string-fuses");
    CHECK(found[1].value == exactly(12.0));
    CHECK(found[1].limit == 5.0);
    CHECK(found[0].value == exactly(15.0));
    // The NEC's sizes go from 3 to 6 A, and its fuse for 2 A is 3.125 to 5 A: there is none, and without one it is forbidden.
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK_THAT(t.instead("string-fuses", found[0]), Contains("No standard fuse suits"));
    t.site().code = Code::iec;  // 4 and 5 A for the small one, 10 and 12 A for the others
    CHECK(t.check("string-fuses")[1].outcome == Outcome::needs);
}

TEST_CASE("string fuses: without a printed rating, two strings and no more") {
    Trial t = strings(2, 2.0, 15.0);
    t.panel().max_series_fuse_stated = false;
    CHECK(t.check("string-fuses").size() == 2);
    t.wire(1, 3);
    const Findings found = t.check("string-fuses");
    REQUIRE(found.size() == 3);
    CHECK(found[0].outcome == Outcome::within);
    CHECK(found[2].test == 2);
    CHECK(found[2].value == 3.0);
    CHECK(found[2].limit == 2.0);
    CHECK(found[2].unit == Unit::string);
    CHECK(found[2].outcome == Outcome::needs);
    CHECK(found[2].decides);
    CHECK_THAT(t.because("string-fuses", found[2]), Contains("3 strings") && Contains("not printed"));
    CHECK_THAT(t.instead("string-fuses", found[2]), Contains("at most 2 strings"));
}

TEST_CASE("string fuses: an unprinted rating is seen even where another string stands worse") {
    Trial t = strings(2, 6.0, 5.0);
    Panel quiet = round_panel();
    quiet.max_series_fuse_a = 15.0;
    quiet.max_series_fuse_stated = false;
    const std::size_t kind = t.add_kind("quiet", quiet);
    t.plan[0].strings.push_back(string_of({kind, kind}));
    CHECK(t.check("string-fuses").size() == 3);
}

// Four strings of 5 A at a rating of 15 A: by NEC the others push 18.75 A, by IEC 15 A, which is not more than 15 A.
TEST_CASE("string fuses: fitted ones satisfy both codes, and nobody is told to fit them") {
    Trial t = strings(4, 5.0, 15.0);
    t.setup.fittings.string_fuse_a = 12.0;
    for (const Finding& f : t.check("string-fuses")) {
        CHECK(f.outcome == Outcome::within);
        CHECK_THAT(t.because("string-fuses", f), !Contains("test asks"));
        CHECK(t.instead("string-fuses", f).empty());
    }
}

TEST_CASE("string fuses: a fitted fuse of just what the others push is still spoken of as a fuse") {
    Trial t = strings(4, 6.0, 15.0);
    t.setup.fittings.string_fuse_a = 22.5;  // 3 × 1.25 × 6 A
    const Findings found = t.check("string-fuses");
    CHECK(found[0].outcome == Outcome::exceeds);
    CHECK_THAT(t.because("string-fuses", found[0]), Contains("the fuse of 22.50 A"));
    CHECK_THAT(t.instead("string-fuses", found[0]), Contains("DC fuse made for PV of 10 A"));
}

// Strings of 10, 10 and 40 A. A weak one (rating 12 A) faces 50 A; the strong one (rating 8 A) only 20 A. The weak one
// stands worst against the others, but it is the strong one that a fuse of 10 A guards too little.
TEST_CASE("string fuses: a fitted fuse is held against the lowest rating that wants it") {
    Trial t = strings(2, 10.0, 12.0);
    Panel strong = round_panel();
    strong.isc_a = 40.0;
    strong.max_series_fuse_a = 8.0;
    const std::size_t kind = t.add_kind("strong", strong);
    t.plan[0].strings.push_back(string_of({kind, kind}));
    t.setup.fittings.string_fuse_a = 10.0;
    const Findings found = t.check("string-fuses");
    CHECK(found[1].value == 10.0);
    CHECK(found[1].limit == 8.0);
    CHECK(found[1].outcome == Outcome::exceeds);
    CHECK_THAT(t.because("string-fuses", found[1]), Contains("push 20.00 A") && Contains("bear 8.00 A"));
}

// A string of 6 A whose panels bear 10 A beside one of 9 A whose panels bear 20 A. By NEC a fuse for the first is 9.375 A
// to 10 A, for the second 14.06 A to 20 A: no one size, but 10 A and 15 A each for its own.
TEST_CASE("string fuses: unlike strings get each its own where no one rating suits them all") {
    Trial t = strings(1, 6.0, 10.0);
    Panel strong = round_panel();
    strong.isc_a = 9.0;
    strong.max_series_fuse_a = 20.0;
    const std::size_t kind = t.add_kind("strong", strong);
    t.plan[0].strings.push_back(string_of({kind, kind}));
    t.setup.site.code = Code::nec;
    Finding f = t.check("string-fuses")[0];
    REQUIRE(f.outcome == Outcome::needs);
    const Cures cures = t.cures("string-fuses", f);
    REQUIRE(cures.size() == 2);
    CHECK(cures[0].kind == CureKind::own_string_fuses);
    CHECK(cures[0].string_fuses_a == std::vector<double>{10.0, 15.0});
    CHECK(cures[1].kind == CureKind::fewer_strings);
    CHECK_THAT(t.instead("string-fuses", f), Contains("in their order: 10 A, 15 A"));
    const Condition needed = t.condition("string-fuses", f);
    CHECK(needed.ratings_a == std::vector<double>{10.0, 15.0});
    CHECK_THAT(words_of(needed, t.setup), Contains("2 string fuses (one a string: 10 A, 15 A)"));
    // Fitted, they are held each against its own panels.
    t.plan[0].strings[0].fuse_a = 10.0;
    t.plan[0].strings[1].fuse_a = 15.0;
    for (const Finding& now : t.check("string-fuses")) CHECK(now.outcome == Outcome::within);
    for (const Finding& now : t.check("fuse-window")) CHECK(now.outcome == Outcome::within);
    // Swapped, the weak panels' fuse is too large and the strong string's too small.
    std::swap(t.plan[0].strings[0].fuse_a, t.plan[0].strings[1].fuse_a);
    CHECK(t.check("string-fuses")[0].outcome == Outcome::exceeds);
    bool too_small = false;
    for (const Finding& now : t.check("fuse-window")) too_small = too_small || now.outcome == Outcome::needs;
    CHECK(too_small);
    // One fitted alone leaves the need of the other where it is.
    t.plan[0].strings[0].fuse_a.reset();
    t.plan[0].strings[1].fuse_a = 15.0;
    CHECK(t.check("string-fuses")[0].outcome == Outcome::needs);
}

// A controller without tracking is a switch: a faulty string is fed by the battery, as far as the battery's fuse lets it.
// NEC 690.9(A) counts every source [from memory].
TEST_CASE("string fuses: behind a controller without tracking the battery counts, for a single string too") {
    Trial t;
    t.panel().max_series_fuse_a = 15.0;
    t.wire(1, 1);
    CHECK(t.check("string-fuses").empty());
    t.controller().type = ControllerType::direct_connect;
    t.controller().battery = Battery{10.5, 12.0, 14.4, std::nullopt};
    // 6 A × 1.25 = 7.5 A to the battery, × 1.25 = 9.375 A: a fuse of 10 A is asked for there, and lets 10 A back.
    Findings found = t.check("string-fuses");
    REQUIRE(found.size() == 2);
    CHECK(found[0].value == exactly(10.0));
    CHECK(found[0].outcome == Outcome::within);
    CHECK_THAT(t.because("string-fuses", found[0]), Contains("the battery can push 10.00 A"));
    t.setup.fittings.battery_fuse_a = 30.0;
    found = t.check("string-fuses");
    CHECK(found[0].value == exactly(30.0));
    CHECK(found[0].outcome == Outcome::needs);
    CHECK_THAT(t.instead("string-fuses", found[0]), Contains("DC fuse made for PV of 10 A"));
    // Two strings: the other one at 7.5 A besides.
    CHECK(t.wire(1, 2).check("string-fuses")[0].value == exactly(37.5));
    t.setup.fittings.string_fuse_a = 10.0;
    CHECK(t.check("string-fuses")[0].outcome == Outcome::within);
    // With tracking nothing flows back.
    t.controller().type = ControllerType::step_down;
    CHECK(t.check("string-fuses")[0].value == exactly(7.5));
}
