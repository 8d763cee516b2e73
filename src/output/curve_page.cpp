#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "page_parts.hpp"
#include "style.hpp"

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;

}  // namespace

std::string curve_page(const study::Bench& bench, const study::CurveSheet& sheet) {
    const Setup& setup = bench.setup();
    PageBuilder page(page_title(setup, "The curve of a wiring"));
    page.title_heading(page_title(setup, "The curve of a wiring"));
    for (const study::InputCurve& c : sheet.inputs) {
        page.heading(fmt::format("{}: {}", setup.controller.inputs[c.input].name, label(c.wiring, kind_ids(setup))));
        page.picture(curve_svg(bench, c, PictureUse::on_page));
        std::vector<std::vector<Cell>> rows;
        for (std::size_t s = 0; s < c.at_best.mismatch.panels.size(); ++s) {
            for (std::size_t p = 0; p < c.at_best.mismatch.panels[s].size(); ++p) {
                const physics::PanelShare& share = c.at_best.mismatch.panels[s][p];
                rows.push_back({number_cell(fmt::format("{}", s + 1)),
                                number_cell(fmt::format("{}", p + 1)),
                                {setup.kinds[c.wiring.strings[s].panels[p].kind].id, false, {}},
                                number_cell(watts(share.own_maximum_w)),
                                number_cell(watts(share.delivered_w)),
                                number_cell(watts(share.lost_w()))});
            }
        }
        page.table("At the highest maximum: what every panel could give alone and gives here",
                   {"string", "panel", "kind", "alone", "here", "lost"}, rows);
    }
    return page.html();
}

}  // namespace plait::output
