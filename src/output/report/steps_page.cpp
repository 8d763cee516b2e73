#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "page_parts.hpp"
#include "work_words.hpp"

namespace plait::output {
namespace {

std::vector<PageBuilder::WorkStep> work_steps(const std::vector<study::Step>& steps) {
    std::vector<PageBuilder::WorkStep> out;
    for (const study::Step& s : steps) {
        out.push_back({live_words(s), s.voltage_v.has_value(), s.text, texts_of(s.cautions)});
    }
    return out;
}

}  // namespace

std::string steps_page(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps) {
    PageBuilder page(page_title(setup, "The order of work"));
    add_verdict(page, setup, judgement,
                "The order of work, for whoever does the wiring. Read it to the end before you begin.");
    if (judgement.outcome >= rules::Outcome::falls_short) {
        page.cautions({"Do not wire it as it stands: it is outside the stated limits. `plait check` says why."});
    }
    page.paragraph(step_voltages);
    page.marks({{"⚡ up to … V", "there may be as much between the bare ends you hold at this step"},
                {"○ dead", "nothing is live at this step, if the steps before it were done"}});
    page.heading("Wiring it");
    page.work_steps(work_steps(steps.connect));
    for (const study::InputJudgement& one : judgement.inputs) {
        page.subheading(input_and_wiring(setup, one.input, one.wiring));
        page.picture(wiring_svg(setup, one, PictureUse::on_page));
    }
    if (!steps.take_apart.empty()) {
        page.heading("Taking it apart");
        page.work_steps(work_steps(steps.take_apart));
    }
    return page.html();
}

}  // namespace plait::output
