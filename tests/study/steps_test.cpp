#include "trial.hpp"

#include <plait/study/steps.hpp>

#include <algorithm>
#include <set>

using namespace plait;
using namespace plait::study;

namespace {

StepList steps(const Trial& t) { return steps_of(t.setup, judged(t)); }

std::size_t place(const std::vector<Step>& list, std::string_view id) {
    const auto at = std::find_if(list.begin(), list.end(), [&](const Step& s) { return s.id == id; });
    CAPTURE(id);
    REQUIRE(at != list.end());
    return static_cast<std::size_t>(at - list.begin());
}

}  // namespace

TEST_CASE("a wiring outside the limits gets no steps but one: do not build it") {
    Trial t = roomy_trial();
    t.wire(4, 1);
    const StepList list = steps(t);
    REQUIRE(list.connect.size() == 1);
    CHECK(list.connect[0].id == "stop");
    CHECK(list.take_apart.empty());
}

TEST_CASE("battery first, panels second, measured before they are joined, the switch last") {
    Trial t = roomy_trial();
    t.controller().battery = Battery{10.5, 12.5, 14.6, std::nullopt};
    t.wire(3, 4);
    const std::vector<Step> list = steps(t).connect;
    const std::vector<std::string_view> order{"lay-out", "battery-cable",         "battery-fuse",     "dead-side",
                                              "halves",  "close-string",          "measure-string",   "compare",
                                              "join",    "measure-at-disconnect", "close-disconnect", "look"};
    for (std::size_t i = 1; i < order.size(); ++i) CHECK(place(list, order[i - 1]) < place(list, order[i]));
    CHECK(list[place(list, "join")].text.find("fuses") != std::string::npos);
    CHECK(list.back().id == "look");
    const std::vector<Step> back = steps(t).take_apart;
    CHECK(place(back, "stop-charging") < place(back, "cover-and-part"));
    CHECK(back.back().id == "battery-last");
}

// 30 V a panel on the coldest morning: three in series 90 V, in parts of two and one 60 V.
TEST_CASE("the voltage at each step") {
    Trial t = roomy_trial();
    t.wire(3, 1);
    const std::vector<Step> list = steps(t).connect;
    CHECK_FALSE(list[place(list, "dead-side")].voltage_v);
    CHECK(list[place(list, "halves")].voltage_v == exactly(60.0));
    CHECK(list[place(list, "close-string")].voltage_v == exactly(90.0));
    CHECK(list[place(list, "measure-string")].voltage_v == exactly(90.0));
    // A band's caution comes with the first step in it: 60 V is touchable only dry, 90 V shock and arc.
    CHECK(list[place(list, "lay-out")].voltage_v == exactly(30.0));
    REQUIRE_FALSE(list[place(list, "halves")].cautions.empty());
    CHECK(list[place(list, "halves")].cautions.front().id == "touch-dry");
    REQUIRE_FALSE(list[place(list, "close-string")].cautions.empty());
    CHECK(list[place(list, "close-string")].cautions.front().id == "shock-and-arc");
    CHECK(list.back().voltage_v == exactly(90.0));  // the plugs to be felt are live
}

TEST_CASE("a voltage's own caution comes with the first step in it, even where the step has another") {
    Trial t = roomy_trial();
    t.panel().voc_v = 75.0;  // 90 V on the coldest morning, from the first panel on
    t.panel().vmp_v = 60.0;
    t.panel().pmax_w = 300.0;
    t.panel().cells_in_series = 108;
    t.wire(1, 1);
    const std::vector<Step> list = steps(t).connect;
    REQUIRE(list.front().cautions.size() == 2);
    CHECK(list.front().cautions[0].id == "shock-and-arc");
    CHECK(list.front().cautions[1].id == "live-when-lit");
}

TEST_CASE("equal strings are one step wherever they stand, and are told apart by number") {
    Trial t = roomy_trial();
    t.wire(3, 3);
    t.plan[0].strings[1].panels.pop_back();
    std::vector<std::string> measured;
    for (const Step& s : steps(t).connect) {
        if (s.id == "measure-string") measured.push_back(s.text);
    }
    REQUIRE(measured.size() == 2);
    CHECK_THAT(measured[0], rules::Contains("each of strings 1 and 3 of PV1"));
    CHECK_THAT(measured[1], rules::Contains("string 2 of PV1"));
    t.wire(3, 3);
    CHECK_THAT(steps(t).connect[place(steps(t).connect, "measure-string")].text,
               rules::Contains("each of the 3 strings of PV1"));
}

TEST_CASE("no caution is said twice, and equal strings are one step") {
    for (const int in_parallel : {1, 2, 5}) {
        for (const int in_series : {1, 2, 3}) {
            Trial t = roomy_trial();
            t.controller().battery = Battery{10.5, 12.5, 14.6, std::nullopt};
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
            CHECK(said.count("live-when-lit") == 1);
            CHECK(std::count_if(list.connect.begin(), list.connect.end(),
                                [](const Step& s) { return s.id == "measure-string"; }) == 1);
        }
    }
}
