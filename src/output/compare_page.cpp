#include <plait/output/page.hpp>

#include "arrange_words.hpp"
#include "page_parts.hpp"
#include "style.hpp"

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;

}  // namespace

std::string compare_page(const std::vector<NamedSetup>& named, const study::Comparison& c) {
    PageBuilder page("Set-ups side by side");
    page.title_heading("Set-ups side by side");
    std::vector<std::vector<Cell>> rows;
    for (std::size_t i = 0; i < c.setups.size(); ++i) {
        const Setup& setup = *named[i].setup;
        const std::string letter(1, static_cast<char>('A' + static_cast<char>(i)));
        const std::string title = fmt::format("{}  {}", letter, page_title(setup, named[i].file));
        if (!c.setups[i].plan) {
            rows.push_back({{title, false, {"no wiring can be connected"}}});
            continue;
        }
        const study::ComparedPlan& p = *c.setups[i].plan;
        const rules::Outcome outcome = p.judgement.outcome;
        rows.push_back({{title,
                         false,
                         {plan_label(setup, p.plan),
                          fmt::format("{} {}{}", shape_of(outcome), word_of(outcome), p.judgement.proven ? "" : " ?")}},
                        number_cell(watts(p.judgement.harvest.european_w)),
                        number_cell(watts(p.account.unused_w)),
                        number_cell(watts(p.account.mismatch_w)),
                        number_cell(watts(p.account.cables_w)),
                        number_cell(watts(p.account.inputs_w + p.account.shared_w)),
                        number_cell(volts(p.cold_margin_v)),
                        number_cell(fmt::format("{}", p.joints)),
                        number_cell(fmt::format("{}", p.fuses))});
    }
    page.table(
        "Mean watts on a warm day, weighted over the light of a year (European weights); cold room: volts left on the "
        "coldest morning",
        {"set-up", "harvest", "unused", "mismatch", "cables", "limits", "cold room", "joints", "fuses"}, rows);
    page.heading("In words");
    page.report(compare_text(named, c, Colour::off));
    return page.html();
}

}  // namespace plait::output
