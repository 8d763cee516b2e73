#include "arrange_words.hpp"
#include "compare_parts.hpp"
#include "compare_words.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

using search::ComparedSetup;
using search::Comparison;

std::string setup_text(std::size_t i, const NamedSetup& named, const ComparedSetup& s, Colour colour) {
    const Setup& setup = *named.setup;
    constexpr std::size_t indent = 3;
    const std::string margin(indent, ' ');
    const auto line = [&](const std::string& text) { return margin + wrapped(text, indent) + "\n"; };
    std::string out = wrapped(setup_heading(i, named), indent) + "\n" + line(what_there_is(named, s));
    if (!s.plan) {
        out += margin + coloured(none_within, rules::Outcome::exceeds, colour) + "\n";
    } else {
        const study::Judgement& j = s.plan->judgement;
        std::string word(word_of(j.outcome));
        if (!j.proven) word += " ?";
        out += margin + coloured(word, j.outcome, colour) + "  " +
               wrapped(plan_label(setup, s.plan->plan), indent + columns(word) + 2) + "\n";
    }
    for (const std::string& sentence : setup_sentences(named, s)) out += line(sentence);
    return out;
}

std::string leaders_text(const std::vector<NamedSetup>& named, const Comparison& c, Colour colour) {
    std::string out;
    for (const std::string& sentence : leader_sentences(named, c)) {
        out += (out.empty() ? bold(wrapped(sentence, 0), colour) : wrapped(sentence, 0)) + "\n";
    }
    return out;
}

/// A table under its caption, at the margin: its rows are named by one letter.
std::string titled(const TableWords& table, Colour colour) {
    std::string out = bold(table.caption, colour) + "\n";
    const std::string lines = table_text(table, colour);
    for (std::size_t at = 0; at < lines.size();) {
        const std::size_t end = lines.find('\n', at) + 1;
        out += lines.substr(at + 2, end - at - 2);
        at = end;
    }
    return out;
}

}  // namespace

Decider decider(const Setup& setup, const study::Judgement& j) {
    Decider d;
    if (j.outcome == rules::Outcome::within) return d;
    const auto look = [&](const std::vector<study::RuleVerdict>& verdicts, const std::string& input) {
        for (const study::RuleVerdict& v : verdicts) {
            if (d.verdict == nullptr && v.finding.decides && v.finding.outcome == j.outcome) d = {input, &v};
        }
    };
    for (const study::InputJudgement& one : j.inputs) look(one.verdicts, setup.controller.inputs[one.input].name);
    look(j.plan, "");
    return d;
}

std::string compare_text(const std::vector<NamedSetup>& named, const Comparison& c, Colour colour) {
    std::string out = leaders_text(named, c, colour);
    out += wrapped(fmt::format("! {}", read_check_first), 0) + "\n\n";
    for (std::size_t i = 0; i < named.size(); ++i) out += setup_text(i, named[i], c.setups[i], colour);
    out += "\n" + titled(harvest_table(c), colour) + "\n" + titled(wiring_table(c), colour) + "\n" +
           wrapped(comparison_legend(c), 0) + "\n";
    return out + "\n" + wrapped(deferral, 0) + "\n";
}

}  // namespace plait::output
