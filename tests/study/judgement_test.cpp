#include "trial.hpp"

#include <algorithm>

using namespace plait;
using namespace plait::study;

namespace {

bool any_deciding(const Judgement& j, Outcome outcome) {
    const auto decides = [&](const RuleVerdict& v) { return v.finding.decides && v.finding.outcome == outcome; };
    const auto in = [&](const std::vector<RuleVerdict>& verdicts) {
        return std::any_of(verdicts.begin(), verdicts.end(), decides);
    };
    return in(j.plan) ||
           std::any_of(j.inputs.begin(), j.inputs.end(), [&](const InputJudgement& one) { return in(one.verdicts); });
}

}  // namespace

TEST_CASE("two answers, each by its own findings: neither hides the other") {
    // 1s1p is too low to start, 4s is over 100 V, twelve panels clip a small input, many strings want fuses.
    std::array<std::array<int, 3>, 5> seen{};
    for (const double power_w : {5000.0, 300.0}) {
        for (int in_series = 1; in_series <= 5; ++in_series) {
            for (int in_parallel = 1; in_parallel <= 5; ++in_parallel) {
                Trial t = roomy_trial();
                t.input().max_power_w = power_w;
                t.wire(in_series, in_parallel);
                const Judgement j = judged(t);
                CAPTURE(power_w, in_series, in_parallel);
                const bool exceeds = any_deciding(j, Outcome::exceeds);
                const bool needs = any_deciding(j, Outcome::needs);
                CHECK((j.verdict.connection == Connection::forbidden) == exceeds);
                CHECK((j.verdict.connection == Connection::once_added) == (needs && !exceeds));
                CHECK(j.verdict.conditions.empty() == !needs);
                const bool short_of = any_deciding(j, Outcome::falls_short);
                CHECK((j.verdict.intake == Intake::falls_short) == short_of);
                CHECK((j.verdict.intake == Intake::clipped) == (!short_of && any_deciding(j, Outcome::clips)));
                ++seen[static_cast<std::size_t>(j.verdict.connection)][static_cast<std::size_t>(j.verdict.intake)];
            }
        }
    }
    const auto met = [&](Connection c, Intake i) {
        return seen[static_cast<std::size_t>(c)][static_cast<std::size_t>(i)] > 0;
    };
    CHECK(met(Connection::allowed, Intake::all));
    CHECK(met(Connection::allowed, Intake::clipped));
    CHECK(met(Connection::allowed, Intake::falls_short));
    CHECK(met(Connection::once_added, Intake::all));
    CHECK(met(Connection::once_added, Intake::clipped));  // what clips still says which fuses it lacks
    CHECK(met(Connection::forbidden, Intake::all));
}

TEST_CASE("findings of the headline: what forbids it alone, else all that is missing before what it costs") {
    Trial t = roomy_trial();
    t.input().max_power_w = 300.0;
    t.wire(3, 5);  // wants fuses, and clips
    const Judgement j = judged(t);
    REQUIRE(j.verdict.connection == Connection::once_added);
    const std::vector<PlacedFinding> found = headline_findings(j);
    REQUIRE(found.size() >= 2);
    CHECK(found.front().verdict->finding.outcome == Outcome::needs);
    CHECK(found.back().verdict->finding.outcome == Outcome::clips);
    CHECK(j.verdict.clipped_ratio > 0.0);
    REQUIRE_FALSE(j.verdict.conditions.empty());
    CHECK(j.verdict.conditions[0].kind == rules::ConditionKind::string_fuses);
    CHECK(j.verdict.conditions[0].count == 5);
    for (const rules::Condition& c : j.verdict.conditions) {
        CHECK(std::count(j.verdict.conditions.begin(), j.verdict.conditions.end(), c) == 1);
    }
    t.wire(4, 5);  // 120 V in the cold against 100 V
    const Judgement over = judged(t);
    for (const PlacedFinding& f : headline_findings(over)) CHECK(f.verdict->finding.outcome == Outcome::exceeds);
}

TEST_CASE("a finding shown for comparison decides nothing") {
    Trial t = roomy_trial();
    t.panel().voc_coefficient_per_k = -0.002;  // 27.5 V in the cold by the coefficient, 30 V by the table (× 1.20)
    t.input().max_voltage_v = 85.0;
    t.input().tracking_max_v = 85.0;
    t.wire(3, 1);
    const Judgement j = judged(t);
    const auto& all = j.inputs.at(0).verdicts;
    CHECK(std::any_of(all.begin(), all.end(), [](const RuleVerdict& v) {
        return !v.finding.decides && v.finding.outcome == Outcome::exceeds && v.finding.value == exactly(90.0);
    }));
    CHECK(deciding(j, "cold-voltage").finding.value == exactly(82.5));
    CHECK(j.verdict.connection == Connection::allowed);
    CHECK(j.verdict.intake == Intake::all);
}

TEST_CASE("proven: the whole tolerance gives the same answer") {
    Trial t = roomy_trial();
    t.wire(3, 1);  // 90 V in the cold
    t.input().max_voltage_v = 92.0;
    CHECK(judged(t).verdict.proven());
    t.panel().voc_tolerance_ratio = 0.01;  // up to 90.9 V
    CHECK(judged(t).verdict.proven());
    t.panel().voc_tolerance_ratio = 0.03;  // up to 92.7 V
    const Judgement doubtful = judged(t);
    CHECK(deciding(doubtful, "cold-voltage").finding.outcome == Outcome::within);
    CHECK_FALSE(deciding(doubtful, "cold-voltage").proven());
    // The tolerance carries it past a limit that must never be passed: that is no fit, and its findings say so first.
    CHECK(doubtful.verdict.connection == Connection::may_exceed);
    CHECK_FALSE(doubtful.verdict.ready());
    CHECK_FALSE(doubtful.verdict.holds());
    CHECK(headline_findings(doubtful).front().verdict == &deciding(doubtful, "cold-voltage"));
    t.input().max_voltage_v = 89.0;  // down to 87.3 V: might be within
    CHECK(judged(t).verdict.connection == Connection::forbidden);
    CHECK_FALSE(judged(t).verdict.proven());
    t.input().max_voltage_v = 87.0;
    CHECK(judged(t).verdict.connection == Connection::forbidden);
    CHECK(judged(t).verdict.proven());
}

TEST_CASE("proven: an assumed value makes only those findings doubtful that rest on it") {
    Trial t = roomy_trial();
    t.wire(3, 1);
    t.add_kind("other", rules::round_panel());
    const auto with = [&](Quantity q, std::optional<std::size_t> kind, std::optional<std::size_t> input) {
        Trial copy = t;
        copy.setup.assumptions.push_back({q, kind, input, "s", "w", "v", "y"});
        return judged(copy);
    };
    const Judgement assumed = with(Quantity::panel_voc_coefficient, 0, {});
    CHECK(assumed.verdict.connection == Connection::allowed);
    CHECK(assumed.verdict.ready());
    CHECK_FALSE(assumed.verdict.proven());
    CHECK(deciding(assumed, "cold-voltage").assumptions == std::vector<std::size_t>{0});
    CHECK(deciding(assumed, "cold-voltage").finding.even_at_worst);
    CHECK(deciding(assumed, "short-circuit-rating").proven());

    CHECK(with(Quantity::panel_voc_coefficient, 1, {}).verdict.proven());  // a kind not in use
    CHECK_FALSE(with(Quantity::input_tracking_range, {}, 0).verdict.proven());
    CHECK(with(Quantity::input_tracking_range, {}, 1).verdict.proven());  // another input
    CHECK_FALSE(with(Quantity::site_coldest_air, {}, {}).verdict.proven());
    CHECK(with(Quantity::panel_bypass_diodes, 0, {}).verdict.proven());  // no rule rests on it
}

TEST_CASE("proven: one proven breach is enough, whatever else is doubtful") {
    Trial t = roomy_trial();
    t.wire(4, 1);  // 120 V in the cold against 100 V: over, by any tolerance here
    t.setup.assumptions.push_back({Quantity::site_hottest_air, {}, {}, "the site", "w", "v", "y"});
    CHECK(judged(t).verdict.connection == Connection::forbidden);
    CHECK(judged(t).verdict.proven());
    // A second breach that is doubtful: 120 V against a system voltage that is only assumed.
    t.panel().max_system_voltage_v = 110.0;
    t.setup.assumptions.push_back({Quantity::panel_system_voltage, 0, {}, "panel", "w", "v", "y"});
    const Judgement j = judged(t);
    CHECK(deciding(j, "panel-system-voltage").finding.outcome == Outcome::exceeds);
    CHECK_FALSE(deciding(j, "panel-system-voltage").proven());
    CHECK(deciding(j, "cold-voltage").proven());
    CHECK(j.verdict.connection == Connection::forbidden);
    CHECK(j.verdict.proven());
}

TEST_CASE("help, by hand") {
    Trial t = roomy_trial();
    t.wire(3, 1);
    SECTION("longest: 100 V / 30 V; at the limit is within") {
        CHECK(judged(t).inputs[0].help.longest_string == 3);
        t.input().max_voltage_v = 120.0;
        CHECK(judged(t).inputs[0].help.longest_string == 4);
        t.input().max_voltage_v = 29.0;
        CHECK(judged(t).inputs[0].help.longest_string == 0);
    }
    SECTION("shortest: 20 V each to start, 16 V each to work, on the hottest day") {
        CHECK(judged(t).inputs[0].help.shortest_string == 2);  // 40 V ≥ 35 V, 32 V ≥ 30 V
        t.input().start_voltage_v = 41.0;
        CHECK(judged(t).inputs[0].help.shortest_string == 3);
        t.input().tracking_min_v = 50.0;
        CHECK(judged(t).inputs[0].help.shortest_string == 4);
    }
    SECTION("coldest: 75 V at 25 °C, 0.3 V more with every kelvin; 25 V of room are 83.3 K") {
        const auto coldest = judged(t).inputs[0].help.coldest_survived;
        REQUIRE(coldest);
        // Searched for, to a hundredth of a kelvin, and on the warm side.
        CHECK(coldest->degc >= 25.0 - 250.0 / 3.0);
        CHECK(coldest->degc == Approx(25.0 - 250.0 / 3.0).margin(0.01));
        t.wire(5, 1);  // 125 V on paper
        CHECK_FALSE(judged(t).inputs[0].help.coldest_survived);
    }
}

TEST_CASE("facts, by hand") {
    Trial t = roomy_trial();
    const ArrayFacts f = judged(t.wire(3, 2)).inputs[0].facts;
    CHECK(f.pmax_w == exactly(600.0));
    CHECK(f.stc_voc_v == exactly(75.0));
    CHECK(f.isc_a == exactly(12.0));
    CHECK(f.bright_isc_a == exactly(15.0));       // NEC 690.8(A)(1): × 1.25
    CHECK(f.continuous_isc_a == exactly(18.75));  // NEC 690.8(B): × 1.5625 in all
    CHECK(f.cold_voc_v[0] == exactly(90.0));      // 1 + 0.4 %/K × 50 K
    CHECK(f.cold_voc_v[1] == exactly(90.0));      // NEC table 690.7(A) at −25 °C: 1.20
    CHECK(f.cold_voc_v[2] == exactly(90.0));      // 1.2 flat
    CHECK(f.cold_vmp_v == exactly(72.0));
    CHECK(f.hot_voc_v == exactly(60.0));
    CHECK(f.hot_vmp_v == exactly(48.0));
    t.panel().technology = Technology::cigs;
    const ArrayFacts thin = judged(t).inputs[0].facts;
    CHECK(thin.cold_method_applies[0]);
    CHECK_FALSE(thin.cold_method_applies[1]);
    CHECK(thin.cold_method_applies[2]);
}

TEST_CASE("the shared limit cuts the sum, and only the sum") {
    Controller c;
    CHECK(shared_w(c, 700.0) == 700.0);
    c.max_total_power_w = 600.0;
    CHECK(shared_w(c, 700.0) == 600.0);
    CHECK(shared_w(c, 500.0) == 500.0);
    c.battery = Battery{10.5, 12.5, 14.6, 32.0};  // 12.5 V × 32 A ÷ 0.8 = 500 W
    c.efficiency_ratio = 0.8;
    CHECK(shared_w(c, 700.0) == exactly(500.0));

    Trial t = roomy_trial();
    t.wire(3, 1).add_input(t.points.front());
    const SystemModel free(t.setup);
    const LevelPowers one = free.level_powers(0, t.plan[0]);
    t.controller().max_total_power_w = 400.0;
    LevelPowers both{};
    for (std::size_t l = 0; l < both.size(); ++l) both[l] = std::min(2.0 * one[l], 400.0);
    REQUIRE(2.0 * one.back() > 400.0);
    const Judgement j = judged(t);
    CHECK(j.verdict.intake == Intake::clipped);
    CHECK(j.harvest.european_w == exactly(weighted(both).european_w));
    CHECK(j.harvest.cec_w == exactly(weighted(both).cec_w));
    CHECK(j.free_harvest.european_w == Approx(2.0 * weighted(one).european_w).epsilon(1e-9));
}

TEST_CASE("unused inputs are left out; every rule is heard on the used ones") {
    Trial t = roomy_trial();
    t.wire(3, 1).add_input(t.points.front());
    t.plan[0] = InputWiring{};
    const Judgement j = judged(t);
    REQUIRE(j.inputs.size() == 1);
    CHECK(j.inputs[0].input == 1);
    CHECK(j.inputs[0].verdicts.size() >= 6);
    for (const RuleVerdict& v : j.inputs[0].verdicts) CHECK(v.rule->scope == rules::Scope::input);
    for (const RuleVerdict& v : j.plan) CHECK(v.rule->scope == rules::Scope::plan);
}

TEST_CASE("weak light: assumed where the datasheet is silent, and said so") {
    Trial t = roomy_trial();
    const auto weak_light_assumed = [&] {
        const std::vector<Assumption> all = all_assumptions(SystemModel(t.setup));
        return std::count_if(all.begin(), all.end(),
                             [](const Assumption& a) { return a.quantity == Quantity::panel_weak_light; });
    };
    CHECK(weak_light_assumed() == 1);
    t.panel().weak_light_efficiency_ratio = 0.96;
    CHECK(weak_light_assumed() == 0);
}

TEST_CASE("driven strings: three panels beside two, against their fuse, and a diode in the shorter string") {
    Trial t = roomy_trial();
    t.wire(3, 2);
    CHECK(judged(t).inputs.at(0).driven.empty());
    t.plan[0].strings[1].panels.pop_back();
    const Judgement open = judged(t);
    const std::vector<DrivenString>& driven = open.inputs.at(0).driven;
    REQUIRE(driven.size() == 2);
    CHECK_FALSE(driven[0].open_circuit.weather.has_value());
    REQUIRE(driven[1].open_circuit.weather.has_value());
    CHECK(driven[1].rating_a == 15.0);
    // Two strings: what comes back through the one is at most what the other gives in short circuit.
    CHECK(driven[1].open_circuit.current_a > 3.0);
    CHECK(driven[1].open_circuit.current_a < 6.2);
    CHECK(driven[1].operating.current_a < driven[1].open_circuit.current_a);
    CHECK(deciding(open, "reverse-current").finding.value == driven[1].open_circuit.current_a);
    CHECK(deciding(open, "reverse-current").finding.outcome == Outcome::within);

    t.panel().max_series_fuse_a = 1.0;
    CHECK(deciding(judged(t), "reverse-current").finding.outcome == Outcome::exceeds);
    t.plan[0].strings[1].blocking_diode = true;
    const Judgement blocked = judged(t);
    CHECK(blocked.inputs.at(0).driven.at(1).blocked);
    CHECK(deciding(blocked, "reverse-current").finding.value < 1e-4);
    CHECK(deciding(blocked, "reverse-current").finding.outcome == Outcome::within);
}

TEST_CASE("an input of which nobody knows the maximum never fits, however small the array") {
    for (int in_series = 2; in_series <= 5; ++in_series) {
        Trial t = roomy_trial();
        t.wire(in_series, 1).input().max_voltage_v.reset();
        const Judgement j = judged(t);
        CHECK(j.verdict.connection == Connection::undecided);
        CHECK_FALSE(j.verdict.proven());
        CHECK(deciding(j, "cold-voltage").finding.outcome == Outcome::undecided);
        CHECK_FALSE(j.inputs[0].help.longest_string);
        CHECK_FALSE(j.inputs[0].help.coldest_survived);
    }
}

// Three panels: 90 V open at −25 °C, 75 × (1 + 0.4 % × 25) = 82.5 V at 0 °C.
TEST_CASE("a verdict that differs between the ends of a stated temperature is not proven") {
    Trial t = roomy_trial();
    t.wire(3, 1);
    t.input().max_voltage_v = 85.0;
    t.input().tracking_max_v = 85.0;
    t.site().coldest_air_range = TemperatureRange{{-25.0}, {0.0}};
    const Judgement apart = judged(t);
    CHECK(apart.verdict.connection == Connection::forbidden);
    CHECK_FALSE(apart.verdict.proven());
    CHECK(deciding(apart, "cold-voltage").turns_in_range);
    CHECK(deciding(apart, "cold-voltage").words.because.find("\"within\"") != std::string::npos);
    t.site().coldest_air_range = TemperatureRange{{-25.0}, {-20.0}};  // 88.5 V: outside at both ends
    CHECK(judged(t).verdict.connection == Connection::forbidden);
    CHECK(judged(t).verdict.proven());
    t.input().max_voltage_v = 92.0;  // within at both
    t.input().tracking_max_v = 92.0;
    t.site().coldest_air_range = TemperatureRange{{-25.0}, {0.0}};
    CHECK(judged(t).verdict.ready());
    CHECK(judged(t).verdict.proven());
    // A summer that is perhaps too hot to start in: 2 × 20 V × … against 35 V, as written out by the trial.
    t.wire(2, 1);
    t.input().start_voltage_v = 41.0;
    t.site().hottest_air_range = TemperatureRange{{0.0}, {40.0}};
    const Judgement summer = judged(t);
    CHECK(deciding(summer, "start-voltage").finding.outcome == Outcome::falls_short);
    CHECK(deciding(summer, "start-voltage").turns_in_range);
    CHECK_FALSE(summer.verdict.proven());
}
