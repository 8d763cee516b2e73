// The report on one datasheet: what is doubtful or was assumed, and the curve that was made of it.
#include <plait/output/reports.hpp>
#include <plait/study/panel_sheet.hpp>

#include "panel_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

namespace plait::output {

Report panel_report(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                    const std::vector<std::string>& doubts, Provenance provenance) {
    Report report;
    report.kind = "One datasheet, read for whoever chooses the panel or checks its figures.";
    report.headline = {Tone::plain, sheet.panel.name, ""};
    report.provenance = std::move(provenance);
    report.last_word = deferral;
    const std::vector<std::string> all_doubts = panel_doubts(sheet, doubts);

    Section& answer = report.section(Purpose::answer);
    for (std::string& line : datasheet_lines(sheet.panel)) answer.add(Paragraph{std::move(line)});
    if (doubts.empty()) answer.add(Paragraph{std::string(figures_agree)});
    add_doubts(report, all_doubts);
    Section& curve = report.section(Purpose::reading, "The curve");
    curve.add(Items{curve_lines(sheet)});
    Section& heat = report.section(Purpose::reading, "In heat and cold, 1000 W/m²");
    heat.add(temperature_table(sheet));
    heat.add(Paragraph{std::string(lines_and_curves)});
    report.section(Purpose::reading, "In weak light, cells at 25 °C").add(light_table(sheet));
    add_next_steps(report, {"Hold what is listed here against the maker’s sheet, sign by sign: a misread coefficient moves every "
                            "cold voltage.",
                            "Name the file in a set-up and let `plait check` or `plait arrange` judge a wiring with it."});
    Items list{{}, Items::Kind::anchored};
    for (const Assumption& a : assumptions) list.items.push_back(fmt::format("{} = {} ({})", a.what, a.value, a.why));
    report.section(Purpose::look_up, "Assumed, because the file does not say").add(std::move(list));
    return report;
}

}  // namespace plait::output
