#include "../study/trial.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <tuple>

using namespace plait;
using namespace plait::study;
using namespace plait::search;

namespace {

/// What one input gets: kind, in series, in parallel; zeros for nothing.
using Place = std::tuple<std::size_t, int, int>;
using Plan = std::vector<Place>;

Place place_of(const Candidate& c) {
    const auto equal = as_equal_strings(c.wiring);
    REQUIRE(equal.has_value());
    return {equal->kind, equal->in_series, equal->in_parallel};
}

bool of_equal_strings(const Arrangement& a, const RankedPlan& plan) {
    return std::all_of(plan.candidates.begin(), plan.candidates.end(),
                       [&](std::size_t c) { return as_equal_strings(a.candidates[c].wiring).has_value(); });
}

Plan plan_of(const Arrangement& a, const RankedPlan& plan, std::size_t inputs) {
    Plan out(inputs, Place{0, 0, 0});
    for (const std::size_t i : plan.candidates) {
        const Candidate& c = a.candidates[i];
        out[c.input] = place_of(c);
    }
    return out;
}

/// Every plan of two inputs by plain loops, with no thought given to speed.
std::set<Plan> all_plans(const std::vector<int>& counts) {
    std::vector<Place> places{{0, 0, 0}};
    for (std::size_t kind = 0; kind < counts.size(); ++kind) {
        for (int s = 1; s <= counts[kind]; ++s) {
            for (int p = 1; p <= counts[kind]; ++p) places.emplace_back(kind, s, p);
        }
    }
    std::set<Plan> plans;
    for (const Place& a : places) {
        for (const Place& b : places) {
            std::vector<int> used(counts.size(), 0);
            for (const Place& x : {a, b}) used[std::get<0>(x)] += std::get<1>(x) * std::get<2>(x);
            bool enough = true;
            for (std::size_t kind = 0; kind < counts.size(); ++kind) enough = enough && used[kind] <= counts[kind];
            if (enough && (std::get<1>(a) > 0 || std::get<1>(b) > 0)) plans.insert({a, b});
        }
    }
    return plans;
}

/// The parts of the list, worked out here by themselves.
enum class RankClass { holds, may_exceed, falls_short, exceeds };
RankClass rank_class(const Answers& v) {
    if (v.connection == Connection::forbidden) return RankClass::exceeds;
    if (v.intake == Intake::falls_short) return RankClass::falls_short;
    return v.connection == Connection::may_exceed || v.connection == Connection::undecided ? RankClass::may_exceed
                                                                                           : RankClass::holds;
}

/// Five round panels and three of another kind, two unlike inputs, a limit on both together.
Trial two_inputs() {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 5;
    Panel other = rules::round_panel();
    other.voc_v = 40.0;
    other.vmp_v = 32.0;
    other.pmax_w = 160.0;
    other.max_series_fuse_a = 10.0;
    t.setup.kinds[t.add_kind("other", other)].count = 3;
    t.add_input(t.points.front());
    t.input(1).max_voltage_v = 60.0;
    t.input(1).tracking_min_v = 12.0;
    t.input(1).tracking_max_v = 60.0;
    t.input(1).start_voltage_v = 14.0;
    t.input(1).bands = {{0.0, 60.0, 7.0}};
    t.input(1).max_short_circuit_a = 20.0;
    t.controller().max_total_power_w = 500.0;
    return t;
}

void check_order(const Arrangement& a) {
    for (std::size_t i = 1; i < a.plans.size(); ++i) {
        const RankedPlan& x = a.plans[i - 1];
        const RankedPlan& y = a.plans[i];
        CAPTURE(i);
        REQUIRE(rank_class(x.verdict) <= rank_class(y.verdict));
        if (rank_class(x.verdict) == rank_class(y.verdict)) REQUIRE(x.harvest.european_w >= y.harvest.european_w);
    }
}

}  // namespace

TEST_CASE("arrangement: every plan, each once, and no other") {
    const Trial t = two_inputs();
    const Arrangement a = arrange(SystemModel(t.setup));
    CHECK_FALSE(a.thinned);
    std::set<Plan> found;
    for (const RankedPlan& p : a.plans) {
        if (of_equal_strings(a, p)) CHECK(found.insert(plan_of(a, p, 2)).second);
    }
    const std::set<Plan> expected = all_plans({5, 3});
    // One input alone: 10 wirings of up to five panels (5 + 2 + 1 + 1 + 1), 5 of up to three (3 + 1 + 1).
    CHECK(expected.size() > 2 * (10 + 5));
    CHECK(found == expected);
}

TEST_CASE("arrangement: every plan has the verdict, the proof and the harvest of the full judgement") {
    Trial t = two_inputs();
    t.setup.assumptions.push_back({Quantity::panel_voc_coefficient, 1, {}, "s", "w", "v", "y"});
    const bool charging = GENERATE(false, true);
    if (charging) {
        t.controller().type = ControllerType::step_down;
        t.controller().battery = Battery{10.5, 12.8, 14.6, 20.0};
        t.controller().efficiency_ratio = 0.95;
    }
    const SystemModel system(t.setup);
    const Arrangement a = arrange(system);
    std::map<std::pair<Connection, Intake>, int> seen;
    for (const RankedPlan& p : a.plans) {
        const ArrayPlan plan = written_out(a, p, 2);
        const Judgement j = judge(system, plan);
        CAPTURE(charging, label(plan[0], {"round", "other"}), label(plan[1], {"round", "other"}));
        REQUIRE(p.verdict == static_cast<const Answers&>(j.verdict));
        // Of its candidates' conditions and its own, as the report lists them.
        std::vector<rules::Condition> conditions;
        for (const std::size_t c : p.candidates) {
            for (const rules::Condition& condition : a.candidates[c].conditions) add_condition(conditions, condition);
        }
        for (const rules::Condition& condition : p.conditions) add_condition(conditions, condition);
        REQUIRE(conditions == j.verdict.conditions);
        REQUIRE(p.harvest.european_w == exactly(j.harvest.european_w));
        REQUIRE(p.harvest.cec_w == exactly(j.harvest.cec_w));
        REQUIRE(p.lost_ratio == Approx(1.0 - j.harvest.european_w / j.free_harvest.european_w).margin(1e-12));
        REQUIRE(p.lost_ratio >= 0.0);
        ++seen[{p.verdict.connection, p.verdict.intake}];
    }
    const auto met = [&](auto wanted) { return std::any_of(seen.begin(), seen.end(), [&](const auto& s) { return wanted(s.first); }); };
    CHECK(met([](const auto& v) { return v.first == Connection::forbidden; }));
    // With 20 A into the battery even a few panels clip, but one or two do not.
    for (const Intake intake : {Intake::all, Intake::clipped, Intake::falls_short}) {
        CHECK(met([&](const auto& v) { return v.first == Connection::allowed && v.second == intake; }));
    }
}

TEST_CASE("arrangement: the numbers of a line, by hand") {
    const Trial t = two_inputs();
    const Arrangement a = arrange(SystemModel(t.setup));
    bool met = false;
    for (const RankedPlan& p : a.plans) {
        if (!of_equal_strings(a, p) || plan_of(a, p, 2) != Plan{{0, 2, 2}, {1, 1, 1}}) continue;
        met = true;
        CHECK(p.panels_used == 5);
        CHECK(p.strings == 3);
        CHECK(p.cold_margin_v == exactly(12.0));  // 100 − 2 × 30 = 40 V on PV1, 60 − 40 × 1.2 = 12 V on the other
    }
    CHECK(met);
}

TEST_CASE("arrangement: what can be used by harvest, then what falls short, then what exceeds") {
    const Arrangement a = arrange(SystemModel(two_inputs().setup));
    check_order(a);
    CHECK(rank_class(a.plans.front().verdict) == RankClass::holds);
    CHECK(a.plans.back().verdict.connection == Connection::forbidden);
}

TEST_CASE("arrangement: thinned only when there are too many, and then nothing good is lost of one input") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 16;
    t.add_input(t.points.front());
    CHECK_FALSE(arrange(SystemModel(t.setup)).thinned);  // 50 wirings an input, 51² plans to look at
    t.add_input(t.points.front());
    // 51³ = 132 651 combinations.
    const SystemModel system(t.setup);
    const Arrangement a = arrange(system);
    REQUIRE(a.thinned);
    check_order(a);
    std::set<int> used;
    for (const RankedPlan& p : a.plans) {
        REQUIRE(p.panels_used <= 16);
        used.insert(p.panels_used);
    }
    CHECK(used.size() == 16);  // every number of panels is still there
    // Of one input, the best wiring of each number of panels survived.
    std::map<int, double> best;
    for (const Candidate& c : a.candidates) {
        if (c.input != 0 || rank_class(c.verdict) != RankClass::holds) continue;
        double& w = best[static_cast<int>(c.wiring.panel_count())];
        w = std::max(w, weighted(c.level_power_w).european_w);
    }
    CHECK(best.size() >= 5);
    for (const auto& [panels, watts] : best) {
        double kept = 0.0;
        for (const RankedPlan& p : a.plans) {
            if (p.candidates.size() != 1 || p.panels_used != panels || rank_class(p.verdict) != RankClass::holds) continue;
            if (a.candidates[p.candidates[0]].input == 0) kept = std::max(kept, p.harvest.european_w);
        }
        CAPTURE(panels);
        CHECK(kept == exactly(watts));
    }
}

TEST_CASE("arrangement: where even the thinned combinations are too many, the best of them are there") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 50;
    t.input().max_power_w = 1500.0;
    t.add_input(t.points.front());
    t.add_input(t.points.front());
    t.input(1).max_power_w = 1200.0;
    t.input(2).max_power_w = 3000.0;
    const SystemModel system(t.setup);
    ArrangeRequest hasty;  // no search: only what is combined of equal strings
    hasty.keep_going = [](const SearchProgress&) { return false; };
    const Arrangement a = arrange(system, hasty);
    REQUIRE(a.thinned);
    CHECK(a.plans.size() < 3000);
    check_order(a);
    // By input and number of panels; one kind, so only numbers compete.
    std::vector<std::vector<double>> best_w(3, std::vector<double>(51, 0.0));
    for (const Candidate& c : a.candidates) {
        if (rank_class(c.verdict) != RankClass::holds) continue;
        double& w = best_w[c.input][c.wiring.panel_count()];
        w = std::max(w, weighted(c.level_power_w).european_w);
    }
    double most_w = 0.0;
    for (std::size_t x = 0; x <= 50; ++x) {
        for (std::size_t y = 0; x + y <= 50; ++y) {
            for (std::size_t z = 0; x + y + z <= 50; ++z) {
                most_w = std::max(most_w, best_w[0][x] + best_w[1][y] + best_w[2][z]);
            }
        }
    }
    CHECK(a.plans.front().harvest.european_w == exactly(most_w));
}

TEST_CASE("arrangement: no plan twice, and what the search found ranks among the others") {
    const Trial t = two_inputs();
    const SystemModel system(t.setup);
    const Arrangement a = arrange(system);
    CHECK(a.searched.possible);
    CHECK(a.searched.finished);
    REQUIRE(a.advised.has_value());
    PlanSearch search(system);
    SearchRequest ten;
    ten.keep = 10;
    const SearchResult best = search.run(ten);
    REQUIRE(best.plans.size() == 10);
    for (std::size_t i = 0; i < 10; ++i) CHECK(a.plans[i].harvest.european_w == Approx(best.plans[i].european_w));
}

TEST_CASE("arrangement: a near-tie goes to the simpler wiring") {
    // One input takes 150 W at most. In weak light three panels do better than two, but by less than 1 %? Whatever the
    // figures: what is advised is within 1 % of the best, and nothing simpler on the list is.
    for (const double power_w : {120.0, 200.0, 330.0, 5000.0}) {
        Trial t = two_inputs();
        t.input(0).max_power_w = power_w;
        const Arrangement a = arrange(SystemModel(t.setup));
        REQUIRE(a.advised.has_value());
        const RankedPlan& advised = a.plans[*a.advised];
        const double least_w = (1.0 - near_tie_ratio) * a.plans.front().harvest.european_w;
        CHECK(advised.harvest.european_w >= least_w);
        for (const RankedPlan& p : a.plans) {
            if (rank_class(p.verdict) != RankClass::holds || p.harvest.european_w < least_w) continue;
            CHECK(std::make_tuple(advised.joints, advised.unlike) <= std::make_tuple(p.joints, p.unlike));
        }
    }
}

TEST_CASE("arrangement: no row of the trade-offs is beaten in everything") {
    Trial t = two_inputs();
    ArrangeRequest request;
    request.trade_offs = true;
    const Arrangement a = arrange(SystemModel(t.setup), request);
    REQUIRE(a.trade_offs.size() >= 2);
    CHECK(a.trade_offs.size() <= 8);
    const auto merits = [&](const TradeOff& x) {
        const RankedPlan& p = a.plans[x.plan];
        return std::array{p.harvest.european_w, p.cold_margin_v,       x.one_shaded_worst_w,
                          x.one_shaded_mean_w,  -p.highest_cold_voc_v, -(2.0 * p.joints + p.fuses)};
    };
    for (const TradeOff& x : a.trade_offs) {
        CHECK(x.one_shaded_worst_w <= x.one_shaded_mean_w * (1.0 + 1e-12));
        // Less light on one panel never brings more.
        CHECK(x.one_shaded_mean_w <= a.plans[x.plan].harvest.european_w * (1.0 + 1e-9));
        for (const TradeOff& y : a.trade_offs) {
            if (x.plan == y.plan) continue;
            bool better_somewhere = false;
            for (std::size_t m = 0; m < 6; ++m) better_somewhere = better_somewhere || merits(x)[m] > merits(y)[m];
            CHECK(better_somewhere);
        }
    }
}

TEST_CASE("one panel shaded: as if the set-up file said so") {
    const Trial t = two_inputs();
    const SystemModel system(t.setup);
    ArrayPlan plan(2);
    plan[0] = plait::written_out({0, 2, 2});
    const TradeOff got = one_panel_shaded(system, plan);
    ArrayPlan shaded = plan;
    shaded[0].strings[1].panels[0].groups.assign(2, GroupState{0.2, 0.0});
    const double by_hand_w = judge(system, shaded).harvest.european_w;
    // All four panels stand alike.
    CHECK(got.one_shaded_worst_w == Approx(by_hand_w).epsilon(1e-9));
    CHECK(got.one_shaded_mean_w == Approx(by_hand_w).epsilon(1e-9));
}

TEST_CASE("the ranking and the judgement agree about what a stated range leaves open") {
    for (const double warmest : {-24.0, -10.0, 0.0, 10.0}) {
        Trial t = roomy_trial();
        t.setup.kinds[0].count = 4;
        t.input().max_voltage_v = 85.0;
        t.input().tracking_max_v = 85.0;
        t.site().coldest_air_range = TemperatureRange{{-25.0}, {warmest}};
        t.site().hottest_air_range = TemperatureRange{{10.0}, {40.0}};
        const SystemModel system(t.setup);
        const Arrangement a = arrange(system);
        for (const RankedPlan& p : a.plans) {
            const study::Answers judged = judge(system, written_out(a, p, 1)).verdict;
            CHECK(judged == p.verdict);
        }
    }
}
