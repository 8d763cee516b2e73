#include "../study/trial.hpp"

#include <plait/search/comparison.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::study;
using namespace plait::search;

namespace {

/// A set-up with one wiring, figures as given: what decides who leads.
ComparedSetup made(double harvest_w, double room_ratio, const Answers& answers = {}) {
    ComparedSetup s;
    ComparedPlan& p = s.plan.emplace();
    static_cast<Answers&>(p.judgement.verdict) = answers;
    p.judgement.harvest.european_w = harvest_w;
    p.cold_margin_ratio = room_ratio;
    return s;
}

ComparedSetup costing(ComparedSetup s, const std::string& currency, double total) {
    s.priced = true;
    s.plan->cost = Cost{currency, 0.25 * total, 0.75 * total};
    return s;
}

constexpr Answers forbidden{Connection::forbidden, Intake::all};

using Places = std::vector<std::size_t>;

}  // namespace

TEST_CASE("comparison: a plan's figures are those of the ranking, dangerous plans included") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 4;
    Panel other = rules::round_panel();
    other.voc_v = 40.0;
    other.vmp_v = 32.0;
    other.pmax_w = 160.0;
    other.max_series_fuse_a = 5.0;
    t.setup.kinds[t.add_kind("other", other)].count = 3;
    t.add_input(t.points.front());
    t.input(1).max_voltage_v = 60.0;
    t.controller().max_total_power_w = 300.0;
    const SystemModel system(t.setup);
    const Arrangement a = arrange(system);
    REQUIRE(a.plans.size() > 50);
    std::array<bool, 2> seen_fuses{};
    for (const RankedPlan& ranked : a.plans) {
        const ComparedPlan p = compared_plan(system, search::written_out(a, ranked, 2));
        CHECK(static_cast<const Answers&>(p.judgement.verdict) == ranked.verdict);
        CHECK(p.usable() == (ranked.verdict.connection != Connection::forbidden && ranked.verdict.intake != Intake::falls_short));
        CHECK(p.judgement.harvest.european_w == Approx(ranked.harvest.european_w).epsilon(1e-12));
        CHECK(p.account.harvest_w == Approx(ranked.harvest.european_w).epsilon(1e-12));
        CHECK(p.cold_margin_ratio == Approx(ranked.cold_margin_ratio).margin(1e-12));
        CHECK(p.cold_margin_v ==
              Approx(p.cold_margin_ratio * *t.setup.controller.inputs[p.cold_input].max_voltage_v).margin(1e-9));
        CHECK(p.highest_cold_voc_v == Approx(ranked.highest_cold_voc_v));
        CHECK(p.panels_used == ranked.panels_used);
        CHECK(p.joints == ranked.joints);
        CHECK(p.fuses == ranked.fuses);
        seen_fuses[ranked.fuses > 0 ? 1 : 0] = true;
    }
    CHECK(seen_fuses[0]);
    CHECK(seen_fuses[1]);

    const ComparedSetup advised = advised_setup(system);
    REQUIRE(advised.plan);
    REQUIRE(a.advised);
    CHECK(advised.panels_on_hand == 7);
    CHECK(advised.searched->finished);
    CHECK(advised.plan->judgement.harvest.european_w == Approx(a.plans[*a.advised].harvest.european_w).epsilon(1e-12));
}

TEST_CASE("comparison: room and cost by hand") {
    Trial t = roomy_trial();
    t.setup.currency = "EUR";
    t.setup.kinds[0].count = 4;
    t.setup.kinds[0].price = 80.0;
    t.controller().price = 300.0;
    // A kind on hand that the wiring leaves in the shed costs nothing and needs no price.
    t.add_kind("spare", rules::round_panel());
    {
        const SystemModel system(t.setup);
        const ComparedPlan p = compared_plan(system, {plait::written_out({0, 2, 2})});
        // Two panels of 30 V below 100 V.
        CHECK(p.cold_margin_v == Approx(40.0));
        CHECK(p.cold_margin_ratio == Approx(0.4));
        CHECK(p.highest_cold_voc_v == Approx(60.0));
        CHECK(p.joints == 1);
        REQUIRE(p.cost);
        CHECK(p.cost->currency == "EUR");
        CHECK(p.cost->panels_price == 320.0);
        CHECK(p.cost->total_price() == 620.0);
        CHECK(p.harvest_per_100_w() == Approx(p.judgement.harvest.european_w / 6.2));
        const ComparedPlan spare = compared_plan(system, {plait::written_out({1, 2, 1})});
        CHECK_FALSE(spare.cost);
        CHECK(spare.unpriced == std::vector<std::string>{"panel 'spare'"});
    }
    t.controller().price.reset();
    const ComparedPlan no_controller = compared_plan(SystemModel(t.setup), {plait::written_out({0, 2, 2})});
    CHECK_FALSE(no_controller.cost);
    CHECK(no_controller.unpriced == std::vector<std::string>{"the controller"});
    t.setup.kinds[0].price.reset();
    const ComparedSetup unpriced = setup_as_wired(SystemModel(t.setup), {plait::written_out({0, 2, 2})});
    CHECK_FALSE(unpriced.priced);
    CHECK(unpriced.plan->unpriced.empty());
}

TEST_CASE("comparison: nothing that can be used is no plan, but a wiring as it is keeps its verdict") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 20.0;
    t.input().tracking_min_v = 10.0;
    t.input().tracking_max_v = 20.0;
    const SystemModel system(t.setup);
    CHECK_FALSE(advised_setup(system).plan);
    const ComparedSetup wired = setup_as_wired(system, {plait::written_out({0, 1, 1})});
    REQUIRE(wired.plan);
    CHECK(wired.plan->judgement.verdict.connection == Connection::forbidden);
    CHECK(wired.plan->cold_margin_v == Approx(-10.0));
    CHECK_FALSE(wired.searched);
    CHECK(compare({wired, advised_setup(system)}).usable.empty());
}

TEST_CASE("comparison: a set-up beside itself has equal figures, and both lead") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 5;
    t.setup.kinds[0].price = 70.0;
    t.controller().price = 200.0;
    const SystemModel system(t.setup);
    const Comparison c = compare({advised_setup(system), advised_setup(system)});
    const ComparedPlan& a = *c.setups[0].plan;
    const ComparedPlan& b = *c.setups[1].plan;
    CHECK(a.plan == b.plan);
    CHECK(a.judgement.harvest.european_w == b.judgement.harvest.european_w);
    CHECK(a.cold_margin_v == b.cold_margin_v);
    CHECK(a.cost->total_price() == b.cost->total_price());
    CHECK(c.most_harvest == Places{0, 1});
    CHECK(c.most_room == Places{0, 1});
    REQUIRE(c.money.size() == 1);
    CHECK(c.money.front().best == Places{0, 1});
}

TEST_CASE("comparison: who leads, and who is near enough to lead too") {
    const Comparison c = compare({made(990.0, 0.2), made(1000.0, 0.1), made(989.9, 0.1991), made(985.0, 0.1989)});
    CHECK(c.most_harvest == Places{0, 1});
    CHECK(c.most_room == Places{0, 2});
    CHECK(c.money.empty());
}

TEST_CASE("comparison: what exceeds or falls short never leads") {
    const Comparison c = compare({costing(made(2000.0, 0.9, forbidden), "EUR", 1.0),
                                  costing(made(1000.0, 0.1, {Connection::allowed, Intake::clipped}), "EUR", 500.0),
                                  costing(made(3000.0, 0.9, {Connection::allowed, Intake::falls_short}), "EUR", 1.0)});
    CHECK(c.usable == Places{1});
    CHECK(c.most_harvest == Places{1});
    CHECK(c.most_room == Places{1});
    REQUIRE(c.money.size() == 1);
    CHECK(c.money[0].setups == Places{1});
    CHECK(c.money[0].best == Places{1});
}

TEST_CASE("comparison: currencies stay apart") {
    const Comparison c =
        compare({costing(made(100.0, 0.1), "EUR", 500.0), costing(made(100.0, 0.1), "USD", 1.0), made(100.0, 0.1),
                 costing(made(100.0, 0.1), "EUR", 400.0), costing(made(100.0, 0.1), "", 2.0)});
    REQUIRE(c.money.size() == 3);
    CHECK(c.money[0].currency == "EUR");
    CHECK(c.money[0].setups == Places{0, 3});
    CHECK(c.money[0].best == Places{3});
    CHECK(c.money[1].setups == Places{1});
    CHECK(c.money[2].setups == Places{4});
}

TEST_CASE("comparison: the order of the set-ups changes nothing but the order") {
    const std::vector<ComparedSetup> setups{
        costing(made(500.0, 0.30), "EUR", 900.0), costing(made(700.0, 0.10), "EUR", 800.0),
        made(900.0, 0.20, forbidden), costing(made(697.0, 0.3004), "USD", 1000.0)};
    const Comparison straight = compare(setups);
    const Comparison back = compare({setups.rbegin(), setups.rend()});
    const auto turned = [&](Places places) {
        for (std::size_t& p : places) p = setups.size() - 1 - p;
        std::reverse(places.begin(), places.end());
        return places;
    };
    CHECK(back.usable == turned(straight.usable));
    CHECK(back.most_harvest == turned(straight.most_harvest));
    CHECK(back.most_room == turned(straight.most_room));
    for (const MoneyGroup& g : straight.money) {
        const auto same = std::find_if(back.money.begin(), back.money.end(),
                                       [&](const MoneyGroup& b) { return b.currency == g.currency; });
        REQUIRE(same != back.money.end());
        CHECK(same->setups == turned(g.setups));
        CHECK(same->best == turned(g.best));
    }
    CHECK(straight.most_harvest == Places{1, 3});
    CHECK(straight.most_room == Places{0, 3});
}

TEST_CASE("comparison: fuses that are fitted count, in the ranking too, wherever there is something to guard") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 4;
    const auto counted = [&t](const EqualStrings& wiring) {
        return compared_plan(SystemModel(t.setup), {plait::written_out(wiring)}).fuses;
    };
    // One other string of 6 A, 7.5 A by the NEC, against a rating of 15 A.
    CHECK(counted({0, 2, 2}) == 0);
    t.setup.fittings.string_fuse_a = 10.0;
    CHECK(counted({0, 2, 2}) == 2);
    CHECK(counted({0, 2, 1}) == 0);
    const Arrangement a = arrange(SystemModel(t.setup));
    for (const RankedPlan& p : a.plans) CHECK(p.fuses == (p.strings > 1 ? p.strings : 0));
}
