#include "trial.hpp"

#include <plait/study/cautions.hpp>

#include <algorithm>
#include <functional>
#include <map>
#include <set>

using namespace plait;
using namespace plait::study;
using Catch::Matchers::Contains;

namespace {

std::vector<Caution> cautions(const Trial& t) { 
    const std::vector<physics::FittedPanel> curves = rules::curves_of(t.setup);
    const SystemModel system(t.setup);
    std::vector<HotSpot> spots;
    for (std::size_t i = 0; i < t.plan.size(); ++i) {
        if (t.plan[i].empty()) continue;
        for (const HotSpot& s : hot_spots(system, i, t.plan[i])) spots.push_back(s);
    }
    return cautions_for({t.setup, curves}, t.plan, spots);
}

const Caution* find(const std::vector<Caution>& list, std::string_view id) {
    const auto at = std::find_if(list.begin(), list.end(), [&](const Caution& c) { return c.id == id; });
    return at == list.end() ? nullptr : &*at;
}
bool has(const std::vector<Caution>& list, std::string_view id) { return find(list, id) != nullptr; }

Cable string_cable(double length_m) {
    Cable c;
    c.length_m = length_m;
    c.size = {4.0, std::nullopt};
    return c;
}

using Change = std::function<void(Trial&)>;
struct Pair {
    Change with;                    ///< the caution appears
    std::optional<Change> without;  ///< … and here it does not; empty: it belongs to every plan
};

void nothing(Trial&) {}
Change wired(int in_series, int in_parallel) {
    return [=](Trial& t) { t.wire(in_series, in_parallel); };
}
Change panel_voc(double voc_v) {
    return [=](Trial& t) { t.panel().voc_v = voc_v; };
}
Change mounted(Mounting m) {
    return [=](Trial& t) { t.site().mounting = m; };
}
Change based_on(TemperatureBasis basis) {
    return [=](Trial& t) { t.site().coldest_basis = basis; };
}
void on_the_roof_by_nec(Trial& t) {
    t.site().mounting = Mounting::close_to_roof;
    t.site().code = Code::nec;
}
void with_battery(Trial& t) { t.controller().battery = Battery{10.5, 12.5, 14.6, std::nullopt}; }

/// A leaf over two cells of the first panel, which get this share of the light.
void leaf_on(Trial& t, double light_ratio) {
    t.wire(2, 1);
    const auto groups = static_cast<std::size_t>(std::max(1, t.panel().bypass_diodes));
    t.plan[0].strings[0].panels[0].groups.assign(groups, GroupState{});
    t.plan[0].strings[0].panels[0].groups[0] = {1.0, 0.0, 2, light_ratio};
}

// One of the round panels is 30 V in the cold, without tolerances.
const std::map<std::string_view, Pair>& pairs() {
    static const std::map<std::string_view, Pair> all{
        {"hazardous-live", {wired(5, 1), wired(4, 1)}},
        {"shock-and-arc", {wired(3, 1), wired(2, 1)}},
        {"shock", {panel_voc(60.0), panel_voc(50.0)}},         // 72 V, 60 V
        {"no-wet-hands", {panel_voc(30.0), panel_voc(29.0)}},  // 36 V, 34.8 V
        {"low-voltage", {nothing, wired(2, 1)}},
        {"live-when-lit", {nothing, {}}},
        {"falls", {mounted(Mounting::close_to_roof), mounted(Mounting::flat_on_ground)}},
        {"earthing", {mounted(Mounting::open_rack), mounted(Mounting::propped_up)}},
        {"rapid-shutdown",
         {on_the_roof_by_nec,
          [](Trial& t) {
              on_the_roof_by_nec(t);
              t.site().code = Code::iec;
          }}},
        {"building-ceiling", {wired(21, 1), wired(20, 1)}},  // 630 V, 600 V
        {"battery-short", {with_battery, nothing}},
        {"never-under-load", {nothing, {}}},
        {"fuse-each-string", {wired(1, 3), wired(1, 2)}},
        {"same-connectors", {wired(2, 1), wired(1, 1)}},
        {"lithium-cold", {nothing, [](Trial& t) { t.site().coldest_air = Celsius{0.0}; }}},
        {"hot-spot",
         {[](Trial& t) { leaf_on(t, 0.2); }, [](Trial& t) { leaf_on(t, 1.0); }}},
        {"warm-plugs", {nothing, {}}},
        {"measure-first", {nothing, {}}},
        {"equal-strings", {wired(1, 2), wired(2, 1)}},
        {"amorphous-new",
         {[](Trial& t) { t.panel().technology = Technology::amorphous_tandem; },
          [](Trial& t) { t.panel().technology = Technology::cigs; }}},
        {"mean-not-record", {based_on(TemperatureBasis::mean_extreme), based_on(TemperatureBasis::record)}},
        {"forecast-only", {based_on(TemperatureBasis::forecast), based_on(TemperatureBasis::record)}},
        {"battery-first", {with_battery, nothing}},
        {"surge",
         {mounted(Mounting::close_to_roof),
          [](Trial& t) {
              t.site().mounting = Mounting::close_to_roof;
              t.setup.cables = {string_cable(4.0)};
          }}},
        {"insulation-test", {wired(5, 1), wired(4, 1)}},
        {"defer", {nothing, {}}},
    };
    return all;
}

}  // namespace

TEST_CASE("every caution appears where it should and not where it should not") {
    CHECK(pairs().size() == all_cautions().size());
    for (const CautionRecord& record : all_cautions()) {
        CAPTURE(record.id);
        const auto pair = pairs().find(record.id);
        REQUIRE(pair != pairs().end());
        Trial with;
        pair->second.with(with);
        CHECK(has(cautions(with), record.id));
        if (!pair->second.without) continue;
        Trial without;
        (*pair->second.without)(without);
        CHECK_FALSE(has(cautions(without), record.id));
    }
}

TEST_CASE("the list is gravest first, and every caution has a short text and a source") {
    Harm before = Harm::life;
    std::set<std::string_view> ids;
    for (const CautionRecord& record : all_cautions()) {
        CAPTURE(record.id);
        CHECK(record.harm >= before);
        before = record.harm;
        CHECK(ids.insert(record.id).second);
        CHECK_FALSE(record.source.empty());
        Trial t;
        pairs().at(record.id).with(t);
        const std::string text = find(cautions(t), record.id)->text;
        CHECK(text.size() <= 230);
        CHECK(text.back() == '.');
        // A caution forbids; what is permitted is for the code and the maker to say.
        CHECK_THAT(text, !Contains(" may "));
    }
    CHECK(all_cautions().back().id == "defer");
}

// 60 V DC dry, 30 to 35 V wet, 120 V extra-low voltage: IEC 61140 and IEC 60364-4-41; 80 V: NEC 690.11 [from memory].
TEST_CASE("the first caution is scaled to the cold voltage, rounded up") {
    Trial t;
    const auto first = [&](int in_series) { return cautions(t.wire(in_series, 1)).front(); };
    CHECK(first(1).id == "low-voltage");   // 30 V
    CHECK(first(2).id == "no-wet-hands");  // 60 V is not above 60 V
    CHECK(first(3).id == "shock-and-arc");
    CHECK(first(4).id == "shock-and-arc");  // 120 V is not above 120 V
    CHECK(first(5).id == "hazardous-live");
    CHECK_THAT(first(5).text, Contains("150 V DC: can kill"));
    t.panel().voc_v = 25.2;  // 30.24 V a panel in the cold
    CHECK(first(2).id == "shock");
    CHECK_THAT(first(2).text, Contains("61 V"));
    CHECK(first(4).id == "hazardous-live");
}

TEST_CASE("exactly one voltage band applies to any voltage, and it comes first") {
    Trial t;
    for (double v = 0.0; v < 700.0; v += 0.37) {
        CAPTURE(v);
        const CautionScene scene{t.setup, t.plan, v};
        std::vector<std::string_view> bands;
        for (const CautionRecord& record : all_cautions().first(5)) {
            if (record.applies(scene)) bands.push_back(record.id);
        }
        REQUIRE(bands.size() == 1);
        CHECK(voltage_caution(v, t.setup).id == bands.front());
    }
}

TEST_CASE("the voltage is that at the top of the Voc tolerance, as fuses and disconnect are bought for") {
    Trial t = roomy_trial();
    t.panel().voc_tolerance_ratio = 0.04;  // two in series: 60 V, up to 62.4 V
    t.wire(2, 1);
    CHECK(cautions(t).front().id == "shock");
    const std::vector<physics::FittedPanel> curves = rules::curves_of(t.setup);
    const double highest_v = highest_voltage_v({t.setup, curves}, t.plan);
    CHECK(highest_v == exactly(62.4));
    CHECK(highest_v == exactly(judged(t).inputs[0].wires.stand_v));
}

TEST_CASE("a fuse is no caution any more where every string has one, of its own or of all") {
    Trial t;
    t.wire(1, 3);
    CHECK(has(cautions(t), "fuse-each-string"));
    t.plan[0].strings[0].fuse_a = 15.0;
    CHECK(has(cautions(t), "fuse-each-string"));  // two are without
    t.plan[0].strings[1].fuse_a = t.plan[0].strings[2].fuse_a = 15.0;
    CHECK_FALSE(has(cautions(t), "fuse-each-string"));
    t.wire(1, 3);
    t.setup.fittings.string_fuse_a = 15.0;
    CHECK_FALSE(has(cautions(t), "fuse-each-string"));
}

TEST_CASE("the highest of the inputs counts, and an unused one does not") {
    Trial t;
    t.add_input(t.points.front());
    t.wire(1, 1, 0).wire(5, 1, 1);
    CHECK(cautions(t).front().id == "hazardous-live");
    t.plan[1] = {};
    CHECK(cautions(t).front().id == "low-voltage");
}

TEST_CASE("a mounting that nobody stated may be on a roof") {
    Trial t;
    t.site().mounting = Mounting::flat_on_ground;
    CHECK_FALSE(has(cautions(t), "falls"));
    t.setup.assumptions.push_back(
        {Quantity::site_mounting, std::nullopt, std::nullopt, "the site", "mounting", "flat-on-ground", "not stated"});
    for (const char* id : {"falls", "earthing", "surge"}) CHECK(has(cautions(t), id));
}

TEST_CASE("the NEC is quoted only where it holds") {
    Trial t;
    t.site().mounting = Mounting::close_to_roof;
    t.wire(3, 1);
    for (const Code code : {Code::nec, Code::both, Code::iec}) {
        t.site().code = code;
        const bool quoted = code != Code::iec;
        CHECK((find(cautions(t), "shock-and-arc")->text.find("US buildings") != std::string::npos) == quoted);
        CHECK(has(cautions(t), "rapid-shutdown") == quoted);
    }
    t.wire(21, 1);
    CHECK_FALSE(has(cautions(t), "building-ceiling"));
    t.site().code = Code::nec;
    CHECK_THAT(find(cautions(t), "building-ceiling")->text,
               Contains("630 V is above the 600 V") && !Contains("1000 V"));
    t.wire(34, 1);  // 1020 V
    CHECK_THAT(find(cautions(t), "building-ceiling")->text, Contains("above the 1000 V for other buildings"));
}

// 115 m over Ng: 23 m of cable are critical from 5 flashes per km² and year on.
TEST_CASE("the surge caution knows the length of the cable where it is stated") {
    Trial t;
    t.site().mounting = Mounting::open_rack;
    CHECK_THAT(find(cautions(t), "surge")->text, !Contains("yours"));
    t.setup.cables = {string_cable(3.0), string_cable(20.0)};
    t.setup.cables[1].run = CableRun::trunk;
    CHECK_THAT(find(cautions(t), "surge")->text, Contains("from 5 flashes"));
    t.setup.cables[0].run = CableRun::battery;  // no part of the array's way: 20 m, 115 / 20 = 5.75
    CHECK_THAT(find(cautions(t), "surge")->text, Contains("from 6 flashes"));
}

// Two new panels of 30 V in the cold: up to 2 × 30 × 1.25 = 75 V.
TEST_CASE("amorphous panels say what they give while new, and whether the input bears it") {
    Trial t;
    t.panel().technology = Technology::amorphous;
    t.wire(2, 1);
    CHECK_THAT(find(cautions(t), "amorphous-new")->text, Contains("up to 75 V. Ask"));
    t.input().max_voltage_v = 70.0;
    CHECK_THAT(find(cautions(t), "amorphous-new")->text, Contains("up to 75 V, above the 70 V of PV1. Ask"));
    const std::size_t wafer = t.add_kind("wafer", rules::round_panel());
    t.plan[0].strings[0] = rules::string_of({0, wafer});  // 30 × 1.25 + 30 V
    CHECK_THAT(find(cautions(t), "amorphous-new")->text, Contains("up to 68 V. Ask"));
    t.plan[0].strings[0] = rules::string_of({wafer, wafer});
    CHECK_FALSE(has(cautions(t), "amorphous-new"));
}

TEST_CASE("unlike strings that agree are not forbidden: equal voltage is what counts") {
    Trial t;
    t.wire(1, 2);
    CHECK_THAT(find(cautions(t), "equal-strings")->text,
               Contains("need equal voltages") && !Contains("same panels") && !Contains("same length"));
}

TEST_CASE("an ordinary set-up keeps its cautions few, and grouped they are all there") {
    Trial t = roomy_trial();
    with_battery(t);
    t.wire(2, 2);  // on the ground, with a battery: a van's
    const std::vector<Caution> list = cautions(t);
    CHECK(list.size() <= 12);
    const std::vector<CautionGroup> groups = by_moment(list);
    CHECK(groups.size() <= 6);
    CHECK(groups.front().cautions.front().id == list.front().id);
    std::size_t in_groups = 0;
    std::set<Moment> moments;
    for (const CautionGroup& group : groups) {
        CHECK(moments.insert(group.moment).second);
        CHECK_FALSE(group.title.empty());
        CHECK(std::is_sorted(group.cautions.begin(), group.cautions.end(),
                             [](const Caution& a, const Caution& b) { return a.harm < b.harm; }));
        for (const Caution& c : group.cautions) CHECK(c.moment == group.moment);
        in_groups += group.cautions.size();
    }
    CHECK(in_groups == list.size());
    CHECK(groups.back().moment == Moment::last);
}
