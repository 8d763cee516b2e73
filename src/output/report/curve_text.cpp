#include <plait/output/text.hpp>

#include "curve_doubts.hpp"
#include "curve_plot.hpp"
#include "curve_tables.hpp"
#include "curve_words.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

std::string input_text(const study::SystemModel& system, const study::InputCurve& c, bool all_points, Plot plot,
                       Colour colour) {
    const Setup& setup = system.setup();
    const Input& input = setup.controller.inputs[c.input];
    const bool tracks = !physics::pinned_voltage_v(setup.controller);
    std::string out = "\n" +
                      bold(fmt::format("{}: {}{}", input.name, label(c.wiring, kind_ids(setup)),
                                       shaded(c.wiring) ? ", in the light and warmth the file gives each group" : ""),
                           colour) +
                      "\n";
    const std::string over = over_maximum(input, c);
    if (!over.empty()) out += coloured("  ! ", rules::Outcome::exceeds, colour) + wrapped(over, 4) + "\n";
    out += table_text(figure_table(c), colour);
    const std::string sentence = first_stop_sentence(c);
    if (!sentence.empty()) out += "  " + wrapped(sentence, 2) + "\n";
    const std::string drawn = curve_plot(c, system.window(c.input), tracks, plot);
    if (!drawn.empty()) out += "\n" + drawn;
    out += "\n" + table_text(point_table(c, all_points), colour);
    for (const ShareWords& share : share_words(setup, c)) {
        out += "\n  " + bold(share.heading, colour) + "\n  " + wrapped(share.sentence, 2) + "\n" +
               table_text(share.table, colour);
    }
    const std::string open = open_circuit_sentence(c);
    if (!open.empty()) out += "\n  " + wrapped(open, 2) + "\n";
    return out;
}

}  // namespace

std::string curve_text(const study::SystemModel& system, const study::CurveSheet& sheet, bool all_points, Plot plot,
                       Colour colour) {
    std::string out = curve_weather(system, sheet) + "\n";
    for (const study::InputCurve& c : sheet.inputs) out += input_text(system, c, all_points, plot, colour);
    out += assumptions_text(study::all_assumptions(system), colour);
    out += doubts_text(all_doubts(system.setup(), study::curves_of(system)), colour);
    out += "\n" + wrapped(fmt::format("{} {}", curve_alone, deferral), 0) + "\n";
    return out;
}

}  // namespace plait::output
