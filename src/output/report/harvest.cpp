// The report on a harvest over time: what a wiring delivers, what limits take of it, by month or hour, what would add.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/judgement.hpp>

#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "harvest_words.hpp"
#include "look_up_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

namespace plait::output {
namespace {

/// Which pictures there are of a time.
std::vector<std::string_view> harvest_pictures(const study::HarvestSheet& sheet) {
    switch (sheet.period.span) {
        case study::HarvestSpan::year:
            return {"year", "carpet"};
        case study::HarvestSpan::month:
            return {"carpet"};
        case study::HarvestSpan::day:
            return {"day"};
    }
    return {};
}

}  // namespace

Report harvest_report(const HarvestSubject& subject, Provenance provenance) {
    const Setup& setup = subject.system.setup();
    const study::Judgement& j = subject.judged.judgement;
    const study::HarvestSheet& sheet = subject.sheet;
    const bool forbidden = j.verdict.connection == study::Connection::forbidden;
    Report report = report_on(
        setup, fmt::format("Harvest, {}: for the owner who wonders what it brings, and whoever plans it.", period_words(sheet.period)),
        std::move(provenance));
    report.headline = {tone_of(j.verdict), headline_of(setup, j.verdict), plan_words(setup, j)};

    Section& answer = report.section(Purpose::answer);
    answer.add(Paragraph{could_exceed_sentence(j, subject.judged.look_ups), Tone::doubtful});
    if (forbidden) answer.add(Items{first_reasons(setup, j)});
    answer.add(Paragraph{before_energy(j.verdict), forbidden ? Tone::exceeds : Tone::plain});
    if (!forbidden) answer.add(Items{harvest_answer(setup, sheet)});
    if (!forbidden) answer.add(Paragraph{not_counted_sentence(sheet.harvest.unstated)});
    answer.add(Cautions{{j.cautions.front().text, std::string(read_check_first)}, "Before you touch it."});

    Section& gains = report.section(Purpose::next, forbidden ? "Instead" : "What would bring more");
    gains.add(Items{gain_sentences(setup, sheet, j.verdict, subject.gains)});

    const Purpose reading = forbidden ? Purpose::detail : Purpose::reading;
    Table brief = sheet.period.span == study::HarvestSpan::year ? harvest_half_years(sheet) : harvest_parts_table(sheet, true);
    Section& parts = report.section(reading, brief.caption);
    if (forbidden) parts.add(Items{harvest_answer(setup, sheet)});
    const std::size_t shown = brief.rows.size();
    parts.add(std::move(brief));
    for (const std::string_view picture : harvest_pictures(sheet)) {
        parts.add(Picture{[&setup, &sheet, &j, picture] { return picture == "year"     ? harvest_year_svg(setup, sheet, j.verdict, PictureUse::on_page)
                   : picture == "carpet" ? harvest_carpet_svg(setup, sheet, j.verdict, PictureUse::on_page)
                                         : harvest_day_svg(setup, sheet, j.verdict, PictureUse::on_page); }});
    }
    for (std::size_t p = 0; setup.location && p < setup.planes.size(); ++p) {
        parts.add(Picture{[&setup, &j, p] { return horizon_svg(setup, p, j.verdict, PictureUse::on_page); }});
    }
    report.section(Purpose::look_up, "What it rests on").add(Items{harvest_basis(setup, sheet)});
    add_doubts(report, all_doubts(setup, j.curves));
    Table full = harvest_parts_table(sheet, false);
    if (full.rows.size() != shown) report.section(Purpose::detail, full.caption + ", in full").add(std::move(full));
    report.section(Purpose::detail, "Where the energy goes").add(harvest_account_table(sheet));
    report.section(Purpose::detail, "Input by input").add(harvest_inputs_table(setup, sheet));
    report.section(Purpose::detail).add(Paragraph{
        "possible: every panel in use at its own best in the light and warmth of that hour; limits: what inputs and battery "
        "do not take of it; between what is left and what is delivered are panels tied together, cables and conversion. mostly "
        "by: the limit that takes most in most of the hours. Times are standard time, without summer time."});
    // Nobody wires by this report; `plait check` has them in every form.
    std::vector<std::string> cautions = texts_of(j.cautions);
    if (!cautions.empty()) cautions.erase(cautions.begin());
    report.section(Purpose::detail, "Be careful").add(Cautions{std::move(cautions)});
    add_assumptions(report, j.assumptions);
    add_legend(report);
    return report;
}

}  // namespace plait::output
