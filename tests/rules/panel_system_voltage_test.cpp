#include "situation.hpp"

using namespace plait;
using namespace plait::rules;

// 3 × 25 V × 1.2 = 90 V in the cold, against what the panels are marked for.
TEST_CASE("system voltage: the limit itself, a step beyond, and words") {
    Trial t;
    t.wire(3, 2);
    t.panel().max_system_voltage_v = 90.0;
    CHECK(t.only("panel-system-voltage").outcome == Outcome::within);
    t.panel().max_system_voltage_v = 89.99;
    const Finding f = t.only("panel-system-voltage");
    CHECK(f.value == exactly(90.0));
    CHECK(f.outcome == Outcome::exceeds);
    CHECK_THAT(t.because("panel-system-voltage", f), Contains("90.00 V") && Contains("89.99 V"));
    CHECK_THAT(t.instead("panel-system-voltage", f), Contains("at most 2 panels in series"));
    CHECK(t.wire(2, 2).only("panel-system-voltage").outcome == Outcome::within);
}

TEST_CASE("system voltage: one weak panel anywhere sets the limit, as strings share the highest voltage") {
    Trial t;
    Panel weak = round_panel();
    weak.max_system_voltage_v = 50.0;
    const std::size_t kind = t.add_kind("weak", weak);
    t.plan[0].strings = {string_of({0, 0}), string_of({kind})};
    const Finding f = t.only("panel-system-voltage");
    CHECK(f.limit == 50.0);
    CHECK(f.value == exactly(60.0));
    CHECK(f.outcome == Outcome::exceeds);
}

// 90 V + 3 % = 92.7 V.
TEST_CASE("system voltage: within, but not at the top of the tolerance") {
    Trial t;
    t.wire(3, 1);
    t.panel().voc_tolerance_ratio = 0.03;
    t.panel().max_system_voltage_v = 92.7;
    CHECK(t.only("panel-system-voltage").even_at_worst);
    t.panel().max_system_voltage_v = 92.0;
    const Finding f = t.only("panel-system-voltage");
    CHECK(f.outcome == Outcome::within);
    CHECK_FALSE(f.even_at_worst);
    CHECK_THAT(t.instead("panel-system-voltage", f), Contains("92.70 V"));
}

TEST_CASE("system voltage follows the site's way of allowing for the cold") {
    Trial t;
    t.site().cold_method = ColdMethod::flat_factor;
    t.site().flat_factor_ratio = 1.25;
    CHECK(t.wire(2, 1).only("panel-system-voltage").value == exactly(62.5));
}
