#include <plait/output/explain.hpp>

#include "curve_doubts.hpp"
#include "explain_words.hpp"
#include "render/style.hpp"

namespace plait::output {

std::string explain_text(const study::SystemModel& system, const ExplainedLog& log, Colour colour) {
    std::string out = bold(fmt::format("{}: {}", system.setup().controller.inputs[log.input].name,
                                       label(log.wiring, kind_ids(system.setup()))),
                           colour) +
                      fmt::format(", {}\n\n", what_was_logged(log));
    for (const std::string& sentence : summary(system, log)) out += wrapped(sentence, 0) + "\n";
    out += "\n" + wrapped("Change first: " + first_change(system, log), 0) + "\n";
    out += "\n" + table_text(account_table(system, log), colour);
    const std::vector<std::string> open = what_stays_open(system, log);
    if (!open.empty() || !log.notes.empty()) out += "\n" + bold("What stays open", colour) + "\n";
    for (const std::string& text : open) out += "- " + wrapped(text, 2) + "\n";
    for (const std::string& note : log.notes) out += "- " + wrapped(note, 2) + "\n";
    out += assumptions_text(study::all_assumptions(system), colour);
    out += doubts_text(all_doubts(system.setup(), study::curves_of(system)), colour);
    out += "\n" + wrapped(fmt::format("{} {}", by_probabilities, deferral), 0) + "\n";
    return out;
}

}  // namespace plait::output
