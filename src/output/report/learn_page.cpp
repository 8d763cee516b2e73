#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include "learn_words.hpp"
#include "page_parts.hpp"

namespace plait::output {

std::string learn_page(const measured::LearnSheet& sheet) {
    const measured::LearnedWindow& w = sheet.window;
    PageBuilder page("What the input takes");
    page.title_heading("What the input takes: " + sheet.file);
    page.audience("A bench sweep of one input, for whoever wires panels to it and whoever wants to repeat the sweep.");
    page.list(summary_of(w));
    const std::vector<std::string> mean = meanings(sheet);
    if (!mean.empty()) {
        page.heading("What that means for a wiring");
        page.list(mean);
    }
    page.picture(sweep_svg(sheet, PictureUse::on_page));
    page.heading("What it takes");
    page.table(piece_table(w));
    page.heading("Where it changes");
    page.table(switch_table(w));
    if (const TableWords compared = compared_table(sheet); !compared.empty()) {
        page.heading("Against the print");
        page.table(compared);
    }
    page.heading("How sure");
    page.list(how_sure(sheet));
    page.list(sheet.notes);
    page.heading("What to do next");
    page.numbered(
        {"Write the measured controller to a file, `--out NAME.toml`, and name it in a set-up: every verdict "
         "still keeps to the printed maximum.",
         "Sweep once more on another day. What both sweeps say may be counted on."});
    page.paragraph(one_bench);
    page.heading("Data and fit");
    if (w.rows.size() > most_rows_listed) {
        page.paragraph(rows_elsewhere(w));
    } else {
        page.table(fitted_table(w));
    }
    return page.html();
}

}  // namespace plait::output
