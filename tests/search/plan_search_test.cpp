// The search against plain enumeration: every wiring of every input, in strings of any panels, each solved and judged
// in full, every combination of them tried.
#include "../study/trial.hpp"

#include "../support/arrays.hpp"

#include <plait/search/plan_search.hpp>

#include "input_table.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

using namespace plait;
using namespace plait::study;
using namespace plait::search;

namespace {

using Counts = std::vector<int>;

/// All strings of at most these panels.
std::vector<Counts> all_strings(const Counts& most) {
    std::vector<Counts> out;
    Counts at(most.size(), 0);
    const std::function<void(std::size_t)> fill = [&](std::size_t kind) {
        if (kind == most.size()) {
            if (std::any_of(at.begin(), at.end(), [](int n) { return n > 0; })) out.push_back(at);
            return;
        }
        for (at[kind] = 0; at[kind] <= most[kind]; ++at[kind]) fill(kind + 1);
        at[kind] = 0;
    };
    fill(0);
    return out;
}

struct Whole {
    InputWiring wiring;
    Counts used;
};

/// All sets of strings of at most these panels; the empty one first.
std::vector<Whole> all_wirings(const Counts& most) {
    const std::vector<Counts> strings = all_strings(most);
    std::vector<Whole> out;
    Whole at{{}, Counts(most.size(), 0)};
    const std::function<void(std::size_t)> add = [&](std::size_t first) {
        out.push_back(at);
        for (std::size_t s = first; s < strings.size(); ++s) {
            bool enough = true;
            for (std::size_t k = 0; k < most.size(); ++k) enough = enough && at.used[k] + strings[s][k] <= most[k];
            if (!enough) continue;
            SeriesString string;
            for (std::size_t k = 0; k < most.size(); ++k) {
                at.used[k] += strings[s][k];
                string.panels.insert(string.panels.end(), static_cast<std::size_t>(strings[s][k]), PanelPlace{k, {}});
            }
            at.wiring.strings.push_back(string);
            add(s);
            at.wiring.strings.pop_back();
            for (std::size_t k = 0; k < most.size(); ++k) at.used[k] -= strings[s][k];
        }
    };
    add(0);
    return out;
}

struct Valued {
    double european_w = 0.0;
    int joints = 0;
    int unlike = 0;
};

/// Every plan that can be used, best first.
std::vector<Valued> by_enumeration(const SystemModel& system) {
    const Setup& setup = system.setup();
    Counts most;
    for (const PanelKind& kind : setup.kinds) most.push_back(kind.count);
    const std::vector<Whole> wirings = all_wirings(most);
    const std::size_t inputs = setup.controller.inputs.size();
    struct Solved {
        LevelPowers power_w{};
        bool usable = true;
    };
    std::vector<std::vector<Solved>> solved(inputs);
    for (std::size_t i = 0; i < inputs; ++i) {
        for (const Whole& w : wirings) {
            Solved& s = solved[i].emplace_back();
            if (w.wiring.empty()) continue;
            ArrayPlan plan(inputs);
            plan[i] = w.wiring;
            const Judgement j = judge(system, plan);
            s.usable = j.inputs.front().verdict.holds();
            s.power_w = j.inputs.front().level_power_w;
        }
    }
    std::vector<Valued> out;
    const std::function<void(std::size_t, Counts, LevelPowers, Valued, bool)> pick =
        [&](std::size_t input, const Counts& left, const LevelPowers& sum_w, const Valued& v, bool any) {
            if (input == inputs) {
                if (!any) return;
                LevelPowers cut_w = sum_w;
                for (double& w : cut_w) w = shared_w(setup.controller, w);
                out.push_back(v);
                out.back().european_w = weighted(cut_w).european_w;
                return;
            }
            for (std::size_t w = 0; w < wirings.size(); ++w) {
                if (!solved[input][w].usable) continue;
                Counts rest = left;
                bool enough = true;
                for (std::size_t k = 0; k < rest.size(); ++k) enough = (rest[k] -= wirings[w].used[k]) >= 0 && enough;
                if (!enough) continue;
                LevelPowers next_w = sum_w;
                for (std::size_t l = 0; l < next_w.size(); ++l) next_w[l] += solved[input][w].power_w[l];
                Valued next = v;
                const ArrayPlan alone{wirings[w].wiring};
                next.joints += joints(alone);
                next.unlike += unlike_panels(alone);
                pick(input + 1, rest, next_w, next, any || !wirings[w].wiring.empty());
            }
        };
    pick(0, most, {}, {}, false);
    std::sort(out.begin(), out.end(), [](const Valued& a, const Valued& b) { return a.european_w > b.european_w; });
    return out;
}

Panel any_panel(test::Dice& dice) {
    Panel p = rules::round_panel();
    const double volts = dice.between(0.7, 1.6);
    const double amps = dice.between(0.5, 1.5);
    p.cells_in_series = static_cast<int>(36.0 * volts);
    p.voc_v *= volts;
    p.vmp_v *= volts;
    p.isc_a *= amps;
    p.imp_a *= amps;
    p.pmax_w *= volts * amps;
    p.isc_coefficient_per_k = 0.0005;
    p.voc_coefficient_per_k = dice.between(-0.0032, -0.0025);
    p.nominal_temperature = Celsius{dice.between(42.0, 48.0)};
    return p;
}

void limit(Input& input, test::Dice& dice) {
    input.max_voltage_v = dice.between(40.0, 160.0);
    input.tracking_min_v = dice.between(8.0, 25.0);
    input.tracking_max_v = dice.between(0.7, 1.0) * *input.max_voltage_v;
    const double edge_v = dice.between(20.0, 60.0);
    if (dice.chance(0.5)) {
        input.bands = {{0.0, edge_v, dice.between(3.0, 9.0)}, {edge_v, 200.0, dice.between(5.0, 16.0)}};
    } else if (dice.chance(0.5)) {
        input.bands = {{0.0, 200.0, dice.between(4.0, 20.0)}};
    }
    if (dice.chance(0.5)) input.max_power_w = dice.between(80.0, 500.0);
    if (dice.chance(0.3)) input.max_short_circuit_a = dice.between(8.0, 30.0);
    if (dice.chance(0.2)) input.max_array_power_w = dice.between(150.0, 500.0);
    input.over_current = dice.chance(0.15) ? OverCurrent::not_permitted : OverCurrent::only_clips;
}

/// At most four or five panels of one to three kinds, one or two inputs, with or without limits on the sum.
Trial any_case(test::Dice& dice) {
    Trial t;
    t.setup.kinds.clear();
    const std::size_t kinds = 1 + dice.below(3);
    int left = 4;
    for (std::size_t k = 0; k < kinds; ++k) {
        t.add_kind("k" + std::to_string(k), any_panel(dice));
        const int most = left - static_cast<int>(kinds - k - 1);
        t.setup.kinds[k].count =
            k + 1 == kinds ? most : 1 + static_cast<int>(dice.below(static_cast<std::size_t>(most)));
        left -= t.setup.kinds[k].count;
    }
    limit(t.input(), dice);
    if (dice.chance(0.5)) {
        t.add_input(t.points.front());
        if (dice.chance(0.6)) {
            t.input(1) = Input{};
            limit(t.input(1), dice);
        }
        t.input(1).name = "PV2";
    }
    if (dice.chance(0.3)) t.controller().max_total_power_w = dice.between(100.0, 400.0);
    if (dice.chance(0.2)) {
        t.controller().type = ControllerType::step_down;
        t.controller().battery = Battery{10.5, 12.8, 14.6, {}};
        t.controller().running_headroom_v = 1.0;
        t.controller().starting_headroom_v = 5.0;
        if (dice.chance(0.5)) t.controller().battery->max_charge_current_a = dice.between(8.0, 30.0);
    } else if (dice.chance(0.1)) {
        t.controller().type = ControllerType::direct_connect;
        t.controller().battery = Battery{10.5, 12.8, 14.6, {}};
        t.controller().direct_connect_drop_v = 0.5;
    }
    return t;
}

/// Some of the cables, some of them of one input alone.
void add_cables(Trial& t, test::Dice& dice) {
    for (const CableRun run : {CableRun::string, CableRun::trunk, CableRun::panel_leads}) {
        if (dice.chance(0.4)) continue;
        Cable c = resisting_cable(run, dice.between(0.001, 0.04));
        if (dice.chance(0.3)) c.input = dice.below(t.setup.controller.inputs.size());
        t.setup.cables.push_back(c);
    }
}

}  // namespace

TEST_CASE("search: behind cables too, the best of 120 random cases is that of full enumeration") {
    test::Dice dice(21);
    int with_plans = 0;
    for (int i = 0; i < 120; ++i) {
        Trial t = any_case(dice);
        add_cables(t, dice);
        CAPTURE(i);
        const SystemModel system(t.setup);
        const std::vector<Valued> expected = by_enumeration(system);
        PlanSearch search(system);
        const SearchResult found = search.run({});
        REQUIRE(found.finished);
        REQUIRE(found.plans.empty() == expected.empty());
        if (expected.empty()) continue;
        ++with_plans;
        CHECK(found.plans.front().european_w == Approx(expected.front().european_w).epsilon(1e-9));
        CHECK(found.bound_w <= expected.front().european_w * (1.0 + 1e-9));
    }
    CHECK(with_plans > 60);
}

TEST_CASE("search: the best plans of 320 random cases are those of full enumeration") {
    test::Dice dice(20);
    int with_plans = 0;
    int mixed_best = 0;
    int shared_binds = 0;
    for (int i = 0; i < 320; ++i) {
        const Trial t = any_case(dice);
        CAPTURE(i);
        const SystemModel system(t.setup);
        const std::vector<Valued> expected = by_enumeration(system);
        LevelPowers likely_w{};
        if (dice.chance(0.5)) likely_w.fill(dice.between(50.0, 500.0));
        PlanSearch search(system, likely_w);
        REQUIRE(search.possible());

        const bool equal_inputs = t.setup.controller.inputs.size() == 2;
        SearchRequest best;
        const SearchResult found = search.run(best);
        REQUIRE(found.finished);
        REQUIRE(found.plans.empty() == expected.empty());
        if (expected.empty()) continue;
        ++with_plans;
        REQUIRE(found.plans.front().european_w == Approx(expected.front().european_w).epsilon(1e-9));
        CHECK(found.bound_w <= expected.front().european_w * (1.0 + 1e-9));
        const Judgement j = judge(system, found.plans.front().plan);
        CHECK(j.harvest.european_w == Approx(found.plans.front().european_w).epsilon(1e-9));
        CHECK(j.verdict.holds());
        mixed_best += unlike_panels(found.plans.front().plan) > 0 ? 1 : 0;
        shared_binds += t.setup.controller.max_total_power_w.has_value() ? 1 : 0;

        if (!equal_inputs) {  // plans of equal inputs are listed once, enumerated twice
            SearchRequest several;
            several.keep = 5;
            const SearchResult five = search.run(several);
            REQUIRE(five.plans.size() == std::min<std::size_t>(5, expected.size()));
            for (std::size_t k = 0; k < five.plans.size(); ++k) {
                CHECK(five.plans[k].european_w == Approx(expected[k].european_w).epsilon(1e-9));
            }
        }
        for (const bool like : {false, true}) {
            for (const int most : {0, 1}) {
                SearchRequest simple;
                simple.most_joints = most;
                simple.like_strings_only = like;
                const auto at = std::find_if(expected.begin(), expected.end(), [&](const Valued& v) {
                    return v.joints <= most && (!like || v.unlike == 0);
                });
                const SearchResult s = search.run(simple);
                CAPTURE(like, most);
                REQUIRE(s.plans.empty() == (at == expected.end()));
                if (at == expected.end()) continue;
                CHECK(s.plans.front().european_w == Approx(at->european_w).epsilon(1e-9));
                CHECK(joints(s.plans.front().plan) <= most);
            }
        }
    }
    CHECK(with_plans >= 300 * 3 / 4);
    CHECK(mixed_best > 20);
    CHECK(shared_binds > 20);
}

TEST_CASE("search: no wiring passes its bound, least of all where the limits push it up the curve") {
    test::Dice dice(77);
    const std::vector<WeightedLevel> levels = european_levels();
    int checked = 0;
    for (int i = 0; i < 60; ++i) {
        Trial t = any_case(dice);
        // Cells much warmer than the air: in half the light the open-circuit voltage is higher than in full sun. And an
        // input that takes a fraction of what many strings give works near open circuit.
        for (PanelKind& kind : t.setup.kinds) kind.panel.nominal_temperature = Celsius{48.0};
        t.setup.site.mounting = Mounting::flat_on_ground;
        t.setup.controller.type = ControllerType::wide_range;
        t.setup.controller.battery.reset();
        t.input().tracking_max_v = t.input().max_voltage_v;
        t.input().bands = {{0.0, 200.0, dice.between(0.2, 3.0)}};
        t.input().max_power_w.reset();
        const SystemModel system(t.setup);
        Counts most;
        for (const PanelKind& kind : t.setup.kinds) most.push_back(kind.count);
        const PanelCounts counts(most);
        Patience patience({});
        InputTable table(system, 0, counts, levels, Accept::holds, patience);
        for (const Whole& w : all_wirings(most)) {
            std::vector<std::size_t> types;
            for (const SeriesString& s : w.wiring.strings) {
                for (std::size_t k = 0; k < table.types().size(); ++k) {
                    if (table.types()[k].string == s) types.push_back(k);
                }
            }
            if (w.wiring.empty() || types.size() != w.wiring.strings.size()) continue;
            std::vector<double> sum_w(table.row_size(), 0.0);
            for (const std::size_t k : types) {
                for (std::size_t j = 0; j < sum_w.size(); ++j) sum_w[j] += table.ceilings(k)[j];
            }
            const double got_w = weighted(system.level_powers(0, w.wiring)).european_w;
            CAPTURE(i, label(w.wiring, {"a", "b", "c"}));
            CHECK(got_w <= table.weigh_finished(sum_w, types));
            CHECK(got_w <= table.bound_w(counts.number(w.used)));
            const int strings = static_cast<int>(types.size());
            REQUIRE(table.know_strings(strings, patience));
            CHECK(got_w <= table.bound_w(counts.number(w.used), strings));
            checked += got_w > 0.0 ? 1 : 0;
        }
    }
    CHECK(checked > 300);
}

TEST_CASE("search: how many wirings there are, by hand") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 3;
    t.input().tracking_min_v = 1.0;
    t.input().start_voltage_v = 1.0;
    // Three equal panels: 3 | 2+1 | 1+1+1, 2 | 1+1, 1.
    CHECK(PlanSearch(SystemModel(t.setup)).count() == 6.0);
    // From 35 V up a string needs two panels (20 V each in the heat): 3, 2.
    t.input().start_voltage_v = 35.0;
    CHECK(PlanSearch(SystemModel(t.setup)).count() == 2.0);
    // On two inputs: 3 or 2 on either.
    t.add_input(t.points.front());
    CHECK(PlanSearch(SystemModel(t.setup)).count() == 4.0);
}

namespace {
/// Wirings of so many inputs with a and b panels left; the strings of the input at hand rise from `first` on.
double ways(int inputs, int a, int b, int first) {
    if (inputs == 0) return 1.0;
    double n = ways(inputs - 1, a, b, 1);
    for (int s = first; s < 16; ++s) {
        const int of_a = s % 4;
        const int of_b = s / 4;
        if (of_a <= a && of_b <= b) n += ways(inputs, a - of_a, b - of_b, s);
    }
    return n;
}
}  // namespace

TEST_CASE("search: how many wirings of two kinds there are on one to four inputs, each told one by one") {
    Trial t = roomy_trial();
    t.input().tracking_min_v = 1.0;
    t.input().start_voltage_v = 1.0;
    t.input().max_voltage_v = 1000.0;
    t.setup.kinds[0].count = 3;
    t.add_kind("other", rules::round_panel());
    t.setup.kinds[1].count = 2;
    for (int inputs = 1; inputs <= 4; ++inputs) {
        CAPTURE(inputs);
        CHECK(PlanSearch(SystemModel(t.setup)).count() == ways(inputs, 3, 2, 1) - 1.0);
        t.add_input(t.points.front());
    }
}

TEST_CASE("search: stopped while it learns the bounds of many panels, it ends at once, unfinished") {
    Trial t = roomy_trial();
    t.input().max_voltage_v = 1000.0;
    t.setup.kinds[0].count = 140;
    t.add_kind("other", rules::round_panel());
    t.setup.kinds[1].count = 140;
    t.add_input(t.points.front());
    t.add_input(t.points.front());
    t.panel(1).voc_v = 26.0;
    const SystemModel system(t.setup);
    std::size_t asked = 0;
    const auto no = [&asked] {
        ++asked;
        return false;
    };
    PlanSearch search(system, {}, no);
    CHECK(search.possible());
    CHECK(asked == 1);
    const SearchResult nothing = search.run({});
    CHECK_FALSE(nothing.finished);
    CHECK(nothing.plans.empty());
    CHECK(search.count() == 0.0);

    ArrangeRequest hasty;
    hasty.keep_going = [&](const SearchProgress&) { return no(); };
    const Arrangement a = arrange(system, hasty);
    CHECK_FALSE(a.searched.finished);
    REQUIRE(a.advised);
    CHECK(a.searched.bound_w >= a.plans.front().harvest.european_w);
    CHECK(std::isfinite(a.searched.bound_w));
}

TEST_CASE("search: stopped at once, it says what may still be out there") {
    Trial t = roomy_trial();
    t.setup.kinds[0].count = 12;
    const SystemModel system(t.setup);
    PlanSearch search(system);
    const double best_w = search.run({}).plans.front().european_w;
    SearchRequest hasty;
    std::size_t asked = 0;
    hasty.keep_going = [&asked](const SearchProgress& p) {
        ++asked;
        CHECK(p.bound_w >= p.best_w);
        return false;
    };
    hasty.keep = 1000;  // so that there is something to do
    const SearchResult stopped = search.run(hasty);
    CHECK(asked == 1);
    CHECK_FALSE(stopped.finished);
    CHECK(stopped.bound_w >= best_w);
}
