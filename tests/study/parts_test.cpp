#include "trial.hpp"

#include "../support/arrays.hpp"

#include <plait/study/parts.hpp>

#include <algorithm>
#include <set>

using namespace plait;
using namespace plait::study;

namespace {

std::vector<PartLine> parts(const Trial& t) { return parts_of(t.setup, judged(t)); }

const PartLine& item(const std::vector<PartLine>& all, std::string_view id) {
    for (const PartLine& p : all) {
        if (p.id == id) return p;
    }
    FAIL("no part " << id);
    return all.front();
}
bool has(const std::vector<PartLine>& all, std::string_view id) {
    return std::any_of(all.begin(), all.end(), [&](const PartLine& p) { return p.id == id; });
}
bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

Cable four_mm2(CableRun run, double length_m) {
    Cable c;
    c.name = "cable";
    c.run = run;
    c.length_m = length_m;
    c.size = {4.0, std::nullopt};
    return c;
}

}  // namespace

TEST_CASE("parts of one string: panels, a disconnect, no joint and no fuses") {
    Trial t = roomy_trial();
    t.setup.kinds[0].price = 50.0;
    t.wire(3, 1);
    const auto all = parts(t);
    CHECK(item(all, "panel").count == 3.0);
    CHECK(item(all, "panel").price == 150.0);
    CHECK(says(item(all, "disconnect").what, "90 V and 7.5 A"));  // 3 × 30 V; 6 A × 1.25
    CHECK_FALSE(has(all, "branch"));
    CHECK_FALSE(has(all, "string-fuse"));
    CHECK_FALSE(has(all, "cable"));
    CHECK_FALSE(has(all, "battery-fuse"));
    CHECK(item(all, "end-cap").count == 2.0);
    CHECK(item(all, "end-cap").where == "the string of PV1");
}

// Four strings of 6 A: the others push 22.5 A into panels that bear 15 A. NEC 9.375 to 15 A: 10, 15; IEC 9 to 14.4 A:
// 10,
// 12. The smallest in both is 10 A.
TEST_CASE("parts of four strings: a joint, and a fuse in each") {
    Trial t = roomy_trial();
    t.wire(2, 4);
    const auto all = parts(t);
    CHECK(item(all, "string-fuse").count == 4.0);
    CHECK(says(item(all, "string-fuse").what, " 10 A, 60 V"));
    CHECK(item(all, "fuse-holder").count == 4.0);
    CHECK(says(item(all, "fuse-holder").what, " 10 A, 60 V"));
    CHECK(item(all, "end-cap").count == 8.0);  // both ends of each string
    CHECK(item(all, "string-fuse").meets == rules::ConditionKind::string_fuses);
    CHECK(item(all, "branch").count == 2.0);
    CHECK(says(item(all, "branch").what, "4 to 1"));
    CHECK(says(item(all, "branch").what, "30 A"));  // 24 A × 1.25
    t.setup.fittings.string_fuse_a = 12.0;
    CHECK(says(item(parts(t), "string-fuse").what, " 12 A"));
}

TEST_CASE("cable by the metre: both conductors, once a string, once a panel, once behind the joint") {
    Trial t = roomy_trial();
    t.wire(3, 2);
    const auto metres = [&](CableRun run) {
        Trial one = t;
        one.setup.cables = {four_mm2(run, 5.0)};
        return item(parts(one), "cable").count;
    };
    CHECK(metres(CableRun::string) == 2 * 5.0 * 2);
    CHECK(metres(CableRun::trunk) == 2 * 5.0);
    CHECK(metres(CableRun::panel_leads) == 2 * 5.0 * 6);
    t.setup.cables = {four_mm2(CableRun::string, 5.0), four_mm2(CableRun::trunk, 7.0)};
    CHECK(item(parts(t), "cable").count == 20.0 + 14.0);  // of one size: one line
    CHECK(item(parts(t), "connector").count == 8.0);      // two cables, two conductors, two ends
}

TEST_CASE("what is rated by voltage is bought for the top of the Voc tolerance") {
    Trial t = roomy_trial();
    t.wire(3, 1);
    t.panel().voc_tolerance_ratio = 0.03;  // 90 V, up to 92.7 V
    CHECK(says(item(parts(t), "disconnect").what, "93 V and 7.5 A"));
}

TEST_CASE("lines of the same thing come together with their prices; without a price they stay apart") {
    Trial t = roomy_trial();
    t.setup.kinds[0].price = 50.0;
    const std::size_t twin = t.add_kind("twin", t.panel());
    t.wire(3, 1).add_input(t.points.front());
    t.plan[1].strings[0] = rules::string_of({twin, twin, twin});
    t.setup.kinds[twin].price = 60.0;
    t.input(0).name = "PV10";
    t.input(1).name = "PV1";
    const auto both = parts(t);
    CHECK(item(both, "panel").count == 6.0);
    CHECK(item(both, "panel").price == 330.0);
    CHECK(item(both, "panel").where == "PV10, PV1");  // a name inside a name is another place
    CHECK(item(both, "disconnect").count == 2.0);
    CHECK(item(both, "disconnect").where == "at PV10, at PV1");
    t.setup.kinds[twin].price.reset();
    const auto apart = parts(t);
    CHECK(item(apart, "panel").count == 3.0);
    CHECK(item(apart, "panel").price == 150.0);
    CHECK(std::count_if(apart.begin(), apart.end(), [](const PartLine& p) { return p.id == "panel"; }) == 2);
}

TEST_CASE("a battery wants a fuse of the next standard size") {
    Trial t = roomy_trial();
    t.controller().battery = Battery{10.5, 12.5, 14.6, 32.0};
    t.wire(3, 2);  // 600 W / 12.5 V would be 48 A; the controller gives 32 A: 40 A
    CHECK(says(item(parts(t), "battery-fuse").what, "40 A, 15 V"));
}

TEST_CASE("a fuse of the file that is too small is not bought again") {
    Trial t = roomy_trial();
    t.wire(2, 4);
    t.setup.fittings.string_fuse_a = 6.0;  // blows in good sun: 9.375 A or more
    CHECK(says(item(parts(t), "string-fuse").what, " 10 A"));
    CHECK(item(parts(t), "string-fuse").meets == rules::ConditionKind::larger_string_fuses);
    t.controller().battery = Battery{10.5, 12.5, 14.6, 32.0};
    t.setup.fittings.battery_fuse_a = 30.0;
    CHECK(says(item(parts(t), "battery-fuse").what, "40 A"));
    CHECK(item(parts(t), "battery-fuse").meets == rules::ConditionKind::battery_fuse);
    t.setup.fittings.battery_fuse_a = 50.0;
    CHECK(says(item(parts(t), "battery-fuse").what, "50 A"));
}

// IEC 62548: both poles of an array that is not earthed, above extra-low voltage; NEC 690.9: one [from memory].
TEST_CASE("fuses in one pole or in both") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 400.0;
    const auto fuses = [&](Code code, int in_series) {
        t.site().code = code;
        t.wire(in_series, 4);
        return item(parts(t), "string-fuse").count;
    };
    CHECK(fuses(Code::iec, 4) == 4.0);  // 120 V is extra-low
    CHECK(fuses(Code::iec, 5) == 8.0);
    CHECK(item(parts(t), "fuse-holder").count == 8.0);
    CHECK(fuses(Code::nec, 5) == 4.0);
    CHECK(fuses(Code::both, 5) == 4.0);
    CHECK(says(item(parts(t), "string-fuse").note, "twice as many"));
}

TEST_CASE("a torque is asked for only where a code does") {
    Trial t = roomy_trial();
    t.site().code = Code::iec;
    CHECK_FALSE(says(item(parts(t), "disconnect").note, "torque"));
    t.site().code = Code::nec;
    CHECK(says(item(parts(t), "disconnect").note, "torque"));
    for (const PartLine& p : parts(t)) {
        CAPTURE(p.id);
        if (says(p.note, "torque") || says(p.note, "crimped")) CHECK_FALSE(p.source.empty());
    }
}

// 1.4 × 6 A; twice 60 V.
TEST_CASE("blocking diodes are on the list where strings have them") {
    Trial t = roomy_trial();
    t.wire(2, 2);
    CHECK_FALSE(has(parts(t), "blocking-diode"));
    t.plan[0].strings[1].blocking_diode = true;
    CHECK(item(parts(t), "blocking-diode").count == 1.0);
    CHECK(says(item(parts(t), "blocking-diode").what, "8.4 A and 120 V"));
}

TEST_CASE("what is missing on hand is counted, and asked for by its rule") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 3;
    t.wire(2, 2);
    CHECK(item(parts(t), "panel").note == "1 more than are on hand");
    CHECK(item(parts(t), "panel").meets == rules::ConditionKind::more_panels);
    t.setup.kinds[0].count = 4;
    CHECK_FALSE(item(parts(t), "panel").meets);
}

TEST_CASE("the priced lines add up, once") {
    Trial t = roomy_trial();
    CHECK_FALSE(price_of(parts(t)));
    t.setup.kinds[0].price = 50.0;
    t.wire(2, 2);
    CHECK(price_of(parts(t)) == 200.0);
}

// A panel's rating that nobody printed is not bought but looked up; the file's fuse in a single string is left out
// rather than replaced, since nothing drives current back.
TEST_CASE("every condition of the verdict is met by a line of the list") {
    test::Dice dice(11);
    std::set<rules::ConditionKind> seen;
    for (int n = 0; n < 150; ++n) {
        Trial t = roomy_trial();
        t.setup.kinds[0].count = static_cast<int>(1 + dice.below(12));
        if (dice.chance(0.3)) t.panel().isc_a = 18.0;  // 22.5 A in its plugs
        if (dice.chance(0.5)) t.setup.fittings.string_fuse_a = dice.between(5.0, 15.0);
        if (dice.chance(0.5)) {
            t.controller().battery = Battery{10.5, 12.5, 14.6, dice.between(5.0, 60.0)};
            if (dice.chance(0.7)) t.setup.fittings.battery_fuse_a = dice.between(5.0, 80.0);
        }
        if (dice.chance(0.5)) {
            t.setup.cables = {four_mm2(CableRun::string, 5.0)};
            t.setup.cables[0].size = {2.5, std::nullopt};
        }
        t.site().code = static_cast<Code>(dice.below(3));
        t.wire(static_cast<int>(1 + dice.below(3)), static_cast<int>(1 + dice.below(6)));
        const Judgement j = judged(t);
        const auto all = parts_of(t.setup, j);
        for (const rules::Condition& c : j.verdict.conditions) {
            CAPTURE(rules::words_of(c, t.setup), label(t.plan[0], {"round"}));
            const bool one_string = t.plan[0].strings.size() == 1;
            if (c.kind == rules::ConditionKind::panel_fuse_rating) continue;
            if (c.kind == rules::ConditionKind::larger_string_fuses && one_string) continue;
            seen.insert(c.kind);
            const bool both = c.kind == rules::ConditionKind::larger_string_fuses &&
                              std::any_of(all.begin(), all.end(), [](const PartLine& p) {
                                  return p.meets == rules::ConditionKind::string_fuses;
                              });
            CHECK((both || std::any_of(all.begin(), all.end(), [&](const PartLine& p) { return p.meets == c.kind; })));
        }
        for (const PartLine& p : all) {
            if (!p.meets) continue;
            CHECK(std::any_of(j.verdict.conditions.begin(), j.verdict.conditions.end(),
                              [&](const rules::Condition& c) { return c.kind == *p.meets; }));
        }
    }
    CHECK(seen.size() == 6);
}
