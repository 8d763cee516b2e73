#include <plait/output/text.hpp>

#include "panel_words.hpp"
#include "render/style.hpp"

namespace plait::output {

std::string panel_text(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                       const std::vector<std::string>& doubts, Colour colour) {
    std::string out = bold(sheet.panel.name, colour) + "\n";
    for (const std::string& line : datasheet_lines(sheet.panel)) out += line + "\n";
    if (doubts.empty()) out += std::string(figures_agree) + "\n";

    out += "\n" + bold("The curve", colour) + "\n";
    for (const std::string& line : curve_lines(sheet)) out += "  " + wrapped(line, 2) + "\n";
    for (const TableWords& table : {temperature_table(sheet), light_table(sheet)}) {
        out += "\n" + bold(table.caption, colour) + "\n" + table_text(table, colour);
        if (table.columns.size() > 5) out += fmt::format("  {}\n", lines_and_curves);
    }
    out += assumptions_text(assumptions, colour);
    out += doubts_text(panel_doubts(sheet, doubts), colour);
    return out;
}

}  // namespace plait::output
