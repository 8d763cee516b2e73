#include <plait/output/text.hpp>

#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "render/style.hpp"
#include "wires_text.hpp"
#include "work_words.hpp"

namespace plait::output {
namespace {

using rules::Outcome;

std::string mark(const study::RuleVerdict& v, Colour colour) {
    std::string word(v.finding.outcome == Outcome::within ? "ok" : word_of(v.finding.outcome));
    if (!v.proven()) word += " ?";
    return coloured(padded(word, 14), v.finding.outcome, colour);
}

std::string rule_block(const study::RuleVerdict& v, const std::vector<study::RuleVerdict>& all, Colour colour) {
    const rules::Finding& f = v.finding;
    std::string out = fmt::format("  {}{}\n", mark(v, colour), bold(v.rule->title, colour));
    out += fmt::format("                {} against {} {} (margin {})\n", in_unit(f.value, f.unit), side_of(f.sense),
                       in_unit(f.limit, f.unit), in_unit(f.margin(), f.unit));
    out += "                " + wrapped(v.words.because, 16) + "\n";
    for (const std::string& note : finding_notes(v, all)) out += "                " + wrapped(note, 16) + "\n";
    return out;
}

std::string verdicts_text(const std::vector<study::RuleVerdict>& verdicts, Colour colour) {
    std::string out;
    for (const study::RuleVerdict* v : verdicts_in_order(verdicts)) out += rule_block(*v, verdicts, colour);
    return out;
}

std::string points_text(const rules::ConditionPoints& points, Colour colour) {
    std::string out = "\n  " + bold("What a meter should read", colour) + "\n";
    out += fmt::format("  {}{}{}{}{}{}\n", padded("weather", 24), padded_left("light", 11), padded_left("cells", 9),
                       padded_left("open", 11), padded_left("in operation", 32), padded_left("not taken", 11));
    for (const rules::ConditionPoint& p : points) {
        const physics::OperatingPoint& op = p.operating;
        std::string operation = op.held() ? fmt::format("{} {} {}", padded_left(volts(op.point.voltage_v), 10),
                                                        padded_left(amps(op.point.current_a), 10),
                                                        padded_left(watts(op.point.power_w()), 10))
                                          : padded_left("—", 10);
        out += fmt::format("  {}{}{}{}{}{}\n", padded(rules::title_of(p.id), 24),
                           padded_left(fmt::format("{:.0f} W/m²", p.condition.irradiance_w_per_m2), 11),
                           padded_left(degrees(p.condition.cell), 9), padded_left(volts(p.open_circuit_v), 11),
                           padded_left(operation, 32), padded_left(watts(op.lost_w()), 11));
        for (const std::string& note : reading_notes(p)) out += fmt::format("      {}\n", note);
    }
    return out;
}

std::string reverse_text(const study::InputJudgement& one, const std::vector<std::string>& ids, Colour colour) {
    const TableWords table = driven_table(one, ids);
    if (table.empty()) return "";
    return "\n  " + bold(table.caption, colour) + "\n" + table_text(table, colour);
}

}  // namespace

std::string check_text(const Setup& setup, const study::Judgement& j, Colour colour) {
    const std::vector<std::string> ids = kind_ids(setup);
    std::string out = fmt::format("{}  {}\n", coloured(word_of(j.outcome), j.outcome, colour), plan_words(setup, j));
    out += wrapped(sentence_of(j.outcome, j.proven), 0) + "\n";
    // What is wrong stands right under the verdict, and so does the gravest caution.
    for (const std::string& reason : first_reasons(setup, j)) out += wrapped(reason, 0) + "\n";
    if (!j.cautions.empty()) out += wrapped("! " + j.cautions.front().text, 0) + "\n";
    out += wrapped(fmt::format("! {}", measure_first), 0) + "\n";

    for (const study::InputJudgement& one : j.inputs) {
        out += "\n" +
               bold(fmt::format("{}: {}", setup.controller.inputs[one.input].name, label(one.wiring, ids)), colour) +
               "\n";
        out += verdicts_text(one.verdicts, colour);
        for (const std::string& sentence : help_sentences(one)) out += "  " + wrapped(sentence, 2) + "\n";
        out += points_text(one.points, colour);
        out += reverse_text(one, ids, colour);
        out += wires_text(setup, one, colour);
    }
    if (!j.plan.empty()) {
        out += "\n" + bold("All inputs together", colour) + "\n" + verdicts_text(j.plan, colour);
    }
    out += battery_text(setup, j.battery, colour);
    out += "\n" + bold("Harvest", colour) + "\n";
    for (const std::string& sentence : harvest_sentences(setup, j)) out += "  " + wrapped(sentence, 2) + "\n";
    out += assumptions_text(j.assumptions, colour);
    out += doubts_text(all_doubts(setup, j.curves), colour);
    out += "\n" + bold("Be careful", colour) + "\n";
    for (const study::Caution& c : j.cautions) out += "  ! " + wrapped(c.text, 4) + "\n";
    return out;
}

}  // namespace plait::output
