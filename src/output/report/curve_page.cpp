#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "curve_doubts.hpp"
#include "curve_tables.hpp"
#include "curve_words.hpp"
#include "page_parts.hpp"

namespace plait::output {
namespace {

void add_input(PageBuilder& page, const study::SystemModel& system, const study::InputCurve& c) {
    const Setup& setup = system.setup();
    page.heading(input_and_wiring(setup, c.input, c.wiring));
    if (const std::string over = over_maximum(setup.controller.inputs[c.input], c); !over.empty()) {
        page.cautions({over});
    }
    page.table(figure_table(c));
    page.paragraph(first_stop_sentence(c));
    page.picture(curve_svg(system, c, PictureUse::on_page));
    for (const ShareWords& share : share_words(setup, c)) {
        page.subheading(share.heading);
        page.paragraph(share.sentence);
        page.table(share.table);
    }
    page.paragraph(open_circuit_sentence(c));
    page.subheading("Along the curve");
    page.table(point_table(c, false));
}

}  // namespace

std::string curve_page(const study::SystemModel& system, const study::CurveSheet& sheet) {
    const Setup& setup = system.setup();
    const std::string title = page_title(setup, "The curve of a wiring");
    PageBuilder page(title);
    page.title_heading(title);
    page.audience("The curve of a wiring, for whoever wants to see why the input takes what it takes.");
    page.paragraph(curve_weather(system, sheet) + ".");
    for (const study::InputCurve& c : sheet.inputs) add_input(page, system, c);
    page.heading("What to do next");
    page.numbered({std::string(curve_alone)});
    add_assumptions(page, study::all_assumptions(system), all_doubts(setup, study::curves_of(system)));
    return page.html();
}

}  // namespace plait::output
