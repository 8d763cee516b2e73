// The report on several set-ups side by side.
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/search/comparison.hpp>

#include "arrange_words.hpp"
#include "compare_words.hpp"
#include "energy_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

namespace plait::output {

Report compare_report(const std::vector<NamedSetup>& named, const search::Comparison& c, Provenance provenance,
                      const EnergyTime* time) {
    Report report;
    report.kind = "For whoever chooses between controllers, panels or places, and whoever checks the choice.";
    report.headline = {Tone::plain, "Set-ups side by side", fmt::format("{} of them", named.size())};
    report.provenance = std::move(provenance);
    report.last_word = deferral;

    // The letters are named before they are used.
    Section& answer = report.section(Purpose::answer);
    Table which = table_of("Which is which, and what each may be", {"", "set-up", "verdict", "wiring"});
    for (std::size_t i = 0; i < named.size(); ++i) {
        const search::ComparedSetup& s = c.setups[i];
        const Setup& setup = *named[i].setup;
        Table::Row row{{letter(i), setup_name(named[i]), "NO WIRING", ""}};
        if (s.plan) {
            row.cells[2] = headline_of(setup, s.plan->judgement.verdict);
            row.cells[3] = plan_label(setup, s.plan->plan);
        }
        which.rows.push_back(std::move(row));
    }
    answer.add(std::move(which));
    Section& lead = report.section(Purpose::answer, "Who leads");
    if (time) lead.add(Items{energy_leaders(named, c, *time)});
    lead.add(Items{leader_sentences(named, c)});
    for (const Table& table : {harvest_table(c), wiring_table(c)}) {
        report.section(Purpose::reading, table.caption).add(table);
    }
    Section& legend = report.section(Purpose::reading);
    legend.add(Paragraph{comparison_legend(c)});
    Section& each = report.section(Purpose::reading, "One by one");
    for (std::size_t i = 0; i < named.size(); ++i) {
        each.add(Paragraph{fmt::format("{}: {}. {}", letter(i), setup_name(named[i]), what_there_is(named[i], c.setups[i]))});
        each.add(Items{setup_sentences(named[i], c.setups[i])});
    }
    report.section(Purpose::caution, "Be careful").add(Cautions{{std::string(read_check_first)}});
    add_legend(report);
    return report;
}

}  // namespace plait::output
