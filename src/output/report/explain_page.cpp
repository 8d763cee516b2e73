#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "curve_doubts.hpp"
#include "explain_words.hpp"
#include "page_parts.hpp"

namespace plait::output {

std::string explain_page(const study::SystemModel& system, const ExplainedLog& log, const measured::LogSeries& series) {
    const Setup& setup = system.setup();
    PageBuilder page(page_title(setup, "A log, explained"));
    page.title_heading("Where the sun went: " + input_and_wiring(setup, log.input, log.wiring));
    page.audience("A log, explained: for the owner who wonders about the yield, and whoever is asked for advice.");
    page.list(summary(system, log));
    page.heading("What to change first");
    page.paragraph(first_change(system, log));
    page.heading("Hour by hour");
    page.paragraph(what_was_logged(log) + ".");
    page.picture(log_svg(log.account, series, PictureUse::on_page));
    page.heading("The account");
    page.table(account_table(system, log));
    std::vector<std::string> open = what_stays_open(system, log);
    open.insert(open.end(), log.notes.begin(), log.notes.end());
    if (!open.empty()) page.heading("What stays open");
    page.list(open);
    add_assumptions(page, study::all_assumptions(system), all_doubts(setup, study::curves_of(system)));
    page.paragraph(by_probabilities);
    return page.html();
}

}  // namespace plait::output
