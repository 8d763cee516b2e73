#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

namespace {

/// Three strings of 2, 2 and 1 round panels (rating 15 A), nothing flowing back yet.
Trial unlike() {
    Trial t;
    t.wire(2, 3);
    t.plan[0].strings[2].panels.pop_back();
    for (ConditionPoint& p : t.points[0]) p.strings.assign(3, {});
    return t;
}
StringCurrent& string_in(Trial& t, ConditionId weather, std::size_t string) {
    return at(t.points[0], weather).strings[string];
}

}  // namespace

TEST_CASE("reverse current: equal strings, and one alone, are no case for the rule") {
    CHECK(Trial{}.check("reverse-current").empty());
    Trial t;
    t.wire(2, 3);
    CHECK(t.check("reverse-current").empty());
}

// IEC 61730-2 tests a panel backwards at 1.35 times its maximum series fuse; what it bears in service is the rating.
TEST_CASE("reverse current: the rating itself is within, a step beyond exceeds") {
    Trial t = unlike();
    string_in(t, ConditionId::cold_bright, 2) = {-2.0, -15.0, Interval(15.0)};
    CHECK(t.only("reverse-current").outcome == Outcome::within);
    CHECK(t.only("reverse-current").even_at_worst);
    string_in(t, ConditionId::cold_bright, 2) = {-2.0, -15.01, Interval(15.01)};
    const Finding f = t.only("reverse-current");
    CHECK(f.value == exactly(15.01));
    CHECK(f.limit == 15.0);
    CHECK(f.unit == Unit::ampere);
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.because("reverse-current", f), Contains("15.01 A back through string 3") && Contains("15.00 A") &&
                                                    Contains("cold and bright") && Contains("at most 2.00 A"));
    CHECK_THAT(t.instead("reverse-current", f), Contains("blocking diode into every string") && Contains("String 3 on an input of its own"));
}

TEST_CASE("reverse current: the worst weather and the worst string count, each against its own weakest panel") {
    Trial t = unlike();
    string_in(t, ConditionId::cold_bright, 2) = {1.0, -4.0, Interval(4.0)};
    string_in(t, ConditionId::hot_bright, 2) = {1.0, -6.0, Interval(6.0)};
    CHECK(t.only("reverse-current").value == 6.0);
    Panel small = round_panel();
    small.max_series_fuse_a = 5.0;
    t.plan[0].strings[0].panels[1].kind = t.add_kind("small", small);
    string_in(t, ConditionId::weak_light, 0) = {1.0, -3.0, Interval(3.0)};  // 3 of 5 A is worse than 6 of 15 A
    CHECK(t.only("reverse-current").value == 3.0);
    CHECK(t.only("reverse-current").limit == 5.0);
    CHECK_THAT(t.because("reverse-current", t.only("reverse-current")),
               Contains("string 1") && Contains("weak light") && Contains("in operation none"));
}

TEST_CASE("reverse current: a tolerance that could turn it leaves it unproven") {
    Trial t = unlike();
    string_in(t, ConditionId::cold_bright, 2) = {0.0, -14.0, Interval(12.0, 14.9)};
    CHECK(t.only("reverse-current").even_at_worst);
    string_in(t, ConditionId::cold_bright, 2).reverse_spread_a = Interval(12.0, 15.1);
    CHECK_FALSE(t.only("reverse-current").even_at_worst);
    // Another string that is driven back by nothing as stated, but by too much within its tolerance.
    string_in(t, ConditionId::cold_bright, 2).reverse_spread_a = Interval(14.0);
    string_in(t, ConditionId::cold_bright, 1) = {5.0, 8.0, Interval(0.0, 15.1)};
    CHECK_FALSE(t.only("reverse-current").even_at_worst);
}

TEST_CASE("reverse current: where none flows the words say why") {
    Trial t = unlike();
    CHECK_THAT(t.because("reverse-current", t.only("reverse-current")), Contains("no string is driven back in any"));
    t.plan[0].strings[2].blocking_diode = true;
    CHECK_THAT(t.because("reverse-current", t.only("reverse-current")), Contains("blocking diodes"));
    CHECK(t.instead("reverse-current", t.only("reverse-current")).empty());
}
