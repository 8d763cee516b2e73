// The list of what a wiring takes.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/parts.hpp>

#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"
#include "work_words.hpp"

#include <algorithm>

namespace plait::output {

Report parts_report(const Setup& setup, const study::Judgement& judgement, const std::vector<study::PartLine>& parts,
                    Provenance provenance) {
    Report report = report_on(setup, "A list of parts, for whoever buys them and whoever packs them for the roof.",
                              std::move(provenance));
    add_verdict_head(report, setup, judgement);
    if (!judgement.verdict.usable()) {
        report.section(Purpose::answer)
            .add(Cautions{{"Buy nothing for this wiring: it is outside the stated limits. `plait check` says why, `plait "
                           "arrange` looks for one that is within."}});
    }
    const bool priced =
        std::any_of(parts.begin(), parts.end(), [](const study::PartLine& p) { return p.price.has_value(); });
    Table table = table_of("What the wiring takes, from the panels to the battery", {"part", "#how many", "where"});
    if (priced) {
        table.columns.push_back({setup.currency.empty() ? std::string("price") : "price, " + setup.currency, true});
    }
    for (const study::PartLine& p : parts) {
        Table::Row row{{p.what, count_words(p), p.where}};
        if (priced) row.cells.push_back(p.price ? fmt::format("{:.2f}", *p.price) : std::string("–"));
        if (!p.note.empty()) row.notes.push_back(p.note);
        table.rows.push_back(std::move(row));
    }
    Section& list = report.section(Purpose::reading, "Parts");
    list.add(std::move(table));
    list.add(Paragraph{price_sentence(setup, parts)});
    list.add(Paragraph{no_cables_sentence(setup)});
    add_wiring_pictures(report, setup, judgement);
    add_next_steps(report, {"Hold the list against the makers’ manuals: connectors of one make only, fuses and disconnects rated for "
                            "the direct voltage named beside them.",
                            "Print the order of work: `plait steps`."});
    add_cautions(report, judgement.cautions);
    return report;
}

}  // namespace plait::output
