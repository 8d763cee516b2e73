#include "work_words.hpp"

#include <plait/output/picture.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>

#include "check_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <cmath>

namespace plait::output {

void add_verdict_head(Report& report, const Setup& setup, const study::Judgement& judgement) {
    report.headline = {tone_of(judgement.verdict), headline_of(setup, judgement.verdict), plan_words(setup, judgement)};
    Section& answer = report.section(Purpose::answer);
    answer.add(Paragraph{sentence_of(judgement.verdict)});
    if (judgement.verdict.could_exceed) answer.add(Paragraph{std::string(could_exceed_words), Tone::doubtful});
    if (!judgement.verdict.ready()) answer.add(Items{first_reasons(setup, judgement)});
}

void add_wiring_pictures(Report& report, const Setup& setup, const study::Judgement& judgement) {
    for (const study::InputJudgement& one : judgement.inputs) {
        report.section(Purpose::reading, input_and_wiring(setup, one.input, one.wiring) + ", drawn")
            .add(Picture{[&setup, &judgement, &one] {
                return wiring_svg(setup, one, judgement.verdict, PictureUse::on_page);
            }});
    }
}

std::string count_words(const study::PartLine& p) {
    return p.measured == study::Measured::metres ? fmt::format("{:.1f} m", p.count) : fmt::format("{:.0f} ×", p.count);
}

std::string price_sentence(const Setup& setup, const std::vector<study::PartLine>& parts) {
    const std::optional<double> price = study::price_of(parts);
    if (!price || !(*price > 0.0)) return "";
    return fmt::format("The panels come to {:.2f}{}{}.", *price, setup.currency.empty() ? "" : " ", setup.currency);
}

std::string no_cables_sentence(const Setup& setup) {
    return setup.cables.empty() ? "The set-up has no [[cable]]: add them with their lengths, and they are listed here."
                                : "";
}

std::string live_words(const study::Step& step) {
    if (step.voltage_v) return fmt::format("up to {:.0f} V", std::ceil(*step.voltage_v - 1e-9));
    return step.contact == study::Contact::none ? "–" : "dead";
}

}  // namespace plait::output
