#include "trial.hpp"

#include "../support/arrays.hpp"

#include <plait/study/look_up.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::study;

namespace {

constexpr std::size_t quantity_count = static_cast<std::size_t>(Quantity::drop_target) + 1;

/// The set-up with one more figure that nobody stated.
void assume(Trial& t, Quantity quantity, std::optional<std::size_t> kind = {}, std::optional<std::size_t> input = {},
            Figure figure = Figure::only) {
    Assumption a{quantity, kind, input, "subject", "what", "value", "why"};
    a.figure = figure;
    t.setup.assumptions.push_back(a);
}

LookUpList looked(const Trial& t) {
    const SystemModel system(t.setup);
    return look_up(system, t.plan, judge(system, t.plan));
}

const LookUp* about(const Trial& t, const LookUpList& list, Quantity quantity) {
    const std::vector<Assumption> all = all_assumptions(SystemModel(t.setup));
    for (const LookUp& one : list.first) {
        if (all[one.assumption].quantity == quantity) return &one;
    }
    return nullptr;
}

bool same_words(const Answers& a, const Answers& b) { return a.connection == b.connection && a.intake == b.intake; }

std::size_t unproven(const Judgement& j) {
    std::size_t n = 0;
    const auto count = [&](const std::vector<RuleVerdict>& verdicts) {
        for (const RuleVerdict& v : verdicts) n += v.proven() ? 0U : 1U;
    };
    for (const InputJudgement& one : j.inputs) count(one.verdicts);
    count(j.plan);
    return n;
}

/// Everything a newcomer leaves out, of the panel, the input and the site.
Trial newcomer(test::Dice& dice) {
    Trial t = roomy_trial();
    t.panel().voc_tolerance_ratio = 0.03;
    t.panel().isc_tolerance_ratio = 0.05;
    t.input().max_voltage_v = dice.between(60.0, 120.0);
    t.input().tracking_max_v = t.input().max_voltage_v;
    t.input().max_power_w = dice.between(200.0, 900.0);
    t.input().start_voltage_v = t.input().tracking_min_v = dice.between(15.0, 40.0);
    if (dice.chance(0.5)) t.input().bands.clear();
    t.panel().voc_coefficient_stated = dice.chance(0.5);
    for (std::size_t q = 0; q <= static_cast<std::size_t>(Quantity::panel_pmax_tolerance); ++q) {
        const auto quantity = static_cast<Quantity>(q);
        if (quantity == Quantity::panel_weak_light || dice.chance(0.3)) continue;
        if (quantity == Quantity::panel_voc_coefficient && t.panel().voc_coefficient_stated) continue;
        assume(t, quantity, 0);
    }
    assume(t, Quantity::input_tracking_range, {}, 0, Figure::lower_end);
    assume(t, Quantity::input_tracking_range, {}, 0, Figure::upper_end);
    if (t.input().bands.empty()) assume(t, Quantity::input_current_limit, {}, 0);
    for (const Quantity q : {Quantity::site_coldest_air, Quantity::site_hottest_air, Quantity::site_warm_air,
                             Quantity::site_mounting, Quantity::site_peak_irradiance}) {
        assume(t, q);
    }
    t.wire(static_cast<int>(1 + dice.below(3)), static_cast<int>(1 + dice.below(3)));
    return t;
}

}  // namespace

TEST_CASE("every quantity has a range with a source, and a place where it is printed") {
    Trial t = roomy_trial();
    t.controller().battery = Battery{10.5, 12.5, 14.6, std::nullopt};
    t.setup.cables.emplace_back();
    t.setup.cables[0].unstated = {true, true, true, true, true, true};
    for (std::size_t q = 0; q < quantity_count; ++q) {
        for (const Figure figure : {Figure::only, Figure::lower_end, Figure::upper_end, Figure::running}) {
            CAPTURE(q);
            Assumption a{static_cast<Quantity>(q), 0, 0, "", "", "", "", figure, 0};
            const PlausibleRange range = plausible_range(t.setup, a);
            CHECK(range.low < range.high);
            CHECK(range.low_words != range.high_words);
            CHECK_FALSE(range.source.empty());
            CHECK_FALSE(where_printed(a.quantity).empty());
            // At both ends there is still a panel to make a curve of.
            for (const double end : {range.low, range.high}) {
                const Setup moved = looked_up(t.setup, a, end);
                CHECK(physics::fit_datasheet(moved.kinds[0].panel, moved.curve_method));
            }
        }
    }
}

// Two of 25 V and −0.4 %/K at −40 °C: 2 × 25 × 1.26 = 63 V; at −25 °C 60 V. The input bears 62 V.
TEST_CASE("the figure that could break a limit comes first, with what it settles and where it is printed") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 62.0;
    t.input().tracking_max_v = 62.0;
    t.wire(2, 1);
    assume(t, Quantity::site_warm_air);
    assume(t, Quantity::site_coldest_air);
    const LookUpList list = looked(t);
    CHECK(list.now.connection == Connection::allowed);
    REQUIRE_FALSE(list.first.empty());
    const LookUp& first = list.first.front();
    CHECK(first.assumption == 1);
    CHECK(first.turn == Turn::graver);
    CHECK(first.gravest.connection == Connection::forbidden);
    CHECK(first.at_low.connection == Connection::forbidden);
    CHECK(first.at_high.connection == Connection::allowed);
    CHECK(first.range.low_words == "−40 °C");
    CHECK(std::count_if(first.settles.begin(), first.settles.end(),
                        [](const rules::Rule* r) { return r->id == "cold-voltage"; }) == 1);
    CHECK_THAT(std::string(first.where_printed), rules::Contains("weather service"));
    CHECK(about(t, list, Quantity::site_warm_air) == nullptr);
    // Assumed are the two, and the weak-light efficiency that the curves add.
    CHECK(list.others == 2);
}

// The same wiring on an input of 59 V exceeds it; in air that never falls below 5 °C, 2 × 25 × 1.08 = 54 V, it does
// not.
TEST_CASE("a figure that could mend the verdict is worth looking up too") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 59.0;
    t.input().tracking_max_v = 59.0;
    t.wire(2, 1);
    assume(t, Quantity::site_coldest_air);
    const LookUpList list = looked(t);
    CHECK(list.now.connection == Connection::forbidden);
    const LookUp* coldest = about(t, list, Quantity::site_coldest_air);
    REQUIRE(coldest != nullptr);
    CHECK(coldest->turn == Turn::milder);
    CHECK(coldest->at_high.connection == Connection::allowed);
}

// 60 V under 62 V: at ±5 % it could be 63 V.
TEST_CASE("an assumed tolerance may carry the plan past a limit, or nowhere") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 62.0;
    t.input().tracking_max_v = 62.0;
    t.panel().voc_tolerance_ratio = 0.03;
    t.wire(2, 1);
    assume(t, Quantity::panel_voc_tolerance, 0);
    const LookUpList list = looked(t);
    const LookUp* tolerance = about(t, list, Quantity::panel_voc_tolerance);
    REQUIRE(tolerance != nullptr);
    CHECK(tolerance->turn == Turn::graver);
    CHECK(tolerance->at_low.connection == Connection::allowed);
    CHECK(tolerance->at_high.connection == Connection::may_exceed);
    t.input().max_voltage_v = 70.0;
    t.input().tracking_max_v = 70.0;
    CHECK(about(t, looked(t), Quantity::panel_voc_tolerance) == nullptr);
}

TEST_CASE("what no deciding finding rests on is not tried") {
    Trial t = roomy_trial();
    t.wire(2, 1);
    assume(t, Quantity::controller_headroom);   // a wide-range input has none
    assume(t, Quantity::panel_series_fuse, 0);  // one string
    const LookUpList list = looked(t);
    CHECK(list.first.empty());
    CHECK(list.others == 3);
}

TEST_CASE("figures worked out from one that moves go with it") {
    Trial t = roomy_trial();
    for (const Quantity q : {Quantity::panel_vmp, Quantity::panel_imp, Quantity::panel_isc}) assume(t, q, 0);
    const Setup moved = looked_up(t.setup, t.setup.assumptions[0], 21.0);
    const Panel& p = moved.kinds[0].panel;
    CHECK(p.vmp_v == 21.0);
    CHECK(p.vmp_v * p.imp_a == exactly(100.0));
    CHECK(p.isc_a / p.imp_a == exactly(6.0 / 5.0));
    CHECK(p.voc_v == 25.0);  // stated
    CHECK(moved.assumptions.size() == 2);
}

TEST_CASE("of the controller's volts above the battery the one that is looked up moves, and no other") {
    Trial t = roomy_trial();
    t.controller().running_headroom_v = 1.0;
    t.controller().starting_headroom_v = 5.0;
    t.controller().direct_connect_drop_v = 0.5;
    for (const Figure figure : {Figure::running, Figure::starting, Figure::only}) {
        t.setup.assumptions.clear();
        assume(t, Quantity::controller_headroom, {}, {}, figure);
        const Controller moved = looked_up(t.setup, t.setup.assumptions[0], 3.0).controller;
        CHECK(moved.running_headroom_v == (figure == Figure::running ? 3.0 : 1.0));
        CHECK(moved.starting_headroom_v == (figure == Figure::starting ? 3.0 : 5.0));
        CHECK(moved.direct_connect_drop_v == (figure == Figure::only ? 3.0 : 0.5));
        CHECK(plausible_range(t.setup, t.setup.assumptions[0]).low < plausible_range(t.setup, t.setup.assumptions[0]).high);
    }
}

TEST_CASE("numbers only and in full, the verdict is the same") {
    test::Dice dice(3);
    for (int n = 0; n < 40; ++n) {
        Trial t = newcomer(dice);
        CHECK(same_words(answers_at(SystemModel(t.setup), t.plan), judged(t).verdict));
        // Without an assumption "proven" is a matter of tolerances alone.
        t.setup.assumptions.clear();
        t.panel().weak_light_efficiency_ratio = 0.96;
        const Answers in_full = judged(t).verdict;
        CHECK(answers_at(SystemModel(t.setup), t.plan) == in_full);
    }
}

TEST_CASE("a figure looked up is no assumption any more, and the verdict is the one foretold") {
    test::Dice dice(5);
    std::size_t turned = 0;
    for (int n = 0; n < 25; ++n) {
        const Trial t = newcomer(dice);
        const SystemModel system(t.setup);
        const Judgement before = judge(system, t.plan);
        const LookUpList list = look_up(system, t.plan, before);
        CHECK(list.first.size() + list.others == before.assumptions.size());
        CHECK(std::is_sorted(list.first.begin(), list.first.end(), [](const LookUp& a, const LookUp& b) {
            return a.turn != b.turn ? a.turn > b.turn : milder(b.gravest, a.gravest);
        }));
        for (const LookUp& one : list.first) {
            const Assumption& a = before.assumptions[one.assumption];
            CAPTURE(n, static_cast<int>(a.quantity), one.range.low_words, one.range.high_words);
            turned += one.turn > Turn::doubt ? 1U : 0U;
            for (const bool high : {false, true}) {
                const Setup moved = looked_up(t.setup, a, high ? one.range.high : one.range.low);
                const SystemModel moved_system(moved);
                const Judgement after = judge(moved_system, t.plan);
                CHECK(same_words(after.verdict, high ? one.at_high : one.at_low));
                CHECK(after.assumptions.size() + 1 == before.assumptions.size());
                for (const InputJudgement& in : after.inputs) {
                    for (const RuleVerdict& v : in.verdicts) {
                        for (const std::size_t rests : v.assumptions) {
                            const Assumption& left = after.assumptions[rests];
                            CHECK_FALSE((left.quantity == a.quantity && left.figure == a.figure));
                        }
                    }
                }
            }
        }
    }
    CHECK(turned > 20);
}

TEST_CASE("each figure stated as it was assumed takes its mark of doubt away, and nothing else moves") {
    test::Dice dice(6);
    for (int n = 0; n < 10; ++n) {
        Trial t = newcomer(dice);
        t.panel().weak_light_efficiency_ratio = 0.96;
        Judgement before = judged(t);
        std::size_t resting = 0;
        while (!t.setup.assumptions.empty()) {
            t.setup.assumptions.pop_back();
            const Judgement after = judged(t);
            CHECK(after.assumptions.size() + 1 == before.assumptions.size());
            CHECK(same_words(after.verdict, before.verdict));
            CHECK(unproven(after) <= unproven(before));
            resting += unproven(before) - unproven(after);
            before = after;
        }
        CHECK(resting > 5);
        // What is left in doubt is left so by tolerances alone.
        for (const InputJudgement& one : before.inputs) {
            for (const RuleVerdict& v : one.verdicts) CHECK(v.proven() == v.finding.even_at_worst);
        }
    }
}

TEST_CASE("what could not turn the verdict does not") {
    test::Dice dice(8);
    for (int n = 0; n < 12; ++n) {
        const Trial t = newcomer(dice);
        const SystemModel system(t.setup);
        const Judgement before = judge(system, t.plan);
        const LookUpList list = look_up(system, t.plan, before);
        for (std::size_t i = 0; i < before.assumptions.size(); ++i) {
            if (std::any_of(list.first.begin(), list.first.end(),
                            [&](const LookUp& one) { return one.assumption == i; })) {
                continue;
            }
            const Assumption& a = before.assumptions[i];
            const PlausibleRange range = plausible_range(t.setup, a);
            CAPTURE(n, static_cast<int>(a.quantity), static_cast<int>(a.figure), range.low_words, range.high_words);
            // Also the ones that were not tried, because no deciding finding says that it rests on them.
            for (const double value : {range.low, range.high}) {
                const Setup moved = looked_up(t.setup, a, value);
                CHECK(same_words(answers_at(SystemModel(moved), t.plan), list.now));
            }
        }
    }
}
