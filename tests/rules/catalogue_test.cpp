#include "situation.hpp"

#include <plait/rules/array_figures.hpp>

#include <set>
#include <string>

using namespace plait;
using namespace plait::rules;

TEST_CASE("every rule says what it is, whom it guards and on whose authority") {
    REQUIRE_FALSE(all_rules().empty());
    for (const Rule* rule : all_rules()) {
        INFO(rule->id);
        CHECK_FALSE(rule->id.empty());
        CHECK_FALSE(rule->title.empty());
        CHECK_FALSE(rule->harm.empty());
        CHECK(rule->check != nullptr);
        CHECK(rule->say != nullptr);
        CHECK(rule->tests.size() >= 1);
        CHECK(rule->sources.size() == rule->tests.size());
        std::set<std::string_view> names;
        for (const std::string_view name : rule->tests) {
            CHECK_FALSE(name.empty());
            names.insert(name);
        }
        CHECK(names.size() == rule->tests.size());
        for (const std::string_view source : rule->sources) CHECK(source.size() > 10);
        std::set<Quantity> rests(rule->rests_on.begin(), rule->rests_on.end());
        CHECK(rests.size() == rule->rests_on.size());
        CHECK((rule->tests_rest_on.empty() || rule->tests_rest_on.size() == rule->tests.size()));
    }
}

TEST_CASE("each test rests on what it looks at, and on nothing else") {
    const auto rests = [](std::string_view rule, int test, Quantity q) { return rests_on(*rule_named(rule), test, q); };
    // Whatever stands the cold voltage rests on what that is made of.
    for (const Quantity q : cold_voc_rests_on) {
        CHECK(rests("cold-voltage", 0, q));
        CHECK(rests("panel-system-voltage", 0, q));
        CHECK(rests("step-up-ceiling", 0, q));
        CHECK(rests("disconnect-rating", 0, q));
        CHECK(rests("fuse-window", 4, q));
        CHECK_FALSE(rests("disconnect-rating", 1, q));
        CHECK_FALSE(rests("fuse-window", 0, q));
    }
    CHECK(rests("panel-system-voltage", 0, Quantity::panel_system_voltage));
    CHECK(rests("disconnect-rating", 1, Quantity::panel_isc));
    CHECK(rests("fuse-window", 0, Quantity::panel_series_fuse));
    CHECK(rests("fuse-window", 5, Quantity::cable_surroundings));
    CHECK(rests("battery-side", 0, Quantity::panel_pmax));
    CHECK(rests("battery-side", 0, Quantity::cable_surroundings));
    CHECK_FALSE(rests("battery-side", 0, Quantity::drop_target));
    CHECK(rests("battery-side", 2, Quantity::drop_target));
    // The battery's nominal voltage, the one that may be assumed, does not enter where the full or the empty one does.
    CHECK_FALSE(rests("step-up-ceiling", 0, Quantity::battery_voltage));
    CHECK_FALSE(rests("battery-headroom", 0, Quantity::battery_voltage));
    // The 1.25 holds the label's tolerance; the plain sum beside it does not.
    CHECK_FALSE(rests("short-circuit-rating", 0, Quantity::panel_isc_tolerance));
    CHECK(rests("short-circuit-rating", 1, Quantity::panel_isc_tolerance));
}

TEST_CASE("ids are unique, in small letters and hyphens, and found again by name") {
    std::set<std::string_view> ids;
    for (const Rule* rule : all_rules()) {
        ids.insert(rule->id);
        CHECK(rule->id.find_first_not_of("abcdefghijklmnopqrstuvwxyz-") == std::string_view::npos);
        CHECK(rule_named(rule->id) == rule);
    }
    CHECK(ids.size() == all_rules().size());
    CHECK(rule_named("") == nullptr);
    CHECK(rule_named("cold") == nullptr);
    CHECK(rule_named("Cold-Voltage") == nullptr);
}

TEST_CASE("the cold voltage comes first in a report: it is the one that destroys without warning") {
    CHECK(all_rules().front()->id == "cold-voltage");
}

TEST_CASE("only sums over several inputs look at the whole plan") {
    std::set<std::string> plan;
    for (const Rule* rule : all_rules()) {
        if (rule->scope == Scope::plan) plan.insert(std::string(rule->id));
    }
    CHECK(plan == std::set<std::string>{"charge-current", "shared-power", "battery-side", "panels-on-hand"});
}

TEST_CASE("every finding names a test of its rule and can be put into words that end in a full stop") {
    Trial t;
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{10.0, 12.0, 14.4, 5.0};
    t.controller().max_total_power_w = 50.0;
    t.input().tracking_min_v = 30.0;
    t.input().tracking_max_v = 15.0;
    t.input().start_voltage_v = 30.0;
    t.input().max_power_w = 50.0;
    t.input().max_short_circuit_a = 5.0;
    t.input().max_array_power_w = 50.0;
    t.input().max_voltage_v = 20.0;
    t.one_limit_a(3.0);
    t.panel().max_series_fuse_a = 5.0;
    t.setup.kinds[0].count = 1;
    t.wire(1, 4);
    t.plan[0].strings[3].panels.push_back(t.plan[0].strings[0].panels.front());  // one string unlike the others
    at(t.points[0], ConditionId::warm_bright).operating = {};
    at(t.points[0], ConditionId::warm_bright).operating.none = physics::NoPoint::too_low;
    for (ConditionPoint& p : t.points[0]) p.strings.assign(4, {});
    at(t.points[0], ConditionId::cold_bright).strings[0] = {-1.0, -5.5, Interval(5.0, 6.0)};  // its panels bear 5 A
    t.input().plug_rating_a = 5.0;
    t.setup.fittings = {12.0, 20.0, 10.0, 20.0, 1.0, 5.0, 10.0};
    for (const CableRun run : {CableRun::string, CableRun::trunk, CableRun::battery}) {
        Cable cable;
        cable.name = "thin";
        cable.run = run;
        cable.length_m = 50.0;
        cable.size = {1.5, std::nullopt};
        t.setup.cables.push_back(cable);
    }
    std::size_t rules_with_findings = 0;
    Trial unsaid = t;  // of an array whose size the maker does not limit
    unsaid.input().max_array_power_w.reset();
    for (const ControllerType type : {ControllerType::step_down, ControllerType::step_up}) {
        t.controller().type = type;
        unsaid.controller().type = type;
        for (const Rule* rule : all_rules()) {
            INFO(rule->id);
            const Trial& tried = rule->id == "oversized-array" ? unsaid : t;
            const Findings found = tried.check(rule->id);
            if (!found.empty()) ++rules_with_findings;
            for (const Finding& f : found) {
                REQUIRE(f.test >= 0);
                REQUIRE(static_cast<std::size_t>(f.test) < rule->tests.size());
                const Words w = tried.say(rule->id, f);
                REQUIRE_FALSE(w.because.empty());
                CHECK(w.because.back() == '.');
                if (!w.instead.empty()) CHECK(w.instead.back() == '.');
                // Whatever decides and is not within comes with something to do.
                if (f.decides && f.outcome != Outcome::within) CHECK_FALSE(w.instead.empty());
            }
        }
    }
    // All rules speak but for step-up-ceiling in the first round and battery-headroom in the second.
    CHECK(rules_with_findings == 2 * all_rules().size() - 2);
}

TEST_CASE("no sentence calls a wiring safe") {
    for (const Rule* rule : all_rules()) {
        CHECK(rule->title.find("safe") == std::string_view::npos);
        CHECK(rule->harm.find("safe") == std::string_view::npos);
    }
}

TEST_CASE("each weather has a name and a title of its own") {
    std::set<std::string_view> names;
    std::set<std::string_view> titles;
    for (std::size_t c = 0; c < condition_count; ++c) {
        names.insert(name_of(static_cast<ConditionId>(c)));
        titles.insert(title_of(static_cast<ConditionId>(c)));
    }
    CHECK(names.size() == condition_count);
    CHECK(titles.size() == condition_count);
    CHECK(names.count("") == 0);
    CHECK(titles.count("") == 0);
}

TEST_CASE("a cure says what it brings or costs from a tenth of a watt on, as it is printed") {
    const Trial t;
    const auto words = [&](double gain_w) {
        Cure cure;
        cure.kind = CureKind::battery_fuse;
        cure.rating_a = 40.0;
        cure.gain_w = gain_w;
        return cure_words(t.setup, {cure});
    };
    CHECK(words(0.05) == "Fit a fuse of 40 A at the battery (0.1 W more in a year's light).");
    CHECK(words(0.0499) == "Fit a fuse of 40 A at the battery.");
    CHECK(words(-0.0499) == "Fit a fuse of 40 A at the battery.");
    CHECK(words(-0.06) == "Fit a fuse of 40 A at the battery (0.1 W less in a year's light).");
}
