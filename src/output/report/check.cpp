// The report on one wiring: may it be connected, what does it take, what to do, what a meter shows; then every rule.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>
#include <plait/study/window_map.hpp>

#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "harvest_words.hpp"
#include "hot_spot_words.hpp"
#include "look_up_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"
#include "wires_words.hpp"

namespace plait::output {
namespace {

/// What to do after reading, by the verdict.
std::string next_sentences(const study::Judgement& j) {
    const study::Verdict& v = j.verdict;
    if (!v.usable()) {
        return "Next: do not plug it in. Let `plait arrange` look for a wiring of these panels that is within the limits.";
    }
    if (v.connection == study::Connection::may_exceed || v.connection == study::Connection::undecided || v.could_exceed) {
        return "Next: do not plug it in yet; settle what is named, or see `plait arrange`.";
    }
    if (v.connection == study::Connection::once_added) {
        return "Next: get what it needs, put it into the set-up and check again.";
    }
    if (!j.hot_spots.empty()) return "Next: move the panel, or cut or move what shades it, and check again.";
    return "Next: `plait parts` to buy, `plait steps` to wire, `plait expect` to measure.";
}

void add_cables(Section& section, const Setup& setup, const std::vector<rules::CableFigures>& cables,
                const std::string& sentence) {
    section.add(cable_table(setup, cables));
    section.add(Paragraph{sentence});
}

void add_input_detail(Report& report, const Setup& setup, const study::InputJudgement& one) {
    const std::string name = input_and_wiring(setup, one.input, one.wiring);
    Section& rules = report.section(Purpose::detail, name + ", rule by rule");
    rules.add(rule_table(one.verdicts));
    Section& operation = report.section(Purpose::detail, name + ", in operation");
    operation.add(reading_table(one.points, Weathers::test_conditions));
    operation.add(operation_table(one.points));
    operation.add(Items{help_sentences(one)});
    operation.add(driven_table(one, kind_ids(setup)));
    if (one.wires.cables.empty()) return;
    add_cables(report.section(Purpose::detail, name + ", cables"), setup, one.wires.cables, wires_sentence(one.wires));
}

}  // namespace

Report check_report(const study::SystemModel& system, const study::Judgement& j, const study::LookUpList& look_ups,
                    Provenance provenance, const study::ClearDays* clear_days) {
    const Setup& setup = system.setup();
    Report report = report_on(setup, "One wiring, judged: for its owner, whoever installs it and whoever reviews it.",
                              std::move(provenance));
    report.headline = {tone_of(j.verdict), headline_of(setup, j.verdict), plan_words(setup, j)};
    ArrayPlan plan(setup.controller.inputs.size());
    for (const study::InputJudgement& one : j.inputs) plan[one.input] = one.wiring;

    Section& answer = report.section(Purpose::answer);
    answer.add(Paragraph{sentence_of(j.verdict)});
    answer.add(Paragraph{could_exceed_sentence(j, look_ups), Tone::doubtful});
    answer.add(Items{first_reasons(setup, j)});
    answer.add(Paragraph{unused_sentence(setup, plan)});
    if (clear_days && j.verdict.connection != study::Connection::forbidden) answer.add(Paragraph{clear_days_sentence(*clear_days)});
    std::vector<std::string> spots;
    for (const study::HotSpot& spot : j.hot_spots) spots.push_back(hot_spot_line(setup, spot));
    if (!spots.empty()) answer.add(Cautions{std::move(spots), "It can burn."});
    if (!j.cautions.empty()) answer.add(Cautions{{j.cautions.front().text}, "Before you touch it."});
    report.section(Purpose::next).add(Paragraph{next_sentences(j)});
    add_look_ups(report, j, look_ups);
    add_doubts(report, all_doubts(setup, j.curves));
    // Of a wiring that must not be connected nobody needs to expect anything.
    const Purpose reading_purpose = j.verdict.usable() ? Purpose::reading : Purpose::detail;
    for (const study::InputJudgement& one : j.inputs) {
        Section& reading = report.section(reading_purpose, "What a meter should read on " + input_and_wiring(setup, one.input, one.wiring));
        reading.add(reading_table(one.points, Weathers::outdoors));
    }
    add_cautions(report, j.cautions, true);
    for (const study::InputJudgement& one : j.inputs) {
        Section& pictures = report.section(Purpose::reading, input_and_wiring(setup, one.input, one.wiring) + ", drawn");
        pictures.add(Picture{[&system, &j, &one] {
            return window_map_svg(system.setup(), study::window_map(system, one.input, {{one.wiring, j.verdict}}), j.verdict,
                                  PictureUse::on_page);
        }});
        pictures.add(Picture{[&setup, &j, &one] { return wiring_svg(setup, one, j.verdict, PictureUse::on_page); }});
    }
    if (!j.hot_spots.empty()) {
        Section& hot = report.section(Purpose::detail, "Hot spots");
        hot.add(Cautions{hot_spot_sentences(setup, j.hot_spots)});
    }
    for (const study::InputJudgement& one : j.inputs) add_input_detail(report, setup, one);
    report.section(Purpose::detail, "What it takes").add(Items{harvest_sentences(setup, j)});
    if (!j.plan.empty()) report.section(Purpose::detail, "All inputs together, rule by rule").add(rule_table(j.plan));
    if (j.battery.current && !j.battery.cables.empty()) {
        add_cables(report.section(Purpose::detail, std::string(battery_heading)), setup, j.battery.cables,
                   battery_sentence(j.battery));
    }
    add_assumptions(report, j.assumptions);
    add_legend(report);
    return report;
}

}  // namespace plait::output
