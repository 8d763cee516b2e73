// What an input wants, against hand sums and against the rules asked the usual way.
#include "trial.hpp"

#include <plait/model/technology_ranges.hpp>
#include <plait/model/usual_panels.hpp>
#include <plait/study/input_wants.hpp>

#include <cmath>

using namespace plait;
using namespace plait::study;

namespace {

/// 12 to 60 V, two bands, 400 W.
CatalogueController box() {
    CatalogueController c{"box.toml", "box", {}, "", {}, {}};
    Input input;
    input.name = "PV";
    input.max_voltage_v = 60.0;
    input.tracking_min_v = 12.0;
    input.tracking_max_v = 58.0;
    input.start_voltage_v = 15.0;
    input.bands = {{12.0, 24.0, 8.0}, {24.0, 58.0, 12.0}};
    input.max_power_w = 400.0;
    c.controller.inputs.push_back(input);
    return c;
}

CatalogueSite cold_site() {
    CatalogueSite site;
    site.site.coldest_air = Celsius{-20.0};
    site.site.hottest_air = Celsius{40.0};
    site.site.mounting = Mounting::open_rack;
    return site;
}

const ColdRoom& room(const InputWants& w, Technology t) {
    const auto at = std::find_if(w.cold.begin(), w.cold.end(), [&](const ColdRoom& r) { return r.technology == t; });
    REQUIRE(at != w.cold.end());
    return *at;
}

/// A string of one panel of that Voc and Vmp, judged in full on the box.
Judgement judged_with(const CatalogueController& controller, const CatalogueSite& site, double voc_v, double vmp_v, double coefficient_per_k) {
    Setup setup;
    Panel panel = usual_panels()[3].panel.panel;
    REQUIRE(panel.cells_in_series == 60);
    panel.voc_v = voc_v;
    panel.vmp_v = vmp_v;
    panel.voc_coefficient_per_k = coefficient_per_k;
    setup.kinds.push_back({"one", panel, 1, std::nullopt, std::nullopt});
    setup.controller = controller.controller;
    setup.site = site.site;
    return judge(SystemModel(setup), {InputWiring{{SeriesString{{PanelPlace{0, {}}}}}}});
}

}  // namespace

TEST_CASE("wants: the cold room is the maximum over the cold factor and the label's tolerance, by hand") {
    const InputWants w = input_wants(box(), 0, cold_site());
    // 45 K below 25 °C; usual PERC coefficients −0.33 to −0.24 %/K; 3 % of tolerance.
    const Limits usual = ranges_of(Technology::perc).voc_coefficient.usual;
    CHECK(room(w, Technology::perc).voc_steep_v == Approx(60.0 / (1.0 + 45.0 * -usual.low) / 1.03).epsilon(1e-12));
    CHECK(room(w, Technology::perc).voc_shallow_v == Approx(60.0 / (1.0 + 45.0 * -usual.high) / 1.03).epsilon(1e-12));
    // No coefficient printed: 1.18 at −16 to −20 °C, NEC table 690.7(A) [from memory].
    CHECK(room(w, Technology::perc).voc_unstated_v == Approx(60.0 / 1.18 / 1.03).epsilon(1e-12));
    CHECK(w.cold.size() == wanted_technologies().size());
    for (const ColdRoom& r : w.cold) CHECK(r.voc_steep_v <= r.voc_shallow_v);
}

TEST_CASE("wants: a string just inside the room is within by the full judgement, one just outside is not") {
    const InputWants w = input_wants(box(), 0, cold_site());
    for (const Technology t : {Technology::perc, Technology::topcon}) {
        const ColdRoom& r = room(w, t);
        const auto at_worst = [&](double voc_v) {
            const Judgement j = judged_with(box(), cold_site(), voc_v, 0.83 * voc_v, r.steep_per_k);
            return deciding(j, "cold-voltage").finding.exceeds_at_worst();
        };
        CHECK_FALSE(at_worst(r.voc_steep_v * (1.0 - 1e-9)));
        CHECK(at_worst(r.voc_steep_v * (1.0 + 1e-9)));
    }
}

TEST_CASE("wants: what any silicon may have holds for every kind of it, coefficient printed or not") {
    // It is the figure of the first line: no panel that it promises anything about may exceed.
    for (const double coldest : {5.0, -15.0, -20.0, -38.0}) {
        CatalogueSite site = cold_site();
        site.site.coldest_air = Celsius{coldest};
        const InputWants w = input_wants(box(), 0, site);
        REQUIRE(w.silicon_voc_v());
        int kinds = 0;
        for (const ColdRoom& r : w.cold) {
            if (!is_crystalline_silicon(r.technology)) continue;
            ++kinds;
            CHECK(*w.silicon_voc_v() <= r.voc_steep_v);
            CHECK(*w.silicon_voc_v() <= r.voc_shallow_v);
            CHECK(*w.silicon_voc_v() <= r.voc_unstated_v);
            const double voc_v = *w.silicon_voc_v() * (1.0 - 1e-9);
            const Judgement j = judged_with(box(), site, voc_v, 0.83 * voc_v, r.steep_per_k);
            CHECK_FALSE(deciding(j, "cold-voltage").finding.exceeds_at_worst());
        }
        CHECK(kinds > 4);
    }
}

TEST_CASE("wants: colder leaves less room, hotter asks for more volts") {
    double before_v = 1e9;
    for (const double coldest : {10.0, 0.0, -10.0, -25.0, -40.0}) {
        CatalogueSite site = cold_site();
        site.site.coldest_air = Celsius{coldest};
        const double now_v = room(input_wants(box(), 0, site), Technology::perc).voc_steep_v;
        CHECK(now_v < before_v);
        before_v = now_v;
    }
    double from_v = 0.0;
    double start_v = 0.0;
    for (const double hottest : {20.0, 30.0, 45.0}) {
        CatalogueSite site = cold_site();
        site.site.hottest_air = Celsius{hottest};
        const InputWants w = input_wants(box(), 0, site);
        CHECK(w.bands[1].from_v > from_v);
        CHECK(w.start_voc_v > start_v);
        from_v = w.bands[1].from_v;
        start_v = w.start_voc_v;
    }
}

TEST_CASE("wants: the upper band is kept by the volts it names") {
    const InputWants w = input_wants(box(), 0, cold_site());
    REQUIRE(w.bands.size() == 2);
    REQUIRE(w.best_band == std::size_t{1});
    // The upper band begins at 24 V. A box that tracks from there on tells whether the rule agrees.
    CatalogueController from_band = box();
    from_band.controller.inputs.front().tracking_min_v = 24.0;
    const auto outcome = [&](double vmp_v) {
        return deciding(judged_with(from_band, cold_site(), vmp_v / 0.83, vmp_v, -0.0028), "tracking-bottom").finding.outcome;
    };
    CHECK(outcome(w.bands[1].from_v * (1.0 + 1e-9)) == Outcome::within);
    CHECK(outcome(w.bands[1].from_v * (1.0 - 1e-9)) == Outcome::falls_short);
    // The lowest starting voltage is that of the rule.
    const auto starts = [&](double voc_v) {
        return deciding(judged_with(box(), cold_site(), voc_v, 0.83 * voc_v, -0.0028), "start-voltage").finding.outcome == Outcome::within;
    };
    CHECK(starts(w.start_voc_v * (1.0 + 1e-6)));
    CHECK_FALSE(starts(w.start_voc_v * (1.0 - 1e-6)));
}

TEST_CASE("wants: nobody knows the room of an input without a maximum, nor the ceiling of one without limits") {
    CatalogueController c = box();
    c.controller.inputs.front().max_voltage_v.reset();
    c.controller.inputs.front().max_power_w.reset();
    c.controller.inputs.front().bands.clear();
    const InputWants w = input_wants(c, 0, cold_site());
    CHECK(w.cold.empty());
    CHECK(w.year.empty());
    CHECK_FALSE(w.half_w.has_value());
    for (const LightCeiling& ceiling : w.ceilings) {
        CHECK_FALSE(ceiling.array_w.has_value());
        CHECK_FALSE(ceiling.array_a.has_value());
    }
    REQUIRE(w.bands.size() == 1);
    CHECK(std::isinf(w.bands.front().band.limit_a));
}

TEST_CASE("wants: beyond the ceilings more brings nothing, and the year's steps add up") {
    const InputWants w = input_wants(box(), 0, cold_site());
    REQUIRE(w.ceilings.size() == 2);
    // The dimmer light wants the larger array. 800 W/m² gives a little over 0.8, the cells being cooler.
    CHECK(*w.ceilings[1].array_w > 1.2 * *w.ceilings[0].array_w);
    CHECK(*w.ceilings[1].array_w < 1.25 * *w.ceilings[0].array_w);
    CHECK(*w.ceilings[1].array_a > 1.2 * *w.ceilings[0].array_a);
    CHECK(*w.ceilings[0].array_w > 400.0);

    // By the European weights: what the typical panel gives at each level, worked out here once more.
    Setup setup;
    setup.kinds.push_back({"typical", usual_panels()[3].panel.panel, 1, std::nullopt, std::nullopt});
    setup.controller = box().controller;
    setup.site = cold_site().site;
    const SystemModel system(setup);
    const LevelPowers free_w = system.free_powers(InputWiring{{SeriesString{{PanelPlace{0, {}}}}}});
    const double rated_w = setup.kinds.front().panel.pmax_w;
    for (const YearStep& y : w.year) {
        LevelPowers array_w{};
        LevelPowers taken_w{};
        for (std::size_t l = 0; l < free_w.size(); ++l) {
            array_w[l] = free_w[l] * y.array_w / rated_w;
            taken_w[l] = std::min(array_w[l], 400.0);
        }
        CHECK(y.taken_ratio == Approx(weighted(taken_w).european_w / weighted(array_w).european_w).epsilon(1e-12));
    }
    for (std::size_t i = 1; i < w.year.size(); ++i) {
        CHECK(w.year[i].taken_ratio <= w.year[i - 1].taken_ratio);
        CHECK(w.year[i].next_ratio <= w.year[i - 1].next_ratio);
        // What the next watt brings is never more than what all of them bring on the whole.
        CHECK(w.year[i].next_ratio <= w.year[i].taken_ratio + 1e-12);
    }
    CHECK(*w.half_w < *w.tenth_w);
    CHECK(*w.half_w >= *w.ceilings[0].array_w);
}

TEST_CASE("wants: with a place the year is that of its light") {
    CatalogueSite site = cold_site();
    site.location.emplace();
    site.location->latitude_deg = 51.0;
    site.location->longitude_deg = 10.0;
    const InputWants w = input_wants(box(), 0, site);
    CHECK(w.year_is_local);
    REQUIRE_FALSE(w.year.empty());
    for (std::size_t i = 1; i < w.year.size(); ++i) {
        CHECK(*w.year[i].delivered_wh >= *w.year[i - 1].delivered_wh);
        CHECK(w.year[i].taken_ratio <= w.year[i - 1].taken_ratio);
    }
    // Never more than the limit around the clock.
    CHECK(*w.year.back().delivered_wh < 400.0 * 8760.0);
}
