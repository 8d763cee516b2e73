// One judgement, many forms: text, page, data, tables, pictures and the rankings say the same word with the same
// conditions, over set-ups without end.
#include "../support/report_text.hpp"
#include "../support/setups.hpp"

#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>
#include <plait/study/look_up.hpp>
#include <plait/study/window_map.hpp>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>

using namespace plait;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

constexpr int set_ups = 120;

/// Wide enough that no first line is broken.
std::string wide(const output::Report& report) {
    return output::terminal_text(report, {output::Colour::off, 2000, false});
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

void check_data(const Json& j, const std::string& headline, const study::Verdict& verdict) {
    CHECK(j["headline"] == headline);
    CHECK(j["connection"] == study::name_of(verdict.connection));
    CHECK(j["intake"] == study::name_of(verdict.intake));
    CHECK(j["proven"] == verdict.proven());
    CHECK(j["conditions"].size() == verdict.conditions.size());
}

/// Equal strings whose volts in the cold are near the input's maximum, and nothing else in its way: what only a tolerance
/// decides is rare among set-ups with many limits.
Setup near_its_maximum(test::Dice& dice) {
    Setup setup = test::random_setup(dice, true);
    setup.controller.type = ControllerType::wide_range;
    setup.controller.inputs.resize(1);
    Panel& panel = setup.kinds.front().panel;
    panel.voc_tolerance_ratio = dice.between(0.0, 0.05);
    panel.max_system_voltage_v = 1500.0;
    setup.fittings = {};
    setup.cables.clear();
    Input input;
    input.name = "PV";
    input.over_current = OverCurrent::only_clips;
    ArrayPlan plan(1);
    plan[0] = written_out({0, static_cast<int>(1 + dice.below(5)), static_cast<int>(1 + dice.below(4))});
    const study::SystemModel system(setup);
    input.max_voltage_v = rules::array_cold_voc_v(system.stated(), plan[0]).value * dice.between(0.95, 1.05);
    setup.controller.inputs.front() = input;
    setup.wiring = plan;
    return setup;
}

/// What the report's first line says, without the wiring behind it.
std::string headline_in(const output::Report& report) { return report.headline.word; }

}  // namespace

TEST_CASE("every form of one judgement says the same") {
    test::Dice dice(20261128);
    int with_conditions = 0;
    int named = 0;
    int forbidden = 0;
    for (int i = 0; i < set_ups; ++i) {
        const Setup setup = i % 2 == 0 ? test::random_setup(dice) : near_its_maximum(dice);
        const study::SystemModel system(setup);
        const ArrayPlan& plan = *setup.wiring;
        const study::Judgement j = study::judge(system, plan);
        if (j.inputs.empty()) continue;
        const study::LookUpList look_ups = study::look_up(system, plan, j);
        const output::Report check = output::check_report(system, j, look_ups, {});
        const std::string headline = headline_in(check);
        CAPTURE(i, headline);
        with_conditions += j.verdict.conditions.empty() ? 0 : 1;
        forbidden += j.verdict.connection == study::Connection::forbidden ? 1 : 0;

        // Of a plan that may be connected once something is added, the first line names all of it.
        for (const rules::Condition& c : j.verdict.conditions) {
            if (j.verdict.connection == study::Connection::forbidden) continue;
            ++named;
            CHECK_THAT(headline, Contains(rules::words_of(c, setup)));
        }
        // The mark of what is not proven is there where something is not, and nowhere else.
        const bool marked = headline.find('?') != std::string::npos;
        if (j.verdict.connection == study::Connection::forbidden) CHECK(marked == !j.verdict.connection_proven);
        if (j.verdict.connection == study::Connection::allowed || j.verdict.connection == study::Connection::once_added) {
            CHECK(marked == !j.verdict.proven());
        }
        const auto parts = study::parts_of(setup, j);
        const auto steps = study::steps_of(setup, j);
        const output::Report parts_report = output::parts_report(setup, j, parts, {});
        const output::Report steps_report = output::steps_report(setup, j, steps, {});
        for (const output::Report* report : {&check, &parts_report, &steps_report}) {
            CHECK_THAT(first_line(wide(*report)), Contains(headline));
            const std::string page = output::page(*report);
            CHECK_THAT(page, Contains(headline));
            CHECK_THAT(support::flat(page), Contains("not an approval"));
        }
        check_data(Json::parse(output::check_json(setup, j, look_ups)), headline, j.verdict);
        check_data(Json::parse(output::parts_json(setup, j, parts)), headline, j.verdict);
        check_data(Json::parse(output::steps_json(setup, j, steps)), headline, j.verdict);
        // A table's first line has no commas, so that a spreadsheet keeps it in one cell.
        std::string in_one_cell = headline;
        std::replace(in_one_cell.begin(), in_one_cell.end(), ',', ';');
        CHECK_THAT(first_line(output::parts_csv(setup, j, parts)), Contains(in_one_cell) && Contains("not an approval"));
        for (const study::InputJudgement& one : j.inputs) {
            const study::WindowMap map = study::window_map(system, one.input, {{one.wiring, j.verdict}});
            for (const std::string& svg :
                 {output::window_map_svg(setup, map, j.verdict, output::PictureUse::in_file),
                  output::wiring_svg(setup, one, j.verdict, output::PictureUse::in_file)}) {
                CHECK_THAT(support::flat(svg), Contains("not an approval"));
                if (j.verdict.connection == study::Connection::forbidden) CHECK_THAT(svg, Contains("class=\"across\""));
            }
        }
    }
    // The dice give enough of both to mean something.
    CHECK(with_conditions > set_ups / 20);
    CHECK(named > 5);
    CHECK(forbidden > set_ups / 5);
}

namespace {

/// Every deciding finding of a judgement, its inputs' and the plan's.
std::vector<rules::Finding> deciding(const study::Judgement& j) {
    std::vector<rules::Finding> found;
    const auto add = [&](const std::vector<study::RuleVerdict>& verdicts) {
        for (const study::RuleVerdict& v : verdicts) {
            if (v.finding.decides) found.push_back(v.finding);
        }
    };
    for (const study::InputJudgement& one : j.inputs) add(one.verdicts);
    add(j.plan);
    return found;
}

}  // namespace

TEST_CASE("a verdict hides nothing that its findings say, nor volts that are too many") {
    using rules::Outcome;
    using study::Connection;
    using study::Intake;
    test::Dice dice(7);
    int too_high = 0;
    int by_tolerance = 0;
    int unproven = 0;
    int unknown = 0;
    for (int i = 0; i < 4 * set_ups; ++i) {
        Setup setup = i % 2 == 0 ? test::random_setup(dice) : near_its_maximum(dice);
        const bool silent = i % 4 == 3;  // about the most volts that the input bears
        if (silent) setup.controller.inputs.front().max_voltage_v.reset();
        const study::SystemModel system(setup);
        const study::Judgement j = study::judge(system, *setup.wiring);
        if (j.inputs.empty()) continue;
        if (silent && !setup.wiring->front().empty()) {
            // What nobody knows is not harmless.
            CHECK((j.verdict.connection == Connection::undecided || j.verdict.connection == Connection::may_exceed ||
                   j.verdict.connection == Connection::forbidden));
            unknown += j.verdict.connection == Connection::undecided ? 1 : 0;
        }
        const std::vector<rules::Finding> found = deciding(j);
        const auto any = [&](auto wanted) { return std::any_of(found.begin(), found.end(), wanted); };
        const auto is = [&](Outcome outcome) { return any([=](const rules::Finding& f) { return f.outcome == outcome; }); };
        const Connection connection = j.verdict.connection;
        CAPTURE(i, study::name_of(connection), study::name_of(j.verdict.intake));
        CHECK((connection == Connection::forbidden) == is(Outcome::exceeds));
        const bool tolerance = any([](const rules::Finding& f) {
            return f.outcome == Outcome::within && f.broken == Outcome::exceeds && !f.even_at_worst;
        });
        by_tolerance += tolerance && connection == Connection::may_exceed ? 1 : 0;
        unproven += is(Outcome::exceeds) && !j.verdict.connection_proven ? 1 : 0;
        if (i % 2 == 1 && !silent) {
            const double at_top_v = rules::array_cold_voc_v(system.stated(), setup.wiring->front()).value *
                                    (1.0 + setup.kinds.front().panel.voc_tolerance_ratio);
            if (at_top_v > *setup.controller.inputs.front().max_voltage_v * 1.0001) {
                CHECK((connection == Connection::may_exceed || connection == Connection::forbidden));
            }
        }
        if (tolerance) CHECK((connection == Connection::may_exceed || connection == Connection::forbidden));
        if (is(Outcome::needs)) {
            CHECK(connection != Connection::allowed);
            CHECK_FALSE(j.verdict.conditions.empty());
        }
        CHECK((j.verdict.intake == Intake::falls_short) == is(Outcome::falls_short));
        if (is(Outcome::clips)) CHECK(j.verdict.intake != Intake::all);
        // The volts without any rule: the sum of the printed Voc, which no morning colder than 25 °C makes less.
        for (const study::InputJudgement& one : j.inputs) {
            double stc_v = 0.0;
            for (const SeriesString& string : one.wiring.strings) {
                double sum_v = 0.0;
                for (const PanelPlace& place : string.panels) {
                    if (place.groups.empty()) sum_v += setup.kinds[place.kind].panel.voc_v;
                }
                stc_v = std::max(stc_v, sum_v);
            }
            const std::optional<double>& max_voltage_v = setup.controller.inputs[one.input].max_voltage_v;
            if (max_voltage_v && stc_v > *max_voltage_v * 1.0001) {
                ++too_high;
                CHECK(connection == Connection::forbidden);
            }
        }
    }
    CHECK(too_high > set_ups / 4);
    // The dice give enough of those that only a tolerance decides.
    CHECK(unknown > 5);
    CHECK(by_tolerance > 5);
    CHECK(unproven > 5);
}

namespace {

/// What the list names as deciding is what the report's headline rests on.
void check_decided_by(const search::RankedPlan& plan, const study::Judgement& judgement) {
    const search::Deciding& deciding = plan.deciding;
    const std::vector<study::PlacedFinding> headline = study::headline_findings(judgement);
    CHECK((deciding.rule == nullptr) == (headline.empty() && judgement.verdict.proven()));
    if (headline.empty()) return;
    CAPTURE(headline.front().verdict->rule->id);
    CHECK(deciding.share == rules::headline_share(headline.front().verdict->finding));
    CHECK(std::any_of(headline.begin(), headline.end(), [&](const study::PlacedFinding& f) {
        return f.verdict->rule == deciding.rule && f.input == deciding.input &&
               rules::headline_share(f.verdict->finding) == deciding.share;
    }));
}

}  // namespace

TEST_CASE("a ranking says of a wiring what judging it says") {
    test::Dice dice(41);
    int compared = 0;
    for (int i = 0; i < set_ups; ++i) {
        Setup setup = test::random_setup(dice, true);
        setup.kinds.front().count = static_cast<int>(1 + dice.below(6));
        const study::SystemModel system(setup);
        const search::Arrangement found = search::arrange(system);
        // The first six and, of the others, those that exceed first.
        for (std::size_t p = 0; p < found.plans.size(); ++p) {
            if (p >= 6 && (found.plans[p].verdict.connection != study::Connection::forbidden || p % 3 != 0)) continue;
            const ArrayPlan plan = search::written_out(found, found.plans[p], setup.controller.inputs.size());
            const study::Judgement judgement = study::judge(system, plan);
            const study::Verdict& judged = judgement.verdict;
            CAPTURE(i, p, study::name_of(judged.connection), study::name_of(found.plans[p].verdict.connection));
            CHECK(static_cast<const study::Answers&>(judged) == found.plans[p].verdict);
            check_decided_by(found.plans[p], judgement);
            ++compared;
        }
    }
    CHECK(compared > set_ups);
}
