// The order of work.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/steps.hpp>

#include "parts_of_reports.hpp"
#include "verdict_words.hpp"
#include "work_words.hpp"

namespace plait::output {
namespace {

WorkSteps work_steps(const std::vector<study::Step>& steps) {
    WorkSteps out;
    for (const study::Step& s : steps) {
        out.steps.push_back({live_words(s), s.voltage_v.has_value(), s.text, texts_of(s.cautions)});
    }
    return out;
}

}  // namespace

Report steps_report(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps,
                    Provenance provenance) {
    Report report = report_on(
        setup, "The order of work, for whoever does the wiring. Read it to the end before you begin.", std::move(provenance));
    add_verdict_head(report, setup, judgement);
    if (!judgement.verdict.usable()) {
        report.section(Purpose::answer)
            .add(Cautions{{"Do not wire it like this: it is outside the stated limits. `plait check` says why."}});
    }
    Section& wiring = report.section(Purpose::reading, "Wiring it");
    wiring.add(Paragraph{std::string(step_voltages)});
    wiring.add(work_steps(steps.connect));
    add_wiring_pictures(report, setup, judgement);
    report.section(Purpose::reading, "Taking it apart").add(work_steps(steps.take_apart));
    return report;
}

}  // namespace plait::output
