#include <plait/output/page.hpp>

#include "arrange_words.hpp"
#include "compare_words.hpp"
#include "page_parts.hpp"
#include "render/style.hpp"

namespace plait::output {

std::string compare_page(const std::vector<NamedSetup>& named, const search::Comparison& c) {
    PageBuilder page("Set-ups side by side");
    page.title_heading("Set-ups side by side");
    page.audience("For whoever chooses between controllers, panels or places, and whoever checks the choice.");
    page.list(leader_sentences(named, c));
    page.cautions({std::string(read_check_first)});
    for (TableWords table : {harvest_table(c), wiring_table(c)}) {
        page.heading(table.caption);
        table.caption = "A row for each set-up; what the headings mean stands below";
        page.table(table);
    }
    page.paragraph(comparison_legend(c));
    page.heading("One by one");
    for (std::size_t i = 0; i < named.size(); ++i) {
        page.subheading(setup_heading(i, named[i]));
        if (!c.setups[i].plan) {
            page.paragraph(none_within);
        } else {
            const study::Judgement& j = c.setups[i].plan->judgement;
            page.paragraph(fmt::format("{}  {}", mark_of(j.outcome, j.proven),
                                       plan_label(*named[i].setup, c.setups[i].plan->plan)));
        }
        page.paragraph(what_there_is(named[i], c.setups[i]));
        page.list(setup_sentences(named[i], c.setups[i]));
    }
    add_outcome_marks(page);
    return page.html();
}

}  // namespace plait::output
