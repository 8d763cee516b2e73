#include "trial.hpp"

#include "../support/arrays.hpp"
#include "../support/work_walk.hpp"

#include <plait/study/steps.hpp>

#include <algorithm>
#include <set>

using namespace plait;
using namespace plait::study;

namespace {

StepList steps(const Trial& t, const WorkChoice& choice = {}) { return steps_of(t.setup, judged(t), choice); }

std::size_t place(const std::vector<Step>& list, std::string_view id) {
    const auto at = std::find_if(list.begin(), list.end(), [&](const Step& s) { return s.id == id; });
    CAPTURE(id);
    REQUIRE(at != list.end());
    return static_cast<std::size_t>(at - list.begin());
}
const Step& step(const std::vector<Step>& list, std::string_view id) { return list[place(list, id)]; }
bool has(const std::vector<Step>& list, std::string_view id) {
    return std::any_of(list.begin(), list.end(), [&](const Step& s) { return s.id == id; });
}

void with_battery(Trial& t, double max_v = 14.6) {
    t.controller().battery = Battery{0.72 * max_v, 0.86 * max_v, max_v, std::nullopt};
}

/// Anything a file can ask for, of panels of two kinds, on inputs that bear it.
Trial random_site(test::Dice& dice) {
    Trial t = roomy_trial();
    t.panel().voc_tolerance_ratio = dice.chance(0.5) ? 0.0 : 0.03;
    Panel other = t.panel();
    other.voc_v = 25.5;
    other.cells_in_series = 37;
    t.add_kind("other", other);
    t.setup.kinds[0].count = t.setup.kinds[1].count = 100;
    t.controller().type = dice.chance(0.3) ? ControllerType::direct_connect : ControllerType::wide_range;
    const bool battery = t.controller().type == ControllerType::direct_connect || dice.chance(0.6);
    if (battery) with_battery(t, dice.chance(0.2) ? 100.0 : 14.6);
    t.site().mounting = dice.chance(0.5) ? Mounting::close_to_roof : Mounting::flat_on_ground;
    if (dice.chance(0.3)) t.setup.fittings.string_fuse_a = 12.0;
    t.input().max_voltage_v = 400.0;
    t.input().bands = {{0.0, 400.0, 200.0}};
    t.input().max_short_circuit_a = 200.0;
    t.controller().direct_connect_drop_v = 0.5;
    while (t.setup.controller.inputs.size() < 1 + dice.below(3)) t.add_input(t.points.front());
    for (InputWiring& wiring : t.plan) {
        wiring.strings.assign(1 + dice.below(5), {});
        const std::size_t length = 1 + dice.below(6);
        const bool unlike = dice.chance(0.2);
        for (SeriesString& s : wiring.strings) {
            s.panels.resize(unlike ? 1 + dice.below(6) : length);
            for (PanelPlace& p : s.panels) p.kind = unlike ? dice.below(2) : 0;
        }
    }
    return t;
}

}  // namespace

TEST_CASE("a wiring outside the limits gets no steps but one: do not build it") {
    Trial t = roomy_trial();
    t.wire(4, 1);
    const StepList list = steps(t);
    REQUIRE(list.connect.size() == 1);
    CHECK(list.connect[0].id == "stop");
    CHECK(list.connect[0].contact == Contact::none);
    CHECK(list.take_apart.empty());
}

// 60 V under 61 V, at ±3 % up to 61.8 V; and 60 V under 62 V without a tolerance.
TEST_CASE("a wiring that a tolerance could carry past a limit begins with a stop") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 61.0;
    t.input().tracking_max_v = 61.0;
    t.panel().voc_tolerance_ratio = 0.03;
    t.wire(2, 1);
    CHECK(steps(t).connect.front().id == "stop");
    CHECK(steps(t).connect.size() > 1);
    t.panel().voc_tolerance_ratio = 0.0;
    CHECK(steps(t).connect.front().id == "controller");
}

TEST_CASE("what is bare first, the battery, then the panels; measured before joined; the disconnect last") {
    Trial t = roomy_trial();
    with_battery(t);
    t.site().mounting = Mounting::close_to_roof;
    t.wire(3, 4);
    const StepList all = steps(t);
    const std::vector<std::string_view> order{"controller",   "input-cable", "bond-frames",      "battery-cable",
                                              "battery-fuse", "lay-out",     "plug-together",    "close-middle",
                                              "read-strings", "join",        "first-fuse",       "read-holders",
                                              "other-fuses",  "read-array",  "close-disconnect", "watch"};
    REQUIRE(all.connect.size() == order.size());
    for (std::size_t i = 0; i < order.size(); ++i) CHECK(all.connect[i].id == order[i]);
    const std::vector<std::string_view> back{"stop-charging",    "open-disconnect",   "no-current",
                                             "fuses-out",        "part-joint",        "part-strings",
                                             "battery-fuse-out", "battery-cable-off", "input-cable-off"};
    REQUIRE(all.take_apart.size() == back.size());
    for (std::size_t i = 0; i < back.size(); ++i) CHECK(all.take_apart[i].id == back[i]);
}

TEST_CASE("a small set-up has few steps: no string to compare, no fuse, no frame, no battery of its own") {
    Trial t = roomy_trial();
    t.wire(2, 1);
    const std::vector<std::string_view> order{"controller", "input-cable", "lay-out",          "close-strings",
                                              "join",       "read-array",  "close-disconnect", "watch"};
    const StepList all = steps(t);
    REQUIRE(all.connect.size() == order.size());
    for (std::size_t i = 0; i < order.size(); ++i) CHECK(all.connect[i].id == order[i]);
}

TEST_CASE("without a disconnect the last plug goes in covered, after it was measured") {
    Trial t = roomy_trial();
    t.wire(2, 1);
    const StepList all = steps(t, {false});
    CHECK_FALSE(has(all.connect, "close-disconnect"));
    CHECK(place(all.connect, "read-array") < place(all.connect, "plug-in"));
    CHECK(place(all.connect, "plug-in") < place(all.connect, "uncover"));
    CHECK(step(all.connect, "plug-in").before.inputs[0].light == Light::lit);  // it was measured; the step covers it
    CHECK(place(all.take_apart, "no-current") < place(all.take_apart, "unplug"));
    for (const auto* list : {&all.connect, &all.take_apart}) {
        for (const Step& s : *list) CHECK_THAT(s.text, !rules::Contains("disconnect"));
    }
}

// 30 V a panel on the coldest morning: three in series 90 V, in parts of two and one 60 V.
TEST_CASE("the voltage at each step") {
    Trial t = roomy_trial();
    with_battery(t);
    t.wire(3, 1);
    const StepList all = steps(t);
    const auto said = [&](std::string_view id) { return step(all.connect, id).voltage_v; };
    CHECK_FALSE(said("controller"));
    CHECK_FALSE(said("input-cable"));
    CHECK(said("battery-cable") == exactly(14.6));
    CHECK(said("lay-out") == exactly(30.0));
    CHECK(said("plug-together") == exactly(60.0));
    CHECK(said("close-middle") == exactly(90.0));
    CHECK(said("read-array") == exactly(90.0));
    CHECK(said("watch") == exactly(90.0));
    CHECK(step(all.connect, "watch").contact == Contact::none);  // looked at, not felt
    // A band's caution comes with the first step in it: 60 V is not for wet hands, 90 V shock and arc.
    CHECK(step(all.connect, "plug-together").cautions.front().id == "no-wet-hands");
    CHECK(step(all.connect, "close-middle").cautions.front().id == "shock-and-arc");
    const auto back = [&](std::string_view id) { return step(all.take_apart, id).voltage_v; };
    CHECK(back("part-strings") == exactly(90.0));
    CHECK(back("battery-cable-off") == exactly(14.6));
    CHECK_FALSE(back("input-cable-off"));
}

// Two of 90 V with a pole in common, one of them reversed: 180 V between their other ends.
TEST_CASE("across an open fuse holder there can be the voltage of two strings") {
    Trial t = roomy_trial();
    t.wire(3, 4);
    const StepList all = steps(t);
    CHECK(step(all.connect, "read-holders").voltage_v == exactly(180.0));
    CHECK_THAT(step(all.connect, "read-holders").text, rules::Contains("up to 180 V"));
    CHECK(step(all.connect, "other-fuses").voltage_v == exactly(90.0));
    CHECK(step(all.connect, "read-holders").for_qualified_person);
    CHECK_FALSE(step(all.connect, "other-fuses").for_qualified_person);
}

TEST_CASE("a battery above the touch limit is not for its owner's spanner") {
    Trial t = roomy_trial();
    t.wire(2, 1);
    with_battery(t, 58.4);
    CHECK_FALSE(step(steps(t).connect, "battery-cable").for_qualified_person);
    with_battery(t, 60.5);
    CHECK(step(steps(t).connect, "battery-cable").for_qualified_person);
    CHECK_THAT(step(steps(t).connect, "battery-cable").text, rules::Contains("for a qualified person"));
}

TEST_CASE("a voltage's own caution comes with the first step in it, even where the step has another") {
    Trial t = roomy_trial();
    t.panel().voc_v = 75.0;  // 90 V on the coldest morning, from the first panel on
    t.panel().vmp_v = 60.0;
    t.panel().pmax_w = 300.0;
    t.panel().cells_in_series = 108;
    t.wire(1, 1);
    const Step first = step(steps(t).connect, "lay-out");
    REQUIRE(first.cautions.size() == 2);
    CHECK(first.cautions[0].id == "shock-and-arc");
    CHECK(first.cautions[1].id == "live-when-lit");
}

TEST_CASE("one string is the string; several are counted, unlike ones numbered") {
    Trial t = roomy_trial();
    const auto all_text = [&] {
        std::string text;
        const StepList list = steps(t);
        for (const auto* part : {&list.connect, &list.take_apart}) {
            for (const Step& s : *part) text += s.text + "\n";
        }
        return text;
    };
    t.wire(3, 1);
    CHECK_THAT(all_text(), rules::Contains("the string of 3 panels") && !rules::Contains("1 strings") &&
                               !rules::Contains("string 1") && !rules::Contains("each string"));
    t.wire(1, 1);
    CHECK_THAT(all_text(), rules::Contains("the one panel is a string by itself") && !rules::Contains("1 panels"));
    t.wire(3, 3);
    CHECK_THAT(all_text(), rules::Contains("the 3 strings of 3 panels each") && !rules::Contains("string 1"));
    CHECK_THAT(all_text(), rules::Contains("They agree within 5 %"));
    t.plan[0].strings[1].panels.pop_back();
    CHECK_THAT(all_text(), rules::Contains("strings 1 and 3 of 3 panels each and string 2 of 2 panels"));
    CHECK_THAT(all_text(), !rules::Contains("They agree within 5 %"));  // unlike strings need not
}

TEST_CASE("no caution is said twice, and each that is said applies to the plan") {
    for (const int in_parallel : {1, 2, 5}) {
        for (const int in_series : {1, 2, 3}) {
            Trial t = roomy_trial();
            with_battery(t);
            t.wire(in_series, in_parallel);
            const StepList list = steps(t);
            std::set<std::string_view> said;
            std::size_t cautions = 0;
            for (const auto* part : {&list.connect, &list.take_apart}) {
                for (const Step& s : *part) {
                    for (const Caution& c : s.cautions) {
                        ++cautions;
                        said.insert(c.id);
                    }
                }
            }
            CHECK(said.size() == cautions);
            for (const char* id : {"live-when-lit", "measure-first", "never-under-load", "battery-first"}) {
                CHECK(said.count(id) == 1);
            }
            CHECK(said.count("equal-strings") == (in_parallel > 1 ? 1 : 0));
            CHECK(said.count("falls") == 0);
        }
    }
}

TEST_CASE("every action's record says its own name, once") {
    std::set<std::string_view> ids;
    for (std::size_t a = 0; a < action_count; ++a) {
        const ActionRecord& record = record_of(static_cast<Action>(a));
        CHECK(record.action == static_cast<Action>(a));
        CHECK(ids.insert(record.id).second);
        if (record.contact == Contact::probes) CHECK_FALSE(record.readings.empty());
    }
}

TEST_CASE("each step begins in the state the one before it left, and the end of the way back is its beginning") {
    test::Dice dice(7);
    for (int n = 0; n < 30; ++n) {
        const Trial t = random_site(dice);
        const Judgement j = judged(t);
        if (j.verdict.connection == Connection::forbidden) continue;
        const StepList list = steps_of(t.setup, j, {dice.chance(0.5)});
        std::vector<const Step*> all;
        for (const auto* part : {&list.connect, &list.take_apart}) {
            for (const Step& s : *part) all.push_back(&s);
        }
        const auto same = [](const SiteState& a, const SiteState& b) {
            bool equal = a.battery == b.battery && a.battery_read == b.battery_read && a.charging == b.charging;
            for (std::size_t i = 0; i < a.inputs.size(); ++i) {
                const InputState& x = a.inputs[i];
                const InputState& y = b.inputs[i];
                equal = equal && x.strings == y.strings && x.joint == y.joint && x.fuses == y.fuses &&
                        x.disconnect == y.disconnect && x.cable_at_input == y.cable_at_input &&
                        x.strings_read == y.strings_read && x.holders_read == y.holders_read &&
                        x.array_read == y.array_read && x.known_currentless == y.known_currentless;
            }
            return equal;
        };
        for (std::size_t i = 1; i < all.size(); ++i) {
            CHECK(same(all[i]->before, all[i - 1]->after));
            for (std::size_t k = 0; k < all[i]->before.inputs.size(); ++k) {
                CHECK(all[i]->before.inputs[k].light == all[i - 1]->after.inputs[k].light);
            }
        }
        CHECK(same(all.back()->after, all.front()->before));  // but for the covers
    }
}

TEST_CASE("walked through with a meter: every reading is possible, and no hand meets what it was not told of") {
    test::Dice dice(20);
    int walked = 0;
    for (int n = 0; n < 150; ++n) {
        const Trial t = random_site(dice);
        const Judgement j = judged(t);
        if (j.verdict.connection == Connection::forbidden) continue;
        ++walked;
        CAPTURE(n, label(t.plan[0], {"round", "other"}));
        for (const bool disconnect : {true, false}) support::walk_through(t.setup, j, {disconnect});
    }
    CHECK(walked > 100);
}
