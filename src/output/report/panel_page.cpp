#include <plait/output/page.hpp>

#include "page_parts.hpp"
#include "panel_words.hpp"
#include "render/style.hpp"

namespace plait::output {

std::string panel_page(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                       const std::vector<std::string>& doubts) {
    const std::vector<std::string> all_doubts = panel_doubts(sheet, doubts);
    PageBuilder page(sheet.panel.name);
    page.title_heading(sheet.panel.name);
    page.audience("One datasheet, read for whoever chooses the panel or checks its figures.");
    if (doubts.empty()) page.paragraph(figures_agree);
    if (!all_doubts.empty()) {
        page.paragraph(fmt::format(
            "{} to check before anything is built on {}.",
            all_doubts.size() == 1 ? "There is one figure" : fmt::format("There are {} figures", all_doubts.size()),
            all_doubts.size() == 1 ? "it" : "them"));
    }
    add_assumptions(page, assumptions, all_doubts);
    page.heading("The datasheet");
    page.list(datasheet_lines(sheet.panel));
    page.heading("The curve");
    page.list(curve_lines(sheet));
    page.heading("In heat and cold");
    page.table(temperature_table(sheet));
    page.paragraph(lines_and_curves);
    page.heading("In weak light");
    page.table(light_table(sheet));
    page.heading("What to do next");
    page.numbered(
        {"Hold what is listed here against the maker’s sheet, sign by sign: a misread coefficient moves every "
         "cold voltage.",
         "Name the file in a set-up and let `plait check` or `plait arrange` judge a wiring with it."});
    return page.html();
}

}  // namespace plait::output
