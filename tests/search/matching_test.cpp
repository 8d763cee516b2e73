// Pairs of panels and controllers: each answer is that of `arrange`, bounds hold, and rankings keep to their laws.
#include "../support/setups.hpp"

#include <plait/model/usual_panels.hpp>
#include <plait/search/match_why.hpp>
#include <plait/search/matching.hpp>

#include <catch2/catch.hpp>

#include <set>

using namespace plait;
using namespace plait::search;
using plait::test::Dice;

namespace {

std::vector<CataloguePanel> random_panels(Dice& dice, std::size_t n) {
    std::vector<CataloguePanel> all;
    for (std::size_t i = 0; i < n; ++i) {
        const std::string name = "panel-" + std::to_string(i);
        all.push_back({"p/" + name + ".toml", name, name, test::random_panel(dice), {}, {}, dice.between(40.0, 200.0)});
    }
    return all;
}

std::vector<CatalogueController> random_controllers(Dice& dice, std::size_t n, const Panel& like) {
    std::vector<CatalogueController> all;
    for (std::size_t i = 0; i < n; ++i) {
        const std::string name = "box-" + std::to_string(i);
        all.push_back({"c/" + name + ".toml", name, test::random_controller(dice, like), "EUR", {}, {}});
        all.back().controller.price = dice.between(100.0, 900.0);
    }
    return all;
}

CatalogueSite mild_site() {
    CatalogueSite site;
    site.site.coldest_air = Celsius{-12.0};
    site.site.hottest_air = Celsius{35.0};
    site.site.mounting = Mounting::open_rack;
    return site;
}

MatchStudy random_study(std::uint64_t seed, const MatchRequest& request, std::size_t panels = 5, std::size_t controllers = 4) {
    Dice dice(seed);
    std::vector<CataloguePanel> some = random_panels(dice, panels);
    std::vector<CatalogueController> boxes = random_controllers(dice, controllers, some.front().panel);
    return {std::move(some), std::move(boxes), mild_site(), "EUR", {}, request};
}

/// What `arrange` itself says of the set-up, with curves of its own.
void check_is_arranged(const MatchStudy& study, const PairAnswer& a) {
    const Setup setup = study.setup(a.pair, a.panels);
    const study::SystemModel system(setup);
    const Arrangement found = arrange(system);
    CAPTURE(a.pair, a.panels);
    REQUIRE(found.advised.has_value() == a.usable);
    if (!a.usable) return;
    const RankedPlan& p = found.plans[*found.advised];
    CHECK(written_out(found, p, setup.controller.inputs.size()) == a.plan);
    CHECK(p.verdict == a.verdict);
    CHECK(p.harvest.european_w == a.harvest_w);
    CHECK(p.cold_margin_v == a.cold_margin_v);
    CHECK(p.panels_used == a.panels_used);
}

const CataloguePanel& usual(const std::string& id) {
    const auto& all = usual_panels();
    const auto at = std::find_if(all.begin(), all.end(), [&](const UsualPanel& u) { return u.panel.id == id; });
    REQUIRE(at != all.end());
    return at->panel;
}

/// 14 to 52 V, 11 A, 350 W: an input as small stations have it.
CatalogueController small_box() {
    CatalogueController box{"small.toml", "small", {}, "", {}, {}};
    Input input;
    input.name = "PV";
    input.max_voltage_v = 52.0;
    input.tracking_min_v = 14.0;
    input.tracking_max_v = 52.0;
    input.bands = {{14.0, 52.0, 11.0}};
    input.max_power_w = 350.0;
    input.over_current = OverCurrent::only_clips;
    box.controller.inputs.push_back(input);
    return box;
}

int rank_of(const study::Answers& v) { return v.holds() ? 0 : v.usable() ? 1 : 2; }

}  // namespace

TEST_CASE("match: every pair of random catalogues has the answer of arrange on the same set-up") {
    const MatchBy by = GENERATE(MatchBy::harvest, MatchBy::cost, MatchBy::fill);
    const bool on_hand = GENERATE(false, true);
    MatchRequest request;
    request.by = by;
    request.panels = 6;
    request.on_hand = on_hand;
    std::size_t usable = 0;
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        const MatchStudy study = random_study(100 * seed, request);
        for (std::size_t pair = 0; pair < study.pairs(); ++pair) {
            const PairAnswer a = study.solve(pair);
            check_is_arranged(study, a);
            usable += a.usable ? 1U : 0U;
            if (on_hand) CHECK(a.panels == request.panels);
            if (study.no_string(pair)) CHECK_FALSE(a.usable);
            // What cannot be used with few panels can with none of the numbers up to all.
            if (!a.usable) check_is_arranged(study, study.solve_with(pair, request.panels));
        }
    }
    CHECK(usable > 10);
}

TEST_CASE("match: no pair comes to more than its bound") {
    const MatchBy by = GENERATE(MatchBy::harvest, MatchBy::cost, MatchBy::fill);
    MatchRequest request;
    request.by = by;
    request.panels = 5;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        const MatchStudy study = random_study(7000 + seed, request);
        for (std::size_t pair = 0; pair < study.pairs(); ++pair) {
            const PairAnswer a = study.solve(pair);
            CAPTURE(seed, pair);
            if (!a.usable) continue;
            CHECK(a.most_w <= a.bound.harvest_w);
            if (a.value(by)) CHECK(*a.value(by) <= a.bound.value);
        }
    }
}

TEST_CASE("match: what bounds settle changes no ranking, and neither does the order of the work") {
    const MatchBy by = GENERATE(MatchBy::harvest, MatchBy::cost, MatchBy::fill);
    MatchRequest request;
    request.by = by;
    request.panels = 3;
    request.top = 3;
    std::size_t outranked = 0;
    for (std::uint64_t seed = 1; seed <= 2; ++seed) {
        // More pairs than are solved to begin with.
        const MatchStudy bounded = random_study(40 + seed, request, 16, 10);
        MatchRequest all = request;
        all.every = true;
        const MatchOutcome every = match(random_study(40 + seed, all, 16, 10));
        const MatchOutcome quick = match(bounded);
        MatchHooks backwards;
        backwards.in_parallel = [](std::size_t n, const std::function<void(std::size_t)>& job) {
            for (std::size_t i = n; i-- > 0;) job(i);
        };
        std::vector<std::size_t> order;
        backwards.take = [&](const PairAnswer& a) { order.push_back(a.pair); };
        const MatchOutcome other = match(bounded, backwards);
        REQUIRE(every.best.size() == quick.best.size());
        REQUIRE(other.best.size() == quick.best.size());
        for (std::size_t i = 0; i < every.best.size(); ++i) {
            CHECK(every.best[i].pair == quick.best[i].pair);
            CHECK(every.best[i].plan == quick.best[i].plan);
            CHECK(other.best[i].pair == quick.best[i].pair);
        }
        CHECK(other.tally.outranked == quick.tally.outranked);
        CHECK(std::is_sorted(order.begin(), order.end()));
        CHECK(order.size() == bounded.pairs());
        CHECK(quick.done == bounded.pairs());
        CHECK(quick.tally.solved + quick.tally.no_string + quick.tally.outranked == bounded.pairs());
        outranked += quick.tally.outranked;
        for (std::size_t i = 1; i < every.best.size(); ++i) CHECK_FALSE(ranks_before(every.best[i], every.best[i - 1], by));
        for (const PairAnswer& a : every.best) CHECK(a.verdict.usable());
    }
    if (by == MatchBy::harvest) CHECK(outranked > 0);
}

TEST_CASE("match: stopped, it keeps the pairs done so far, in the order of the files") {
    MatchRequest request;
    request.panels = 2;
    request.every = true;
    const MatchStudy study = random_study(5, request);
    std::size_t asked = 0;
    std::vector<std::size_t> taken;
    MatchHooks hooks;
    hooks.go_on = [&] { return ++asked <= 30; };
    hooks.take = [&](const PairAnswer& a) { taken.push_back(a.pair); };
    const MatchOutcome outcome = match(study, hooks);
    CHECK_FALSE(outcome.finished);
    CHECK(outcome.done == taken.size());
    CHECK(taken.size() < study.pairs());
    CHECK_FALSE(taken.empty());
    for (std::size_t i = 0; i < taken.size(); ++i) CHECK(taken[i] == i);
}

TEST_CASE("match: a wider window, a higher limit or one panel more never lowers the best") {
    MatchRequest request;
    request.panels = 4;
    std::size_t compared = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        Dice dice(900 + seed);
        std::vector<CataloguePanel> panels = random_panels(dice, 2);
        std::vector<CatalogueController> boxes = random_controllers(dice, 2, panels.front().panel);
        std::vector<CatalogueController> wider = boxes;
        for (CatalogueController& c : wider) {
            for (Input& input : c.controller.inputs) {
                if (input.max_voltage_v) *input.max_voltage_v *= 1.2;
                if (input.tracking_max_v) *input.tracking_max_v *= 1.2;
                if (input.tracking_min_v) *input.tracking_min_v *= 0.8;
                if (!input.bands.empty()) input.bands.back().to_v *= 1.2;
                for (CurrentBand& band : input.bands) band.limit_a *= 1.1;
                if (input.max_power_w) *input.max_power_w *= 1.1;
            }
        }
        const MatchStudy narrow(panels, boxes, mild_site(), "", {}, request);
        const MatchStudy wide(panels, wider, mild_site(), "", {}, request);
        const auto no_worse = [&](const PairAnswer& more, const PairAnswer& less) {
            CAPTURE(seed, more.pair);
            if (!less.usable) return;
            REQUIRE(more.usable);
            // What may exceed can take more than what holds.
            REQUIRE(rank_of(more.verdict) <= rank_of(less.verdict));
            if (rank_of(more.verdict) == rank_of(less.verdict)) CHECK(more.most_w >= less.most_w * (1.0 - 1e-9));
            ++compared;
        };
        for (std::size_t pair = 0; pair < narrow.pairs(); ++pair) {
            const PairAnswer now = narrow.solve_with(pair, 4);
            no_worse(wide.solve_with(pair, 4), now);
            no_worse(narrow.solve_with(pair, 5), now);
            CHECK(narrow.solve_with(pair, 5).bound.harvest_w >= now.bound.harvest_w);
        }
    }
    CHECK(compared > 20);
}

TEST_CASE("match: a cheaper equal panel never ranks below") {
    const MatchBy by = GENERATE(MatchBy::harvest, MatchBy::cost, MatchBy::fill);
    MatchRequest request;
    request.by = by;
    std::size_t usable = 0;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        Dice dice(60 + seed);
        std::vector<CataloguePanel> panels = random_panels(dice, 1);
        panels.push_back(panels.front());
        panels.back().file = "p/cheap.toml";
        panels.back().name = panels.back().id = "cheap";
        *panels.back().price *= 0.9;
        const MatchStudy study(panels, random_controllers(dice, 2, panels.front().panel), mild_site(), "EUR", {}, request);
        for (std::size_t c = 0; c < 2; ++c) {
            const PairAnswer dear = study.solve(c);
            const PairAnswer cheap = study.solve(2 + c);
            CHECK(dear.usable == cheap.usable);
            if (!dear.usable) continue;
            CHECK(ranks_before(cheap, dear, by));
            ++usable;
        }
    }
    CHECK(usable > 4);
}

TEST_CASE("match: panels on hand stay, candidates join, and unlike ones are judged") {
    Dice dice(77);
    MatchRequest request;
    request.panels = 3;
    std::vector<CataloguePanel> panels{usual("large-36"), usual("folding-100"), usual("half-cut-120")};
    const std::vector<std::pair<CataloguePanel, int>> kept{{usual("large-36"), 2}};
    const MatchStudy study(panels, {small_box()}, mild_site(), "", kept, request);
    for (std::size_t pair = 0; pair < study.pairs(); ++pair) {
        const PairAnswer a = study.solve(pair);
        check_is_arranged(study, a);
        REQUIRE(a.usable);
        REQUIRE(a.gained_w.has_value());
        // The panels on hand alone are one of the wirings, and the simplest within 1 % is advised.
        CHECK(*a.gained_w >= -0.011 * a.harvest_w);
        CHECK(a.candidates_used <= a.panels);
        CHECK_FALSE(study.no_string(pair));
    }
    // More of the same are of the same kind.
    CHECK(study.setup(0, 3).kinds.size() == 1);
    CHECK(study.setup(0, 3).kinds.front().count == 5);
    CHECK(study.setup(1, 3).kinds.size() == 2);
    // Two 36-cell panels of 200 W on 350 W leave something to gain.
    CHECK(*study.solve(0).gained_w > 5.0);
}

TEST_CASE("match: hand rules beside the exact answer") {
    MatchRequest request;
    request.panels = 2;
    const MatchStudy two({usual("small-36"), usual("large-36")}, {small_box()}, mild_site(), "", {}, request);
    // Two 36-cell panels in series on an input for 14 to 52 V. *common practice, no source*
    const PairAnswer small = two.solve(0);
    REQUIRE(small.usable);
    CHECK(as_equal_strings(small.plan.front())->in_series == 2);
    CHECK(as_equal_strings(small.plan.front())->in_parallel == 1);
    // The rule is from panels of some 22 V. Of 24.4 V, where 52 V is the absolute maximum and not the top of tracking, it leads past the
    // limit at −12 °C: 2 × 24.4 × (1 + 0.0028 × 37) = 53.86 V, by hand. The exact answer is side by side.
    const PairAnswer large_cells = two.solve(1);
    REQUIRE(large_cells.usable);
    CHECK(as_equal_strings(large_cells.plan.front())->in_series == 1);
    // Volts first, then amps. *common practice, no source*
    request.panels = 4;
    request.on_hand = true;
    const PairAnswer four = MatchStudy({usual("small-36")}, {small_box()}, mild_site(), "", {}, request).solve(0);
    CHECK(as_equal_strings(four.plan.front())->in_series == 2);
    CHECK(as_equal_strings(four.plan.front())->in_parallel == 2);
    // A 72-cell panel of 49.8 V passes 52 V in the cold: 49.8 × (1 + 0.0028 × 37) = 54.96 V, by hand.
    const MatchStudy large({usual("half-cut-144")}, {small_box()}, mild_site(), "", {}, request);
    CHECK(large.no_string(0));
    CHECK_FALSE(large.solve(0).usable);
}

TEST_CASE("match: the best number of panels for the money and for the size of the input") {
    CataloguePanel panel = usual("small-36");
    panel.price = 60.0;
    CatalogueController box = small_box();
    box.controller.price = 300.0;
    for (const MatchBy by : {MatchBy::cost, MatchBy::fill}) {
        MatchRequest request;
        request.by = by;
        request.panels = 8;
        const MatchStudy study({panel}, {box}, mild_site(), "EUR", {}, request);
        const PairAnswer best = study.solve(0);
        for (int n = 1; n <= 8; ++n) {
            const PairAnswer a = study.solve_with(0, n);
            if (a.usable && a.verdict.holds() && a.candidates_used == n) CHECK(*a.value(by) <= *best.value(by));
        }
        CHECK(best.price == Approx(300.0 + 60.0 * best.candidates_used));
    }
    // By harvest the fewest panels within 1 % of what eight take.
    MatchRequest request;
    request.panels = 8;
    const MatchStudy study({panel}, {box}, mild_site(), "EUR", {}, request);
    const PairAnswer a = study.solve(0);
    CHECK(a.harvest_w >= 0.99 * a.most_w);
    if (a.panels > 1) CHECK(study.solve_with(0, a.panels - 1).harvest_w < 0.99 * a.most_w);
}

TEST_CASE("match: why a pair is not the first, and what one change would mend") {
    MatchRequest request;
    request.panels = 1;
    CatalogueController high = small_box();
    high.controller.inputs.front().tracking_min_v = 25.0;
    const MatchStudy study({usual("small-36"), usual("half-cut-120")}, {high}, mild_site(), "", {}, request);
    const MatchOutcome outcome = match(study);
    REQUIRE(outcome.best.size() == 1);
    // One 36-cell panel works at 18 V, below 25 V: two in series do.
    const PairWhy small = why_pair(study, outcome, 0);
    CHECK_FALSE(small.pair.answer.usable);
    CHECK_FALSE(small.place.has_value());
    REQUIRE(small.one_more.has_value());
    CHECK(as_equal_strings(small.one_more->plan.front())->in_series == 2);
    REQUIRE(small.with_class.has_value());
    CHECK_FALSE(small.pair.plan.empty());
    const PairWhy best = why_pair(study, outcome, 1);
    CHECK(best.place == std::size_t{0});
    CHECK_FALSE(best.one_more.has_value());
}
