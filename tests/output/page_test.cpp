// Pages and pictures: whatever a file says is text and nothing else.
#include "../measured/field.hpp"
#include "../support/arrays.hpp"
#include "../support/report_text.hpp"

#include <plait/measured/commissioning_card.hpp>
#include <plait/measured/diagnosis.hpp>
#include <plait/measured/field_model.hpp>
#include <plait/measured/log_series.hpp>
#include <plait/measured/window_comparison.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/search/advised.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/search/comparison.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>
#include <plait/study/panel_sheet.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>
#include <plait/study/window_map.hpp>

#include <catch2/catch.hpp>

#include "picture/svg.hpp"

#include <string>

using namespace plait;
using namespace plait::output;
using study::Trial;
using support::times;

namespace {

const std::string nasty = "</script>&\"'<b>";

/// A set-up whose every name is as bad as it can be, and one that is written from right to left.
Trial nasty_trial() {
    Trial t = study::roomy_trial();
    t.setup.title = nasty;
    t.setup.kinds[0].panel.name = nasty;
    t.input().name = nasty;
    t.setup.doubts.push_back(nasty);
    t.setup.assumptions.push_back({Quantity::site_mounting, {}, {}, nasty, nasty, nasty, nasty});
    Panel other = rules::round_panel();
    other.name = "לוח שמש";
    t.add_kind("other", other);
    return t;
}

}  // namespace

TEST_CASE("escaping: nothing of a text is markup, and control characters never reach it") {
    CHECK(escaped(nasty) == "&lt;/script&gt;&amp;&quot;&#39;&lt;b&gt;");
    CHECK(escaped(std::string("a\x01z\x1b")) == "a\xEF\xBF\xBDz\xEF\xBF\xBD");
    CHECK(escaped("Größe 4 mm²") == "Größe 4 mm²");
}

namespace {

ArrayPlan mixed_plan() {
    ArrayPlan plan(1);
    plan[0].strings = {{{PanelPlace{0, {}}, PanelPlace{1, {}}}, false}, {{PanelPlace{1, {}}, PanelPlace{1, {}}}, true}};
    return plan;
}

/// A sweep of an input that takes 5 A from 12 V on; the names around it are of the worst.
measured::LearnSheet nasty_sweep(const Setup& setup) {
    std::vector<measured::SweepRow> rows;
    for (int v = 8; v <= 60; v += 2) {
        measured::SweepRow row;
        row.line = v;
        row.voltage_v = v;
        row.current_a = v < 12 ? 0.0 : 5.0;
        rows.push_back(row);
    }
    measured::LearnSheet sheet;
    auto window = measured::learn_window(rows, {0.01});
    REQUIRE(window.has_value());
    sheet.window = *window;
    sheet.file = nasty + ".csv";
    sheet.notes = {"Not used: " + nasty + "."};
    sheet.controller = setup.controller;
    sheet.compared = measured::compare_window(sheet.window, *sheet.controller, *sheet.printed());
    return sheet;
}

measured::LogSeries short_series() {
    measured::LogSeries series;
    for (int i = 0; i < 3; ++i) {
        measured::ExplainedRow row;
        row.row.time_s = 300.0 * i;
        row.hours_s = 300.0;
        row.measured_w = 50.0;
        row.possible_w = 80.0;
        series.add(row);
    }
    return series;
}

/// Every page the program makes, of one set-up, by the command that makes it.
std::vector<std::pair<std::string, std::string>> every_page(const Trial& t) {
    const study::SystemModel system(t.setup);
    const ArrayPlan plan = mixed_plan();
    const study::Judgement judged = study::judge(system, plan);
    const study::LookUpList look_ups = study::look_up(system, plan, judged);
    const search::Arrangement arranged = search::arrange(system);
    const std::optional<search::Advised> advised = search::advised_of(system, arranged);
    const study::CurveSheet sheet{{}, {study::input_curve(system, 0, plan[0], {}, {})}};
    std::vector<study::PartLine> parts = study::parts_of(t.setup, judged);
    parts.push_back({"panel", nasty, nasty, 2.0, study::Measured::pieces, nasty, 12.5});
    study::StepList steps = study::steps_of(t.setup, judged);
    steps.connect.push_back({"step", nasty, 24.2, {{"caution", nasty, nasty}}});
    const study::PanelSheet panel = study::panel_sheet(t.setup.kinds[0].panel, CurveMethod::prior_ideality);
    const measured::FieldModel model(system, plan, measured::in_weather(800.0, 45.0));
    const measured::CommissioningCard card = measured::commissioning_card(model);
    const measured::Diagnosis diagnosis = measured::diagnose(model, {{measured::string_voc(0), 40.0}});
    const ExplainedLog log{0, plan[0], {}, {}, {}, judged.verdict, {"not read: " + nasty}};
    const NamedSetup named{nasty + ".toml", &t.setup};
    const search::Comparison compared =
        search::compare({search::setup_as_wired(system, plan), search::advised_setup(system, {})});
    const Provenance from{"plait", nasty + ".toml", "00", {"--wiring " + nasty}, ""};
    const measured::LearnSheet sweep = nasty_sweep(t.setup);
    const measured::LogSeries series = short_series();
    // A day at the equator, on a plane of a bad name.
    Setup placed = t.setup;
    placed.location = Location{};
    Plane roof;
    roof.name = nasty;
    roof.horizon = {{90.0, 5.0}, {270.0, 8.0}};
    placed.planes = {roof};
    const study::SystemModel placed_system(placed);
    study::HarvestSheet harvest{{study::HarvestSpan::day, 6, 21, std::nullopt}, false, false,
                                study::light_series(placed, study::clear_days(placed, 20260, 1)), {}};
    harvest.harvest = study::HarvestStudy(placed_system, harvest.light).run(plan);
    const study::LookedUp looked_up{judged, look_ups};
    const search::HarvestGains gains;
    return {{"check", page(check_report(system, judged, look_ups, from))},
            {"arrange", page(arrange_report(system, arranged, advised ? &*advised : nullptr, {{plan, judged}}, {5, false}, from))},
            {"curve", page(curve_report(system, sheet, judged, {}, from))},
            {"parts", page(parts_report(t.setup, judged, parts, from))},
            {"steps", page(steps_report(t.setup, judged, steps, from))},
            {"panel", page(panel_report(panel, t.setup.assumptions, t.setup.doubts, from))},
            {"learn", page(learn_report(sweep, from))},
            {"explain", page(explain_report(system, log, series, from))},
            {"expect", page(expect_report(model, card, nullptr, from))},
            {"readings", page(expect_report(model, card, &diagnosis, from))},
            {"compare", page(compare_report({named, named}, compared, from))},
            {"harvest", page(harvest_report({placed_system, plan, looked_up, harvest, gains}, from))}};
}

}  // namespace

TEST_CASE("pages: names from files are text, not markup") {
    for (const auto& [command, page] : every_page(nasty_trial())) {
        CAPTURE(command);
        CHECK(page.rfind(page_mark, 0) == 0);
        CHECK(times(page, nasty) == 0);
        CHECK(times(page, "<b>") == 0);
        CHECK(times(page, "<script") == 0);
        CHECK(times(page, "&lt;/script&gt;&amp;") > 0);
        // Self-contained: no address but the name of SVG's own language.
        CHECK(times(page, "http") == times(page, "http://www.w3.org/2000/svg"));
        CHECK(times(page, " src=") + times(page, "url(") + times(page, "@import") == 0);
        CHECK(times(page, " href=") == times(page, " href=\"#line-"));
        CHECK(times(page, "<h1") == 1);
    }
}

TEST_CASE("pages: tables are tables, each with a caption and headings; who it is for stands under the heading") {
    for (const auto& [command, page] : every_page(nasty_trial())) {
        CAPTURE(command);
        CHECK(times(page, "<pre") == 0);
        if (command != "steps") CHECK(times(page, "<table") > 0);
        CHECK(times(page, "<caption>") == times(page, "<table"));
        CHECK(times(page, "<caption></caption>") == 0);
        CHECK(times(page, "<th scope=\"col\"") >= times(page, "<table"));
        CHECK(times(page, "<th scope=\"row\"") >= times(page, "<table"));
        CHECK(times(page, "<p class=\"for\">") == 1);
    }
    const std::string steps = every_page(nasty_trial())[4].second;
    CHECK(times(steps, "<ol class=\"work\">") >= 1);
    CHECK(times(steps, "up to 25 V") == 1);  // 24.2 V, rounded up
}

TEST_CASE("reports: a finding of a rule that decides nothing is shown, by text and page") {
    const Trial t = study::roomy_trial();
    const study::SystemModel system(t.setup);
    study::Judgement judged = study::judge(system, ArrayPlan{written_out({0, 2, 2})});
    const std::string_view alone = judged.inputs.front().verdicts.front().rule->title;
    for (study::RuleVerdict& v : judged.inputs.front().verdicts) {
        if (v.rule->title == alone) v.finding.decides = false;
    }
    const Report report = check_report(system, judged, {}, {});
    CHECK(times(page(report), escaped(alone)) > 0);
    CHECK(times(terminal_text(report, {Colour::off, 80, true}), std::string(alone)) > 0);
}

TEST_CASE("reports: what the curve misses of its datasheet is told by every one of them") {
    // The round panel's coefficients do not go together (curve_doubts_test.cpp).
    const std::string doubt = "The figures do not go together";
    const Trial t = study::roomy_trial();
    for (const auto& [command, page] : every_page(nasty_trial())) {
        CAPTURE(command);
        const bool of_panels = command != "learn" && command != "parts" && command != "steps";
        if (command == "compare") {
            CHECK(times(page, "figures are doubtful") > 0);  // which ones is said by plait check
        } else if (of_panels && command != "expect" && command != "readings") {
            CHECK(times(page, doubt) > 0);
        }
    }
    const study::SystemModel system(t.setup);
    const ArrayPlan plan{written_out({0, 2, 2})};
    const study::Judgement judged = study::judge(system, plan);
    const study::CurveSheet sheet{{}, {study::input_curve(system, 0, plan[0], {}, {})}};
    const auto text = [](const Report& report) { return support::flat(terminal_text(report, {})); };
    CHECK(times(text(curve_report(system, sheet, judged, {}, {})), doubt) == 1);
    const ExplainedLog log{0, plan[0], {}, {}, {}, judged.verdict, {}};
    CHECK(times(text(explain_report(system, log, {}, {})), doubt) == 1);
}

TEST_CASE("window map: the region is the window, the tracks are where the input holds the wirings") {
    Trial t = study::roomy_trial();
    t.input().bands = {{0.0, 50.0, 8.0}, {50.0, 100.0, 15.0}};
    t.input().max_power_w = 600.0;
    const study::SystemModel system(t.setup);
    const study::WindowMap map = study::window_map(system, 0, {{written_out({0, 2, 2}), {study::Connection::allowed, study::Intake::clipped}}});
    REQUIRE(map.regions.size() == 2);
    for (const study::MapRegion& region : map.regions) {
        for (const physics::PowerPoint& p : region) {
            CHECK(p.voltage_v >= map.low_v);
            CHECK(p.power_w() <= 600.0 * (1.0 + 1e-12));
            CHECK(p.current_a <= system.window(0).current_limit_a(p.voltage_v) * (1.0 + 1e-12));
        }
    }
    for (const physics::PowerPoint& p : map.tracks.front().path) CHECK(study::allows(system.window(0), p));
    CHECK(map.tracks.front().cold_voc_v == Approx(60.0));  // two panels of 30 V
}
