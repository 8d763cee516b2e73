// Laws of verdicts and cures over random set-ups: what makes things worse never improves what the rules say that guard
// against harm, and every cure cures.
#include "../support/setups.hpp"

#include <plait/rules/catalogue.hpp>
#include <plait/rules/cure_search.hpp>
#include <plait/study/apply_cure.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/judgement.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

using namespace plait;
using rules::Finding;
using rules::Outcome;
using study::InputJudgement;
using study::Judgement;
using study::RuleVerdict;

namespace {

Judgement judged(const Setup& setup, const ArrayPlan& plan) { return study::judge(study::SystemModel(setup), plan); }

// What unlike strings drive back through each other is a difference of their curves: a colder morning, or a panel more in
// each, can make them less unlike.
constexpr std::string_view differs = "reverse-current";
// Where the current limit depends on the voltage, more panels in series may reach the band that takes more.
constexpr std::string_view by_band = "current-rating";
// A direct-connect controller's watts are counted at the battery's voltage: colder cells, or a string that its last panel
// holds back, give a little less current there.
constexpr std::string_view at_battery = "power-limit";

/// How far the deciding findings of the limits that must not be passed stand to them, at worst: value over limit, by
/// rule and unit. Above 1 is beyond.
using Stress = std::map<std::pair<std::string, int>, double>;

void add_stress(const std::vector<RuleVerdict>& verdicts, const std::string& where, Stress& stress) {
    for (const RuleVerdict& v : verdicts) {
        const Finding& f = v.finding;
        if (!f.decides || f.broken != Outcome::exceeds || f.sense != rules::Sense::at_most) continue;
        double& now = stress[{where + std::string(v.rule->id), static_cast<int>(f.unit)}];
        now = std::max(now, f.limit > 0.0 ? f.spread.upper() / f.limit : HUGE_VAL);
    }
}

Stress stress_of(const Judgement& j) {
    Stress stress;
    for (const InputJudgement& one : j.inputs) add_stress(one.verdicts, std::to_string(one.input) + " ", stress);
    add_stress(j.plan, "plan ", stress);
    return stress;
}

std::set<std::pair<std::string, int>> broken(const Judgement& j) {
    std::set<std::pair<std::string, int>> list;
    const auto add = [&](const std::vector<RuleVerdict>& verdicts, const std::string& where) {
        for (const RuleVerdict& v : verdicts) {
            if (v.finding.decides && v.finding.outcome == Outcome::exceeds) {
                list.insert({where + std::string(v.rule->id), static_cast<int>(v.finding.unit)});
            }
        }
    };
    for (const InputJudgement& one : j.inputs) add(one.verdicts, std::to_string(one.input) + " ");
    add(j.plan, "plan ");
    return list;
}

/// The rule of an entry: what comes behind its place.
std::string_view rule_of(const std::string& place_and_rule) {
    return std::string_view(place_and_rule).substr(place_and_rule.find(' ') + 1);
}

/// What is there before and after may not become less; a rule may begin to speak. What may not be connected before may not
/// be afterwards. `but`: rules to which that does not apply.
void check_no_better(const Judgement& before_judged, const Judgement& after_judged,
                     const std::set<std::string_view>& but = {}) {
    const Stress before = stress_of(before_judged);
    const Stress after = stress_of(after_judged);
    const std::set<std::pair<std::string, int>> passed = broken(before_judged);
    const bool forbids = std::any_of(passed.begin(), passed.end(),
                                     [&](const auto& one) { return but.count(rule_of(one.first)) == 0; });
    if (forbids) CHECK(after_judged.verdict.connection == study::Connection::forbidden);
    for (const auto& [rule, ratio] : before) {
        if (but.count(rule_of(rule.first)) == 1) continue;
        // Of a cable that is too thin already only that matters: where fuses come to be called for, or where there are none
        // that suit, it is another current that is too much for it.
        if (rule_of(rule.first) == "cable-ampacity" && ratio > 1.0 && forbids) continue;
        CAPTURE(rule.first, ratio);
        const auto now = after.find(rule);
        if (now == after.end()) {
            CHECK(ratio <= 1.0);
        } else {
            CHECK(now->second >= ratio * (1.0 - 1e-9) - 1e-9);
        }
    }
}

/// One of the limits that protect something, lowered by up to a third.
void lower_one_limit(Setup& setup, test::Dice& dice) {
    const double factor = dice.between(0.67, 1.0);
    const auto lower = [&](std::optional<double>& limit) {
        if (limit) *limit *= factor;
    };
    Input& input = setup.controller.inputs[dice.below(setup.controller.inputs.size())];
    Panel& panel = setup.kinds[dice.below(setup.kinds.size())].panel;
    switch (dice.below(6)) {
        case 0:
            return lower(input.max_voltage_v);
        case 1:
            return lower(input.max_short_circuit_a);
        case 2:
            return lower(input.plug_rating_a);
        case 3:
            panel.max_system_voltage_v *= factor;
            return;
        case 4:
            panel.max_series_fuse_a *= factor;
            return;
        default:
            lower(setup.fittings.connector_a);
            lower(setup.fittings.branch_a);
            lower(setup.fittings.disconnect_a);
            lower(setup.fittings.disconnect_v);
    }
}

/// A controller without tracking whose limit of watts is near what the array gives at the battery: only curves show that, and
/// colder cells may reach a battery that warm ones do not.
void limit_direct_watts(Setup& setup, test::Dice& dice) {
    const double array_v = setup.kinds.front().panel.voc_v * static_cast<double>(setup.wiring->front().longest_string());
    setup.controller.type = ControllerType::direct_connect;
    const double nominal_v = array_v * dice.between(0.9, 1.4);
    setup.controller.battery = Battery{0.875 * nominal_v, nominal_v, 1.2 * nominal_v, std::nullopt};
    for (Input& input : setup.controller.inputs) {
        input.max_voltage_v = 1000.0;
        input.max_short_circuit_a.reset();
        input.max_array_power_w.reset();
        input.plug_rating_a.reset();
        input.bands = {{0.0, 1000.0, 1000.0}};
        input.max_power_w = setup.kinds.front().panel.isc_a * nominal_v * dice.between(0.2, 3.0);
    }
    setup.controller.inputs.resize(1);
    setup.wiring->resize(1);
    setup.fittings = {};
    setup.cables.clear();
    for (PanelKind& kind : setup.kinds) {
        kind.panel.max_system_voltage_v = 1500.0;
        kind.panel.max_series_fuse_a = 500.0;
    }
}

bool falls_short(const Judgement& j) {
    const auto any = [](const std::vector<RuleVerdict>& verdicts) {
        return std::any_of(verdicts.begin(), verdicts.end(), [](const RuleVerdict& v) {
            return v.finding.decides && v.finding.outcome == Outcome::falls_short;
        });
    };
    return std::any_of(j.inputs.begin(), j.inputs.end(), [&](const InputJudgement& one) { return any(one.verdicts); });
}

const std::vector<RuleVerdict>* verdicts_of(const Judgement& j, std::size_t input, bool plan) {
    if (plan) return &j.plan;
    for (const InputJudgement& one : j.inputs) {
        if (one.input == input) return &one.verdicts;
    }
    return nullptr;
}

/// After the cure the finding is met, or the rule no longer speaks.
void check_gone(const RuleVerdict& v, const std::vector<RuleVerdict>& after) {
    for (const RuleVerdict& now : after) {
        if (now.rule != v.rule || now.finding.unit != v.finding.unit || now.finding.sense != v.finding.sense) continue;
        if (now.finding.decides != v.finding.decides) continue;
        // Of the tests of one rule, the same one; the cold voltage has one that decides, whatever it rests on.
        if (now.finding.test != v.finding.test && v.rule->id != "cold-voltage") continue;
        if (v.rule->id == "panels-on-hand" && now.finding.kind != v.finding.kind) continue;
        CHECK(now.finding.outcome == Outcome::within);
        CHECK(now.finding.even_at_worst);
    }
}

void check_cures(const Setup& setup, const ArrayPlan& plan, const Judgement& before, std::size_t input,
                 const RuleVerdict& v, bool of_plan, int& tried, int& gains) {
    const auto was_broken = broken(before);
    for (const rules::Cure& cure : v.cures) {
        const std::optional<study::ChangedSetup> changed = study::apply(cure, setup, plan);
        REQUIRE(changed);
        const Judgement after = judged(changed->setup, changed->plan);
        CAPTURE(v.rule->id, v.test(), v.words.because, v.words.instead, static_cast<int>(cure.kind), cure.count);
        if (const auto* now = verdicts_of(after, input, of_plan)) check_gone(v, *now);
        for (const auto& one : broken(after)) {
            // Fittings are stated once for all inputs, and another one may want another size.
            const bool elsewhere = plan.size() > 1 && one.first.rfind(std::to_string(input), 0) != 0;
            CAPTURE(one.first);
            const bool fitting = cure.kind == rules::CureKind::string_fuse || cure.kind == rules::CureKind::own_string_fuses ||
                                 cure.kind == rules::CureKind::connectors ||
                                 cure.kind == rules::CureKind::branch_connectors;
            if (fitting && elsewhere) continue;
            CHECK(was_broken.count(one) == 1);
        }
        if (v.finding.outcome != Outcome::exceeds) CHECK(falls_short(after) <= falls_short(before));
        CHECK(cure.gain_w.has_value() == (v.finding.outcome == Outcome::clips));
        if (cure.gain_w) {
            const double gain_w = after.harvest.european_w - before.harvest.european_w;
            CHECK(*cure.gain_w == Approx(gain_w).epsilon(1e-6).margin(1e-6));
            ++gains;
        }
        ++tried;
    }
}

}  // namespace

TEST_CASE("law: colder, brighter, a lower limit, more tolerance, more in series never improve what guards against harm") {
    test::Dice dice(77);
    for (int round = 0; round < test::rounds(250, 20000); ++round) {
        CAPTURE(round);
        const Setup setup = test::random_setup(dice, dice.chance(0.5));
        const Judgement plain = judged(setup, *setup.wiring);
        Setup worse = setup;
        worse.site.coldest_air = setup.site.coldest_air - dice.between(0.0, 30.0);
        {
            INFO("colder");
            check_no_better(plain, judged(worse, *setup.wiring), {differs, at_battery});
        }
        worse = setup;
        worse.site.peak_irradiance_w_per_m2 += dice.between(0.0, 600.0);
        {
            INFO("brighter");
            const Judgement after = judged(worse, *setup.wiring);
            // Hotter cells work at a lower voltage, which may be in the band that takes more; and unlike strings differ less.
            check_no_better(plain, after, {differs, by_band});
        }
        worse = setup;
        for (PanelKind& kind : worse.kinds) {
            kind.panel.voc_tolerance_ratio += dice.between(0.0, 0.05);
            kind.panel.isc_tolerance_ratio += dice.between(0.0, 0.05);
        }
        {
            INFO("more tolerance");
            check_no_better(plain, judged(worse, *setup.wiring));
        }
        worse = setup;
        lower_one_limit(worse, dice);
        {
            INFO("a lower limit");
            check_no_better(plain, judged(worse, *setup.wiring));
        }
        ArrayPlan longer = *setup.wiring;
        for (InputWiring& wiring : longer) {
            for (SeriesString& string : wiring.strings) {
                if (!string.panels.empty()) string.panels.push_back(string.panels.back());
            }
        }
        {
            INFO("more in series");
            check_no_better(plain, judged(setup, longer), {differs, by_band, at_battery});
        }
    }
}

TEST_CASE("law: every cure cures its finding, breaks no other limit, and brings the watts it says") {
    test::Dice dice(4242);
    int tried = 0;
    int gains = 0;
    for (int round = 0; round < test::rounds(250, 20000); ++round) {
        CAPTURE(round);
        const Setup setup = test::random_setup(dice, dice.chance(0.6));
        const Judgement before = judged(setup, *setup.wiring);
        for (const InputJudgement& one : before.inputs) {
            for (const RuleVerdict& v : one.verdicts) check_cures(setup, *setup.wiring, before, one.input, v, false, tried, gains);
        }
        for (const RuleVerdict& v : before.plan) check_cures(setup, *setup.wiring, before, 0, v, true, tried, gains);
    }
    CHECK(tried > 300);
    CHECK(gains > 20);
}

namespace {

/// What is promised of the cold, held to judging at it. Counts the promises.
void check_promises(const Setup& setup, test::Dice& dice, int& promised) {
    const Judgement before = judged(setup, *setup.wiring);
    for (const InputJudgement& one : before.inputs) {
        const std::optional<Celsius>& coldest = one.help.coldest_survived;
        if (one.verdict.connection == study::Connection::forbidden) CHECK_FALSE(coldest);
        if (!coldest) continue;
        ++promised;
        Setup colder = setup;
        const auto broken_at = [&](double degc) {
            colder.site.coldest_air = Celsius{degc};
            const Judgement now = judged(colder, *setup.wiring);
            const std::vector<RuleVerdict>& verdicts = *verdicts_of(now, one.input, false);
            return std::any_of(verdicts.begin(), verdicts.end(),
                               [](const RuleVerdict& v) { return v.finding.exceeds_at_worst(); });
        };
        CAPTURE(coldest->degc, setup.site.coldest_air.degc);
        CHECK_FALSE(broken_at(coldest->degc));
        // As printed, rounded to the warm side, and anywhere between.
        CHECK_FALSE(broken_at(std::min(std::ceil(coldest->degc * 10.0) / 10.0, setup.site.coldest_air.degc)));
        CHECK_FALSE(broken_at(coldest->degc + dice.between(0.0, 1.0) * (setup.site.coldest_air - *coldest)));
        if (coldest->degc > -99.0 && one.points.front().strings.empty()) CHECK(broken_at(coldest->degc - 0.1));
    }
}

}  // namespace

TEST_CASE("law: the coldest air that is promised is kept, and none is promised to a wiring that exceeds") {
    test::Dice dice(31337);
    int promised = 0;
    for (int round = 0; round < test::rounds(600, 20000); ++round) {
        CAPTURE(round);
        const Setup setup = test::random_setup(dice, dice.chance(0.6));
        check_promises(setup, dice, promised);
    }
    CHECK(promised > 30);
}

TEST_CASE("law: the coldest air that is promised is kept where only a limit of watts at the battery is near") {
    test::Dice dice(4711);
    int promised = 0;
    for (int round = 0; round < test::rounds(150, 4000); ++round) {
        CAPTURE(round);
        Setup setup = test::random_setup(dice, true);
        limit_direct_watts(setup, dice);
        check_promises(setup, dice, promised);
    }
    CHECK(promised > 30);
}

TEST_CASE("law: no report has a figure that cannot be") {
    test::Dice dice(555);
    for (int round = 0; round < test::rounds(300, 20000); ++round) {
        CAPTURE(round);
        const Setup setup = test::random_setup(dice);
        const study::SystemModel system(setup);
        const Judgement j = study::judge(system, *setup.wiring);
        const std::optional<std::string> wrong = study::impossible_figure(system, j);
        CHECK(wrong.value_or("") == "");
        study::CurveSheet sheet;
        for (const InputJudgement& one : j.inputs) {
            const study::Weather weather{static_cast<rules::ConditionId>(dice.below(rules::condition_count)), 1000.0,
                                         std::nullopt, stc_cell};
            sheet.inputs.push_back(study::input_curve(system, one.input, one.wiring, weather, {}));
        }
        CHECK(study::impossible_figure(sheet).value_or("") == "");
        for (const PanelKind& kind : setup.kinds) {
            CHECK(study::impossible_figure(study::panel_sheet(kind.panel, setup.curve_method)).value_or("") == "");
        }
    }
}

TEST_CASE("a figure that cannot be is found and named") {
    test::Dice dice(6);
    Setup setup = test::random_setup(dice, true);
    const study::SystemModel system(setup);
    const Judgement good = study::judge(system, *setup.wiring);
    REQUIRE_FALSE(study::impossible_figure(system, good));
    const auto wrong_of = [&](const auto& spoil) {
        Judgement bad = good;
        spoil(bad);
        return study::impossible_figure(system, bad).value_or("");
    };
    CHECK_THAT(wrong_of([](Judgement& j) { j.harvest.european_w = std::nan(""); }),
               Catch::Contains("harvest") && Catch::Contains("not a number"));
    CHECK_THAT(wrong_of([](Judgement& j) { j.inputs[0].points[1].operating.point = {10.0, 1e299}; }),
               Catch::Contains("power in operation") && Catch::Contains("the most there can be"));
    CHECK_THAT(wrong_of([](Judgement& j) { j.inputs[0].points[0].open_circuit_v *= 1.01; }),
               Catch::Contains("open-circuit voltage"));
    CHECK_THAT(wrong_of([](Judgement& j) { j.inputs[0].verdicts[0].finding.value = HUGE_VAL; }),
               Catch::Contains("without end"));
}
