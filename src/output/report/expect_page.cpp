#include <plait/output/page.hpp>

#include "arrange_words.hpp"
#include "card_words.hpp"
#include "page_parts.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

constexpr std::string_view audience =
    "For whoever stands beside the array with a meter, before anything is plugged in.";

void add_suspects(PageBuilder& page, const measured::FieldModel& model, const measured::Diagnosis& d) {
    const std::string before = before_suspects(model, d);
    if (d.pass()) {
        page.paragraph(before);
        return;
    }
    page.heading(suspects_heading);
    page.paragraph(before);
    std::size_t i = 0;
    for (const SuspectWords& s : suspect_words(model, d)) {
        page.subheading(fmt::format("{}. {} ({})", ++i, s.head, s.share));
        for (const std::string& line : s.lines) page.paragraph(line);
        page.paragraph("→ " + s.remedy);
    }
    page.paragraph(doubt_sentence(model, d));
}

void add_readings(PageBuilder& page, const measured::FieldModel& model, const measured::CommissioningCard& card,
                  const measured::Diagnosis& d) {
    page.table(checked_table(model, d));
    add_suspects(page, model, d);
    const std::vector<std::string> cells = cell_sentences(model, card, d);
    if (cells.empty()) return;
    page.heading(cells_heading);
    page.list(cells);
}

void add_input(PageBuilder& page, const measured::FieldModel& model, const measured::CommissioningCard& card,
               const measured::InputCard& one) {
    page.heading(fmt::format("{}: what to read", model.system().setup().controller.inputs[one.input].name));
    page.table(expected_table(model, card, one));
    page.paragraph(operating_note(card, one));
    page.table(fault_table(model, card, one));
}

}  // namespace

std::string expect_page(const measured::FieldModel& model, const measured::CommissioningCard& card,
                        const measured::Diagnosis* diagnosis) {
    const Setup& setup = model.system().setup();
    PageBuilder page(page_title(setup, "Commissioning card"));
    const std::string plan = plan_label(setup, model.plan());
    if (diagnosis == nullptr) {
        page.title_heading("Commissioning card: " + plan);
        page.audience(audience);
    } else {
        const ReadingVerdict verdict = verdict_of(model, card, *diagnosis);
        page.verdict(verdict.outcome, verdict.word, plan);
        page.audience(audience);
        if (verdict.stop) {
            page.cautions(verdict.sentences);
        } else {
            page.list(verdict.sentences);
        }
        add_readings(page, model, card, *diagnosis);
    }
    page.heading("The weather it holds for");
    for (const std::string& sentence : weather_sentences(card)) page.paragraph(sentence);
    page.heading(do_not_connect);
    page.cautions(stop_signs(model, card), "Stop:");
    page.heading(measuring_heading);
    page.numbered(measuring_steps(model, card));
    page.list(insulation_lines(model, card));
    for (const measured::InputCard& one : card.inputs) add_input(page, model, card, one);
    for (const std::string& note : display_notes(model, card)) page.paragraph(note);
    page.heading(bands_heading);
    page.list(band_sentences(model, card));
    page.cautions(texts_of(card.cautions));
    return page.html();
}

}  // namespace plait::output
