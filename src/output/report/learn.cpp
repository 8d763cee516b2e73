// The report on a bench sweep.
#include <plait/measured/window_comparison.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>

#include "bench_words.hpp"
#include "learn_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

namespace plait::output {

Report learn_report(const measured::LearnSheet& sheet, Provenance provenance) {
    const measured::LearnedWindow& w = sheet.window;
    Report report;
    report.kind = "A bench sweep of one input, for whoever wires panels to it and whoever wants to repeat the sweep.";
    report.headline = {Tone::plain, "What the input takes", sheet.file};
    report.provenance = std::move(provenance);
    report.last_word = fmt::format("{} {}", one_bench, deferral);
    Section& answer = report.section(Purpose::answer);
    std::vector<std::string> summary = summary_of(sheet);
    for (std::string& line : instruments_said(sheet)) summary.push_back(std::move(line));
    answer.add(Items{std::move(summary)});
    answer.add(Cautions{{std::string(stay_below)}, "Before the next sweep."});
    report.section(Purpose::answer, "What that means for a wiring").add(Items{meanings(sheet)});
    Section& takes = report.section(Purpose::reading, "What it takes");
    takes.add(piece_table(w));
    takes.add(Picture{[&sheet] { return sweep_svg(sheet, PictureUse::on_page); }});
    report.section(Purpose::reading, "Where it changes").add(switch_table(w));
    report.section(Purpose::reading, "Protections").add(protection_table(sheet));
    const Table beside = instruments_table(sheet);
    report.section(Purpose::reading, beside.caption).add(beside);
    const Table compared = compared_table(sheet);
    report.section(Purpose::reading, compared.caption).add(compared);
    Section& sure = report.section(Purpose::reading, "How sure");
    std::vector<std::string> lines = how_sure(sheet);
    lines.insert(lines.end(), sheet.notes.begin(), sheet.notes.end());
    sure.add(Items{std::move(lines)});
    report.section(Purpose::next, "Measure here next").add(Items{next_sentences(sheet), Items::Kind::numbered});
    add_next_steps(report, {"Write the measured controller to a file, `--out NAME.toml`, and name it in a set-up. A measured voltage is "
                            "never a maximum: the printed one stays the limit.",
                            "Sweep once more on another day, up to the printed maximum and not past it. What both sweeps say may be counted on."});
    Section& rows = report.section(Purpose::detail, "Data and fit");
    if (w.rows.size() > most_rows_listed) {
        rows.add(Paragraph{rows_elsewhere(w)});
    } else {
        rows.add(fitted_table(w));
    }
    return report;
}

}  // namespace plait::output
