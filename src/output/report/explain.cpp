// The report on a log: where the sun went, what to change first, the account.
#include <plait/measured/log_series.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>

#include "curve_doubts.hpp"
#include "explain_findings.hpp"
#include "explain_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

namespace plait::output {

Report explain_report(const study::SystemModel& system, const ExplainedLog& log, const measured::LogSeries& series,
                      Provenance provenance) {
    const Setup& setup = system.setup();
    Report report = report_on(setup, "A log, explained: for the owner who wonders about the yield, and whoever is asked for advice.",
                              std::move(provenance));
    report.headline = {Tone::plain, "Where the sun went", input_and_wiring(setup, log.input, log.wiring)};
    Section& answer = report.section(Purpose::answer);
    answer.add(Items{summary(system, log)});
    answer.add(Paragraph{fmt::format("What `plait check` says of this wiring: {}.", headline_of(setup, log.verdict)),
                         log.verdict.ready() ? Tone::plain : tone_of(log.verdict)});
    report.section(Purpose::next, "What to change first").add(Paragraph{first_change(system, log)});
    Section& account = report.section(Purpose::reading, "The account");
    account.add(Paragraph{what_was_logged(log) + "."});
    account.add(account_table(system, log));
    account.add(Picture{[&setup, &log, &series] {
        return log_svg(setup, log.account, series, log.verdict, PictureUse::on_page);
    }});
    Section& found = report.section(Purpose::reading, "What else the log shows");
    found.add(Items{findings(system, log)});
    found.add(wall_table(log));
    std::vector<std::string> open = what_stays_open(system, log);
    open.insert(open.end(), log.notes.begin(), log.notes.end());
    report.section(Purpose::look_up, "What the log does not tell").add(Items{std::move(open)});
    add_doubts(report, all_doubts(setup, study::curves_of(system)));
    report.section(Purpose::reading).add(Paragraph{std::string(by_probabilities)});
    add_assumptions(report, study::all_assumptions(system));
    return report;
}

}  // namespace plait::output
