// The commissioning card: what to read, in which order, when to stop; and what the readings say.
#include <plait/measured/commissioning_card.hpp>
#include <plait/measured/diagnosis.hpp>
#include <plait/measured/field_model.hpp>
#include <plait/output/reports.hpp>

#include "card_words.hpp"
#include "expect_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

namespace plait::output {
namespace {

void add_suspects(Report& report, const measured::FieldModel& model, const measured::Diagnosis& d) {
    if (d.pass()) {
        report.section(Purpose::answer).add(Paragraph{before_suspects(model, d)});
        return;
    }
    Section& section = report.section(Purpose::answer, std::string(suspects_heading));
    section.add(Paragraph{before_suspects(model, d)});
    Table table = table_of("The likeliest first, with the probability of each", {"", "#probability", "how it shows"});
    table.entries = true;
    for (const SuspectWords& s : suspect_words(model, d)) {
        table.rows.push_back({{fmt::format("{}. {}", table.rows.size() + 1, s.head), s.share, s.lines.front()},
                              {s.lines.begin() + 1, s.lines.end()}});
        table.rows.back().notes.push_back("→ " + s.remedy);
    }
    section.add(std::move(table));
    section.add(Paragraph{doubt_sentence(model, d)});
}

void add_readings(Report& report, const measured::FieldModel& model, const measured::CommissioningCard& card,
                  const measured::Diagnosis& d) {
    report.section(Purpose::answer, "Readings and their bands").add(checked_table(model, d));
    add_suspects(report, model, d);
    report.section(Purpose::reading, std::string(cells_heading)).add(Items{cell_sentences(model, card, d)});
}

void add_card(Report& report, const measured::FieldModel& model, const measured::CommissioningCard& card) {
    report.section(Purpose::caution, std::string(do_not_connect)).add(Cautions{stop_signs(model, card), "Stop:"});
    Section& how = report.section(Purpose::reading, std::string(measuring_heading));
    how.add(Items{measuring_steps(model, card), Items::Kind::numbered});
    how.add(Items{insulation_lines(model, card)});
    for (const measured::InputCard& one : card.inputs) {
        const std::string& input = model.system().setup().controller.inputs[one.input].name;
        Section& expected = report.section(Purpose::reading, input + ": what to read");
        expected.add(expected_table(model, card, one));
        expected.add(Paragraph{operating_note(card, one)});
        report.section(Purpose::reading, input + ": what another reading may mean (* outside its band)")
            .add(fault_table(model, card, one));
    }
    report.section(Purpose::reading).add(Items{display_notes(model, card)});
    report.section(Purpose::reading, "Read by hand")
        .add(Fields{{"date, time, who", "meter", "light sensor, thermometer", "each string, open voltage",
                     "each input's joint, open voltage", "display: volts, amps, watts"}});
}

}  // namespace

Report expect_report(const measured::FieldModel& model, const measured::CommissioningCard& card,
                     const measured::Diagnosis* diagnosis, Provenance provenance) {
    const Setup& setup = model.system().setup();
    Report report = report_on(setup, "For whoever stands beside the array with a meter, before anything is plugged in.",
                              std::move(provenance));
    const std::string plan = plan_words(setup, model.plan());
    Section& answer = report.section(Purpose::answer);
    if (diagnosis == nullptr) {
        report.headline = {Tone::plain, "Commissioning card", plan};
    } else {
        const ReadingVerdict verdict = verdict_of(model, card, *diagnosis);
        report.headline = {verdict.tone, std::string(verdict.word), plan};
        if (verdict.stop) {
            answer.add(Cautions{verdict.sentences, "Stop:"});
        } else {
            answer.add(Items{verdict.sentences});
        }
    }
    answer.add(Paragraph{fmt::format("The plan as it is judged: {}.", headline_of(setup, card.plan_verdict)),
                         card.plan_verdict.ready() ? Tone::plain : tone_of(card.plan_verdict)});
    if (card.plan_verdict.could_exceed) answer.add(Paragraph{std::string(could_exceed_words), Tone::doubtful});
    for (const std::string& sentence : weather_sentences(card)) answer.add(Paragraph{sentence});
    if (diagnosis == nullptr) {
        add_card(report, model, card);
    } else {
        add_readings(report, model, card, *diagnosis);
    }
    report.section(Purpose::detail, std::string(bands_heading)).add(Items{band_sentences(model, card)});
    add_cautions(report, card.cautions);
    return report;
}

}  // namespace plait::output
