#include <plait/rules/finding.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <set>
#include <string>

using namespace plait;
using namespace plait::rules;

namespace {
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double endless = std::numeric_limits<double>::infinity();

Finding plain_at_most(double value, double limit) {
    return at_most(value, Interval(value), limit, Unit::volt, Outcome::exceeds);
}
Finding plain_at_least(double value, double limit) {
    return at_least(value, Interval(value), limit, Unit::volt, Outcome::falls_short);
}
}  // namespace

TEST_CASE("being at the limit is within, a step beyond is not") {
    CHECK(plain_at_most(100.0, 100.0).outcome == Outcome::within);
    CHECK(plain_at_most(100.000001, 100.0).outcome == Outcome::exceeds);
    CHECK(plain_at_most(99.9, 100.0).outcome == Outcome::within);
    CHECK(plain_at_least(100.0, 100.0).outcome == Outcome::within);
    CHECK(plain_at_least(99.999999, 100.0).outcome == Outcome::falls_short);
    CHECK(plain_at_least(100.1, 100.0).outcome == Outcome::within);
}

TEST_CASE("a rounding step does not turn a limit that is met into one that is passed") {
    const double next_up = std::nextafter(60.0, 100.0);
    REQUIRE(next_up > 60.0);
    CHECK(plain_at_most(next_up, 60.0).outcome == Outcome::within);
    CHECK(plain_at_least(std::nextafter(60.0, 0.0), 60.0).outcome == Outcome::within);
    // 0.1 + 0.2 is the textbook case.
    CHECK(plain_at_most(0.1 + 0.2, 0.3).outcome == Outcome::within);
    // A nanovolt on 60 V is no rounding.
    CHECK(plain_at_most(60.0 + 1e-9, 60.0).outcome == Outcome::exceeds);
}

TEST_CASE("what is not a number is undecided, never within") {
    for (const double odd : {not_a_number, endless, -endless}) {
        CHECK(plain_at_most(odd, 100.0).outcome == Outcome::undecided);
        CHECK(plain_at_least(odd, 100.0).outcome == Outcome::undecided);
        CHECK(plain_at_most(1.0, odd).outcome == Outcome::undecided);
        CHECK_FALSE(plain_at_most(odd, 100.0).even_at_worst);
    }
}

TEST_CASE("the outcome beyond the limit is the caller's") {
    for (const Outcome broken : {Outcome::exceeds, Outcome::clips, Outcome::needs, Outcome::undecided}) {
        CHECK(at_most(2.0, Interval(2.0), 1.0, Unit::ampere, broken).outcome == broken);
    }
}

TEST_CASE("even at worst: the whole spread gives the same answer") {
    const auto spread = [](double low, double high) {
        return at_most(100.0, Interval(low, high), 105.0, Unit::volt, Outcome::exceeds);
    };
    CHECK(spread(97.0, 103.0).even_at_worst);
    CHECK(spread(95.0, 105.0).even_at_worst);  // the worst is at the limit: within
    CHECK_FALSE(spread(95.0, 105.1).even_at_worst);
    CHECK(spread(95.0, 105.1).outcome == Outcome::within);

    const Finding beyond = at_most(100.0, Interval(90.0, 110.0), 95.0, Unit::volt, Outcome::exceeds);
    CHECK(beyond.outcome == Outcome::exceeds);
    CHECK_FALSE(beyond.even_at_worst);
    CHECK(at_most(100.0, Interval(96.0, 110.0), 95.0, Unit::volt, Outcome::exceeds).even_at_worst);
    CHECK_FALSE(at_least(100.0, Interval(97.0, 103.0), 98.0, Unit::volt, Outcome::falls_short).even_at_worst);
}

TEST_CASE("the margin is room before the limit, negative beyond it, on either side") {
    CHECK(plain_at_most(90.0, 100.0).margin() == 10.0);
    CHECK(plain_at_most(110.0, 100.0).margin() == -10.0);
    CHECK(plain_at_least(110.0, 100.0).margin() == 10.0);
    CHECK(plain_at_least(90.0, 100.0).margin() == -10.0);
}

TEST_CASE("outcomes rise from harmless to grave, each with a name of its own") {
    CHECK(Outcome::within < Outcome::clips);
    CHECK(Outcome::clips < Outcome::falls_short);
    CHECK(Outcome::falls_short < Outcome::exceeds);
    std::set<std::string> names;
    for (const Outcome o : {Outcome::within, Outcome::undecided, Outcome::needs, Outcome::clips, Outcome::falls_short,
                            Outcome::exceeds}) {
        CHECK_FALSE(name_of(o).empty());
        names.insert(std::string(name_of(o)));
    }
    CHECK(names.size() == 6);
    CHECK(symbol_of(Unit::volt) == "V");
    CHECK(symbol_of(Unit::ampere) == "A");
    CHECK(symbol_of(Unit::watt) == "W");
    CHECK(symbol_of(Unit::panel) == "panels");
    CHECK(symbol_of(Unit::string) == "strings");
}
