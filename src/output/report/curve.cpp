// The report on the curve of a wiring in one weather.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>

#include "curve_doubts.hpp"
#include "picture/curve_plot.hpp"
#include "curve_tables.hpp"
#include "curve_words.hpp"
#include "hot_spot_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

namespace plait::output {
namespace {

void add_input(Report& report, const study::SystemModel& system, const study::InputCurve& c, const study::Judgement& judged,
               const CurveView& view) {
    const Setup& setup = system.setup();
    const std::string name = input_and_wiring(setup, c.input, c.wiring);
    Section& figures = report.section(
        Purpose::reading, name + (shaded(c.wiring) ? ", in the light and warmth the file gives each group" : ""));
    if (std::string over = over_maximum(setup.controller.inputs[c.input], c); !over.empty()) {
        figures.add(Cautions{{std::move(over)}});
    }
    if (std::vector<std::string> spots = hot_spot_sentences(setup, study::hot_spots(c)); !spots.empty()) {
        spots.emplace_back(hot_spot_advice);
        figures.add(Cautions{std::move(spots)});
    }
    figures.add(figure_table(c));
    figures.add(Paragraph{first_stop_sentence(c)});
    figures.add(Picture{[&system, &c, &judged] { return curve_svg(system, c, judged.verdict, PictureUse::on_page); }});
    const bool tracks = !physics::pinned_voltage_v(setup.controller);
    figures.add(TextPlot{curve_plot(c, system.window(c.input), tracks, view.plot)});
    for (ShareTable& share : share_tables(setup, c)) {
        Section& section = report.section(Purpose::reading, name + ", " + share.heading);
        section.add(Paragraph{std::move(share.sentence)});
        section.add(std::move(share.table));
    }
    report.section(Purpose::reading).add(Paragraph{open_circuit_sentence(c)});
    report.section(Purpose::reading, name + ", along the curve").add(point_table(c, view.all_points));
}

}  // namespace

Report curve_report(const study::SystemModel& system, const study::CurveSheet& sheet, const study::Judgement& judged,
                    const CurveView& view, Provenance provenance) {
    const Setup& setup = system.setup();
    Report report = report_on(setup, "The curve of a wiring, for whoever wants to see why the input takes what it takes.",
                              std::move(provenance));
    report.headline = {Tone::plain, "Curve", plan_words(setup, judged)};
    Section& answer = report.section(Purpose::answer);
    answer.add(Paragraph{curve_weather(system, sheet) + "."});
    answer.add(Paragraph{fmt::format("What `plait check` says of this wiring: {}. {}", headline_of(setup, judged.verdict),
                                     curve_alone)});
    for (const study::InputCurve& c : sheet.inputs) add_input(report, system, c, judged, view);
    add_doubts(report, all_doubts(setup, study::curves_of(system)));
    add_assumptions(report, study::all_assumptions(system));
    return report;
}

}  // namespace plait::output
