#include "command.hpp"

#include <plait/input/read_panel.hpp>
#include <plait/output/data.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/panel_sheet.hpp>

namespace plait::cli {

CommandResult run_command(const PanelOptions& o, Session& session) {
    const Result<std::string, std::string> text = session.read_file(o.file);
    if (!text) return refused(o.file, Complaint::unreadable, text.error());
    const Result<input::PanelFile> read = input::read_panel(*text, o.file);
    if (!read) return refused(read.error());
    const study::PanelSheet sheet = study::panel_sheet(read->panel, CurveMethod::prior_ideality);
    if (const auto figure = study::impossible_figure(sheet)) return impossible(*figure);
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::panel_json(sheet, read->assumptions, read->doubts); };
    return shown(Exit::all_within, o.form, session,
                 output::panel_report(sheet, read->assumptions, read->doubts, session.provenance(o.file, o.form)), data);
}

}  // namespace plait::cli
