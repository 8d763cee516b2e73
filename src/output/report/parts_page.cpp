#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "page_parts.hpp"
#include "render/style.hpp"
#include "work_words.hpp"

#include <algorithm>

namespace plait::output {

std::string parts_page(const Setup& setup, const study::Judgement& judgement,
                       const std::vector<study::PartLine>& parts) {
    PageBuilder page(page_title(setup, "Parts for a wiring"));
    add_verdict(page, setup, judgement, "A list of parts, for whoever buys them and whoever packs them for the roof.");
    if (judgement.outcome >= rules::Outcome::falls_short) {
        page.cautions(
            {"Buy nothing for this wiring: it is outside the stated limits. `plait check` says why, `plait "
             "arrange` looks for one that is within."});
    }
    const bool priced =
        std::any_of(parts.begin(), parts.end(), [](const study::PartLine& p) { return p.price.has_value(); });
    std::vector<std::string> headings{"part", "how many", "where"};
    if (priced) headings.emplace_back(setup.currency.empty() ? std::string("price") : "price, " + setup.currency);
    std::vector<std::vector<PageBuilder::Cell>> rows;
    for (const study::PartLine& p : parts) {
        PageBuilder::Cell what{p.what, false, {}};
        if (!p.note.empty()) what.small.push_back(p.note);
        rows.push_back({std::move(what), number_cell(count_words(p)), {p.where, false, {}}});
        if (priced) rows.back().push_back(number_cell(p.price ? fmt::format("{:.2f}", *p.price) : std::string("–")));
    }
    page.heading("Parts");
    page.table("What the wiring takes, from the panels to the battery", headings, rows);
    page.paragraph(price_sentence(setup, parts));
    page.paragraph(no_cables_sentence(setup));
    for (const study::InputJudgement& one : judgement.inputs) {
        page.heading(fmt::format("Where they go: {}", input_and_wiring(setup, one.input, one.wiring)));
        page.picture(wiring_svg(setup, one, PictureUse::on_page));
    }
    page.heading("What to do next");
    page.numbered(
        {"Hold the list against the makers’ manuals: connectors of one make only, fuses and disconnects rated "
         "for the direct voltage that stands beside them.",
         "Print the order of work: `plait steps`."});
    page.cautions(texts_of(judgement.cautions));
    return page.html();
}

}  // namespace plait::output
