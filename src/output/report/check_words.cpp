#include "check_words.hpp"

#include <plait/rules/cold_methods.hpp>

#include "curve_words.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {

using rules::Outcome;

std::vector<const study::RuleVerdict*> verdicts_in_order(const std::vector<study::RuleVerdict>& verdicts) {
    std::vector<const study::RuleVerdict*> order;
    for (const study::RuleVerdict& v : verdicts) {
        const bool alone =
            !v.finding.decides && std::none_of(verdicts.begin(), verdicts.end(), [&](const study::RuleVerdict& o) {
                return o.rule == v.rule && o.finding.decides;
            });
        if (v.finding.decides || alone) order.push_back(&v);
    }
    std::stable_sort(order.begin(), order.end(), [](const study::RuleVerdict* a, const study::RuleVerdict* b) {
        return a->finding.outcome > b->finding.outcome;
    });
    return order;
}

std::string_view side_of(rules::Sense sense) { return sense == rules::Sense::at_most ? "at most" : "at least"; }

std::vector<std::string> finding_notes(const study::RuleVerdict& v, const std::vector<study::RuleVerdict>& all) {
    const rules::Finding& f = v.finding;
    std::vector<std::string> notes;
    if (!v.words.instead.empty()) notes.push_back("→ " + v.words.instead);
    if (f.outcome >= Outcome::needs && f.outcome != Outcome::clips) {
        notes.push_back(fmt::format("Otherwise: {}.", v.rule->harm));
    }
    if (!v.assumptions.empty()) {
        std::string which;
        for (const std::size_t a : v.assumptions) which += fmt::format("{}[{}]", which.empty() ? "" : " ", a + 1);
        notes.push_back("Unproven: it rests on assumed values " + which);
    }
    if (!f.even_at_worst && f.outcome != Outcome::undecided) {
        notes.push_back(fmt::format("Unproven: over the tolerances it is {} to {}, on both sides of the limit",
                                    in_unit(f.spread.lower(), f.unit), in_unit(f.spread.upper(), f.unit)));
    }
    notes.push_back(fmt::format("Source: {}", v.source()));
    // Other methods and rules of thumb: worth a line only where they would have decided otherwise.
    for (const study::RuleVerdict& other : all) {
        if (other.finding.decides || &other == &v || other.rule != v.rule || other.finding.outcome == f.outcome)
            continue;
        notes.push_back(fmt::format("Beside it, {}: {} ({})", other.test(), other.words.because, other.source()));
    }
    return notes;
}

std::vector<std::string> first_reasons(const Setup& setup, const study::Judgement& j) {
    std::vector<std::string> out;
    if (j.outcome == Outcome::within) return out;
    const auto first = [&](const std::vector<study::RuleVerdict>& verdicts, const std::string& where) {
        for (const study::RuleVerdict& v : verdicts) {
            if (!v.finding.decides || v.finding.outcome != j.outcome) continue;
            out.push_back(fmt::format("{}: {}", where, v.words.because));
            if (!v.words.instead.empty()) out.push_back("→ " + v.words.instead);
            return;
        }
    };
    for (const study::InputJudgement& one : j.inputs) first(one.verdicts, setup.controller.inputs[one.input].name);
    first(j.plan, "All inputs");
    return out;
}

std::vector<std::string> help_sentences(const study::InputJudgement& one) {
    std::vector<std::string> out;
    if (one.help.coldest_survived && one.help.coldest_survived->degc <= rules::coldest_looked_at.degc) {
        out.emplace_back("This wiring stays within the input's maximum even at −100 °C, the coldest looked at.");
    } else if (one.help.coldest_survived) {
        out.push_back(fmt::format("This wiring stays within the input's maximum down to {} (panel coefficient).",
                                  degrees(Celsius{std::ceil(one.help.coldest_survived->degc * 10.0) / 10.0})));
    } else {
        out.emplace_back("This wiring is over the input's maximum even at 25 °C.");
    }
    if (one.help.longest_string && one.help.shortest_string) {
        const int longest = *one.help.longest_string;
        const int shortest = *one.help.shortest_string;
        if (longest < shortest) {
            out.push_back(
                fmt::format("No string length suits this input: the cold allows {} in series, the heat needs {}.",
                            longest, shortest));
        } else if (longest == shortest) {
            out.push_back(fmt::format("On this input, exactly {} of these panels may stand in series.", longest));
        } else {
            out.push_back(
                fmt::format("On this input, {} to {} of these panels may stand in series.", shortest, longest));
        }
    } else if (one.help.longest_string) {
        out.push_back(
            fmt::format("On this input, at most {} of these panels may stand in series.", *one.help.longest_string));
    }
    return out;
}

std::vector<std::string> reading_notes(const rules::ConditionPoint& p) {
    const physics::OperatingPoint& op = p.operating;
    std::vector<std::string> notes;
    if (!op.held()) {
        notes.push_back(none_words(op.none));
    } else if (op.binding != physics::Binding::nothing) {
        std::string words = binding_words(op.binding, op.binding_limit);
        if (op.binding == physics::Binding::power_limit && op.low_side_of_power_limit) words += ", left of the maximum";
        if (op.binding == physics::Binding::current_limit) {
            words += fmt::format("; the hand rule (limit × Vmp) would say {}", watts(op.hand_rule_w));
        }
        notes.push_back(std::move(words));
    }
    if (p.cable && op.held()) {
        const double given_w = op.point.power_w() + p.cable->loss_w;
        notes.push_back(fmt::format("cables: {}, {} ({:.2f} %); without them {}", volts(p.cable->drop_v),
                                    watts(p.cable->loss_w), 100.0 * p.cable->loss_w / given_w,
                                    watts(p.cable->without.point.power_w())));
    }
    return notes;
}

TableWords driven_table(const study::InputJudgement& one, const std::vector<std::string>& ids) {
    TableWords table{
        "Driven back through each string, at most", {{"string", 36}, {"nothing drawn", 34}, {"in operation"}}, {}};
    const auto most = [](const study::ReverseCurrent& r) {
        constexpr double smallest_printed_a = 0.005;
        return !r.weather || r.current_a < smallest_printed_a
                   ? std::string("none")
                   : fmt::format("{}, {}", amps(r.current_a), rules::title_of(*r.weather));
    };
    for (std::size_t i = 0; i < one.driven.size(); ++i) {
        const study::DrivenString& string = one.driven[i];
        const std::string name = label({{one.wiring.strings[i]}}, ids) + (string.blocked ? ", blocking diode" : "");
        table.rows.push_back(
            {{fmt::format("{}: {}", i + 1, name), most(string.open_circuit), most(string.operating)}, false});
    }
    return table;
}

std::vector<std::string> harvest_sentences(const Setup& setup, const study::Judgement& j) {
    std::vector<std::string> out{
        fmt::format("On a warm day, weighted over the light of a year: {} (European weights), {} (CEC weights); the "
                    "panels one by one would give {} (European).",
                    watts(j.harvest.european_w), watts(j.harvest.cec_w), watts(j.free_harvest.european_w))};
    if (!setup.cables.empty() && j.wireless_harvest.european_w > 0.0) {
        out.push_back(fmt::format("Without the cables it would be {} (European): they cost {:.2f} %.",
                                  watts(j.wireless_harvest.european_w),
                                  100.0 * (1.0 - j.harvest.european_w / j.wireless_harvest.european_w)));
    }
    return out;
}

}  // namespace plait::output
