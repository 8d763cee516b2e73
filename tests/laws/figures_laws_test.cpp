// One number for one thing: rules, meter table, drawing, list of parts, steps, card and comparison are asked about random
// set-ups and must agree; and no rule may count on less than what the program's own curves show in the stated weather.
#include "../support/setups.hpp"

#include <plait/measured/commissioning_card.hpp>
#include <plait/measured/field_model.hpp>
#include <plait/output/picture.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/number_words.hpp>
#include <plait/search/comparison.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>
#include <plait/study/window_map.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

using namespace plait;
using study::InputJudgement;
using study::Judgement;

namespace {

Approx same(double value) { return Approx(value).epsilon(1e-9).margin(1e-9); }

/// The values of the findings of a rule's test, of all that are there.
std::vector<rules::Finding> findings_of(const InputJudgement& one, std::string_view rule, std::string_view test = {}) {
    std::vector<rules::Finding> all;
    for (const study::RuleVerdict& v : one.verdicts) {
        if (v.rule->id != rule || (!test.empty() && v.test() != test)) continue;
        if (test.empty() && !v.finding.decides) continue;
        all.push_back(v.finding);
    }
    return all;
}

void check_values(const InputJudgement& one, std::string_view rule, std::string_view test, double value) {
    for (const rules::Finding& f : findings_of(one, rule, test)) {
        CAPTURE(rule, test);
        CHECK(f.value == same(value));
    }
}

void check_cold_voltage(const study::SystemModel& system, const study::Verdict& plan, const InputJudgement& one) {
    const Setup& setup = system.setup();
    REQUIRE(findings_of(one, "cold-voltage").size() == 1);
    const rules::Finding f = findings_of(one, "cold-voltage").front();
    CHECK(one.facts.cold_voc_v[static_cast<std::size_t>(setup.site.cold_method)] == same(f.value));
    CHECK(one.wires.cold_voc_v == same(f.value));
    CHECK(one.wires.stand_v == same(f.spread.upper()));
    check_values(one, "panel-system-voltage", {}, f.value);
    double least_marking_v = 1e9;
    for (const SeriesString& string : one.wiring.strings) {
        for (const PanelPlace& place : string.panels) {
            least_marking_v = std::min(least_marking_v, setup.kinds[place.kind].panel.max_system_voltage_v);
        }
    }
    for (const rules::Finding& marking : findings_of(one, "panel-system-voltage")) CHECK(marking.limit == same(least_marking_v));
    check_values(one, "step-up-ceiling", {}, f.value);
    check_values(one, "disconnect-rating", "voltage", f.value);
    check_values(one, "fuse-window", "fitted-voltage", f.value);
    const study::WindowMap map = study::window_map(system, one.input, {{one.wiring, one.verdict}});
    CHECK(map.tracks.front().cold_voc_v == same(f.value));
    CHECK_THAT(output::wiring_svg(setup, one, plan, output::PictureUse::in_file),
               Catch::Contains("up to " + rules::volts(f.spread.upper()) + " open"));
    // No curve shows more than the rule counts with.
    for (const rules::ConditionPoint& p : one.points) {
        CAPTURE(name_of(p.id));
        CHECK(p.open_circuit_v <= f.value * (1.0 + 1e-9));
    }
}

void check_bright_current(const Setup& setup, const InputJudgement& one) {
    const double bright_a = one.wires.bright_isc_a;
    CHECK(one.wires.connectors.plug_fault_a == same(bright_a));
    CHECK(one.facts.bright_isc_a == same(bright_a));
    CHECK(one.wires.connectors.common.current_a == same(bright_a));
    CHECK(one.facts.continuous_isc_a == same(1.25 * bright_a));
    check_values(one, "short-circuit-rating", "bright-sky", bright_a);
    check_values(one, "disconnect-rating", "current", bright_a);
    check_values(one, "current-rating", {}, bright_a);
    double strings_a = 0.0;
    for (const rules::StringFuse& f : one.wires.fuses) strings_a += static_cast<double>(f.strings.size()) * f.bright_a;
    CHECK(strings_a == same(bright_a));
    for (const rules::CableFigures& c : one.wires.cables) {
        if (setup.cables[c.cable].run == CableRun::trunk) CHECK(c.currents.most_a == same(bright_a));
        if (c.currents.continuous_a > 0.0) CHECK(c.currents.continuous_a == same(1.25 * c.currents.most_a));
    }
    for (const rules::ConditionPoint& p : one.points) {
        CAPTURE(name_of(p.id));
        CHECK(p.short_circuit_a <= bright_a * (1.0 + 1e-9));
    }
}

void check_heat(const InputJudgement& one) {
    check_values(one, "battery-headroom", "hot-voc", one.facts.hot_voc_v);
    check_values(one, "battery-headroom", "hot-vmp", one.facts.hot_vmp_v);
    check_values(one, "start-voltage", {}, one.facts.hot_voc_v);
    check_values(one, "tracking-bottom", {}, one.facts.hot_vmp_v);
    check_values(one, "tracking-top", {}, one.facts.cold_vmp_v);
    const rules::ConditionPoint& hot = one.points[static_cast<std::size_t>(rules::ConditionId::hot_bright)];
    if (hot.short_circuit_a > 1e-9) CHECK(one.facts.hot_voc_v <= hot.open_circuit_v * (1.0 + 1e-9));
}

/// No string's fault may hide behind another's: the rule's answer is that of the string that is worst off.
void check_string_fuses(const InputJudgement& one) {
    for (int test = 0; test < 2; ++test) {
        for (const study::RuleVerdict& v : one.verdicts) {
            if (v.rule->id != "string-fuses" || v.finding.test != test) continue;
            bool fuse_too_large = false;
            bool fuse_missing = false;
            double beyond_ratio = 0.0;
            for (const rules::StringFuse& string : one.wires.fuses) {
                const double others_a = test == 0 ? string.others_bright_a : string.others_a;
                const double a = string.fitted_a ? std::min(*string.fitted_a, others_a) : others_a;
                CHECK(string.others_bright_a + string.bright_a >= one.wires.bright_isc_a * (1.0 - 1e-9));
                if (a <= string.panel_rating_a * (1.0 + 1e-9)) continue;
                (string.fitted_a ? fuse_too_large : fuse_missing) = true;
                beyond_ratio = std::max(beyond_ratio, a / string.panel_rating_a);
            }
            CAPTURE(test, fuse_too_large, fuse_missing);
            CHECK((v.finding.outcome == rules::Outcome::within) == !(fuse_too_large || fuse_missing));
            if (fuse_too_large) CHECK(v.finding.outcome == rules::Outcome::exceeds);
            if (fuse_missing != fuse_too_large) CHECK(v.finding.value / v.finding.limit == same(beyond_ratio));
        }
    }
}

/// IEC 62548-1:2023 (clause 6.5.3.2 of IEC 62548:2016 [from memory]): a string's fuse is for 1.5 to 2.4 times its Isc.
void check_fuse_sizes(const InputJudgement& one, Code code) {
    if (code == Code::nec) return;
    for (const rules::StringFuse& string : one.wires.fuses) {
        for (const double size_a : string.both) {
            CHECK(size_a > 1.5 * string.isc_a * (1.0 - 1e-9));
            CHECK(size_a < 2.4 * string.isc_a * (1.0 + 1e-9));
        }
    }
}

double highest_stand_v(const Judgement& j) {
    double v = 0.0;
    for (const InputJudgement& one : j.inputs) v = std::max(v, one.wires.stand_v);
    return v;
}

/// At open fuse holders two strings count together, in case one is the wrong way round.
bool at_holders(const study::Step& step) {
    return std::any_of(step.actions.begin(), step.actions.end(), [](study::Action a) {
        return study::record_of(a).place == study::Place::fuse_holders;
    });
}

/// A rule's one finding about an input, if it has one.
std::optional<rules::Finding> finding_of(const Judgement& j, std::size_t input, std::string_view rule) {
    for (const InputJudgement& one : j.inputs) {
        if (one.input != input) continue;
        const std::vector<rules::Finding> all = findings_of(one, rule);
        if (all.size() == 1) return all.front();
    }
    return std::nullopt;
}

}  // namespace

TEST_CASE("law: strings side by side have the volts of the one that counts alone") {
    // Of the highest at the top, of the lowest at the bottom, as printed and at each end of its tolerance.
    struct Extreme {
        std::string_view rule;
        bool highest;
    };
    test::Dice dice(77);
    int unlike = 0;
    for (int round = 0; round < test::rounds(60, 8000); ++round) {
        const Setup setup = test::random_setup(dice);
        const study::SystemModel system(setup);
        const Judgement j = study::judge(system, *setup.wiring);
        for (const InputJudgement& one : j.inputs) {
            std::vector<Judgement> alone;
            for (const SeriesString& string : one.wiring.strings) {
                ArrayPlan plan = *setup.wiring;
                plan[one.input].strings = {string};
                alone.push_back(study::judge(system, plan));
            }
            for (const Extreme& e : {Extreme{"cold-voltage", true}, Extreme{"tracking-top", true}, Extreme{"tracking-bottom", false},
                                     Extreme{"start-voltage", false}}) {
                const auto whole = finding_of(j, one.input, e.rule);
                if (!whole) continue;
                double value = e.highest ? -1e9 : 1e9;
                Interval spread(value);
                double other = -value;
                const auto pick = [&](double a, double b) { return e.highest ? std::max(a, b) : std::min(a, b); };
                for (const Judgement& only : alone) {
                    const auto f = finding_of(only, one.input, e.rule);
                    REQUIRE(f);
                    value = pick(value, f->value);
                    spread = Interval(pick(spread.lower(), f->spread.lower()), pick(spread.upper(), f->spread.upper()));
                    other = e.highest ? std::min(other, f->value) : std::max(other, f->value);
                }
                CAPTURE(round, e.rule);
                CHECK(whole->value == same(value));
                CHECK(whole->spread.lower() == same(spread.lower()));
                CHECK(whole->spread.upper() == same(spread.upper()));
                if (std::abs(other - value) > 1.0) ++unlike;
            }
        }
    }
    CHECK(unlike > 20);
}

TEST_CASE("law: one number for one thing, and no less than the curves show") {
    test::Dice dice(2024);
    int with_more_light = 0;
    int by_curve = 0;
    for (int round = 0; round < test::rounds(400, 8000); ++round) {
        CAPTURE(round);
        const Setup setup = test::random_setup(dice);
        const study::SystemModel system(setup);
        const Judgement j = study::judge(system, *setup.wiring);
        for (const InputJudgement& one : j.inputs) {
            check_cold_voltage(system, j.verdict, one);
            check_bright_current(setup, one);
            check_heat(one);
            check_string_fuses(one);
            check_fuse_sizes(one, setup.site.code);
            if (one.points.front().condition.irradiance_w_per_m2 > 1000.0) ++with_more_light;
            for (const study::RuleVerdict& v : one.verdicts) {
                if (v.rule->id == "cold-voltage" && v.test() == "curve") ++by_curve;
            }
        }
        // The touch band: at the top of the tolerance, rounded up.
        const std::string volts = std::to_string(static_cast<long>(std::ceil(highest_stand_v(j))));
        CHECK_THAT(j.cautions.front().text, Catch::Contains("Up to " + volts + " V DC"));
        const study::StepList steps = study::steps_of(setup, j);
        double most_live_v = 0.0;
        const double battery_v = setup.controller.battery ? setup.controller.battery->max_voltage_v : 0.0;
        for (const std::vector<study::Step>* list : {&steps.connect, &steps.take_apart}) {
            for (const study::Step& step : *list) {
                if (at_holders(step)) continue;
                most_live_v = std::max(most_live_v, step.voltage_v.value_or(0.0));
            }
        }
        if (j.verdict.connection != study::Connection::forbidden) {
            CHECK(most_live_v == same(std::max(battery_v, highest_stand_v(j))));
        }
        for (const study::PartLine& line : study::parts_of(setup, j)) {
            if (line.id != "disconnect") continue;
            bool known = false;
            for (const InputJudgement& one : j.inputs) {
                const std::string stand = std::to_string(static_cast<long>(std::ceil(one.wires.stand_v - 1e-9)));
                known = known || line.what.find(" " + stand + " V and ") != std::string::npos;
            }
            CAPTURE(line.what);
            CHECK(known);
        }
        const search::ComparedPlan compared = search::compared_plan(system, *setup.wiring);
        double highest_v = 0.0;
        for (const InputJudgement& one : j.inputs) highest_v = std::max(highest_v, one.wires.cold_voc_v);
        CHECK(compared.highest_cold_voc_v == same(highest_v));
        if (round % 10 != 0) continue;  // slow
        const measured::FieldModel field(system, *setup.wiring, {});
        const measured::CommissioningCard cards = measured::commissioning_card(field);
        for (const measured::InputCard& card : cards.inputs) {
            for (const InputJudgement& one : j.inputs) {
                if (one.input != card.input) continue;
                CHECK(card.cold_voc_v == same(one.wires.stand_v));
                CHECK(card.highest_isc_a == same(one.wires.bright_isc_a));
            }
        }
    }
    // The cases are worth the name.
    CHECK(with_more_light > 50);
    CHECK(by_curve > 10);
}
