// The report on a battery's day: when it is full, what keeps it from being so earlier, what is turned away.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/charge_sheet.hpp>
#include <plait/study/judgement.hpp>

#include "charge_words.hpp"
#include "parts_of_reports.hpp"
#include "verdict_words.hpp"
#include "work_words.hpp"

#include <algorithm>
#include <iterator>

namespace plait::output {
namespace {

/// The cautions for who lives on a battery; who wires reads `check` and `steps`, which have them all.
std::vector<study::Caution> about_charging(const std::vector<study::Caution>& cautions) {
    using study::Moment;
    std::vector<study::Caution> some;
    std::copy_if(cautions.begin(), cautions.end(), std::back_inserter(some), [](const study::Caution& c) {
        return c.moment == Moment::at_the_battery || c.moment == Moment::in_the_cold || c.moment == Moment::in_use;
    });
    return some;
}

}  // namespace

Report charge_report(const Setup& setup, const study::Judgement& judgement, const study::ChargeSheet& sheet,
                     Provenance provenance) {
    Report report = report_on(setup, "When the battery is full, for whoever lives on it.", std::move(provenance));
    add_verdict_head(report, setup, judgement);
    const bool forbidden = judgement.verdict.connection == study::Connection::forbidden;
    report.section(Purpose::answer)
        .add(Paragraph{before_energy(judgement.verdict), forbidden ? Tone::exceeds : Tone::plain});
    Section& answer = report.section(forbidden ? Purpose::detail : Purpose::answer, "The battery");
    answer.add(Paragraph{charge_answer(sheet)});
    answer.add(Paragraph{sun_alone_sentence(sheet)});
    answer.add(Paragraph{turned_away_sentence(sheet)});
    answer.add(Paragraph{input_sentence(sheet)});
    answer.add(Cautions{charge_warnings(sheet), "Careful."});
    answer.add(Paragraph{autonomy_sentence(sheet)});
    answer.add(Paragraph{months_sentence(sheet)});
    answer.add(Paragraph{plane_sentence(sheet)});
    answer.add(Paragraph{clock_sentence(setup, sheet)});

    Section& day = report.section(forbidden ? Purpose::detail : Purpose::reading, "The day");
    day.add(span_table(sheet));
    day.add(Picture{[&setup, &sheet, &judgement] {
        return charge_svg(setup, sheet, judgement.verdict, PictureUse::on_page);
    }});
    report.section(Purpose::detail, "Where the day’s energy goes").add(energy_table(sheet));
    report.section(Purpose::detail, "Hour by hour").add(interval_table(sheet));
    report.section(Purpose::detail, "Over the year").add(month_table(sheet));
    report.section(Purpose::detail, "What it rests on").add(Items{charge_basis(setup, sheet)});
    const bool clear = sheet.skies == study::Skies::clear;
    add_next_steps(report, {forbidden ? "Let `plait arrange` look for a wiring of these panels that is within the limits."
                            : clear ? "This is a clear day, the best there is; real days: `--weather FILE`. Others: `--day 12-21`."
                            : "Another day, hour or wall: `--day 12-21`, `--at 09:00`, `--wall \"600 W\"`.",
                            "Before you connect anything: `plait check` and `plait steps`."});
    add_cautions(report, about_charging(judgement.cautions));
    return report;
}

}  // namespace plait::output
