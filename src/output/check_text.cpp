#include <plait/output/text.hpp>
#include <plait/rules/cold_methods.hpp>

#include "curve_doubts.hpp"
#include "style.hpp"
#include "wires_text.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using rules::Outcome;

std::string mark(const study::RuleVerdict& v, Colour colour) {
    std::string word(v.finding.outcome == Outcome::within ? "ok" : word_of(v.finding.outcome));
    if (!v.proven()) word += " ?";
    return coloured(padded(word, 14), v.finding.outcome, colour);
}

std::string rule_block(const study::RuleVerdict& v, Colour colour) {
    const rules::Finding& f = v.finding;
    std::string out = fmt::format("  {}{}\n", mark(v, colour), bold(v.rule->title, colour));
    out += fmt::format("                {} {} {} (margin {})\n", in_unit(f.value, f.unit),
                       f.sense == rules::Sense::at_most ? "against at most" : "against at least",
                       in_unit(f.limit, f.unit), in_unit(f.margin(), f.unit));
    out += "                " + wrapped(v.words.because, 16) + "\n";
    if (!v.words.instead.empty()) out += "                " + wrapped("→ " + v.words.instead, 16) + "\n";
    if (f.outcome >= Outcome::needs && f.outcome != Outcome::clips) {
        out += "                " + wrapped(fmt::format("Otherwise: {}.", v.rule->harm), 16) + "\n";
    }
    if (!v.assumptions.empty()) {
        std::string which;
        for (const std::size_t a : v.assumptions) which += fmt::format("{}[{}]", which.empty() ? "" : " ", a + 1);
        out += "                " + wrapped("Unproven: it rests on assumed values " + which, 16) + "\n";
    }
    if (!f.even_at_worst && f.outcome != Outcome::undecided) {
        out += "                " +
               wrapped(fmt::format("Unproven: over the tolerances it is {} to {}, on both sides of the limit",
                                   in_unit(f.spread.lower(), f.unit), in_unit(f.spread.upper(), f.unit)),
                       16) +
               "\n";
    }
    out += "                " + wrapped(fmt::format("Source: {}", v.source()), 16) + "\n";
    return out;
}

// Other methods and rules of thumb: worth a line only where they would have decided otherwise.
std::string beside(const std::vector<study::RuleVerdict>& all, const study::RuleVerdict& v) {
    std::string out;
    for (const study::RuleVerdict& other : all) {
        if (other.finding.decides || other.rule != v.rule || other.finding.outcome == v.finding.outcome) continue;
        out += "                " +
               wrapped(fmt::format("Beside it, {}: {} ({})", other.test(), other.words.because, other.source()), 16) +
               "\n";
    }
    return out;
}

std::string verdicts_text(const std::vector<study::RuleVerdict>& verdicts, Colour colour) {
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
    std::string out;
    for (const study::RuleVerdict* v : order) out += rule_block(*v, colour) + beside(verdicts, *v);
    return out;
}

std::string binding_text(const physics::OperatingPoint& p) {
    switch (p.binding) {
        case physics::Binding::nothing:
            return "array's own maximum";
        case physics::Binding::current_limit:
            return "held by the current limit of " + amps(p.binding_limit);
        case physics::Binding::power_limit:
            return "held by the power limit of " + watts(p.binding_limit) +
                   (p.low_side_of_power_limit ? ", left of the maximum" : "");
        case physics::Binding::window_bottom:
            return "held at the window's bottom, " + volts(p.binding_limit);
        case physics::Binding::window_top:
            return "held at the window's top, " + volts(p.binding_limit);
        case physics::Binding::band_edge:
            return "held at the band's edge, " + volts(p.binding_limit);
        case physics::Binding::pinned:
            return "pulled to the battery's voltage";
    }
    return "";
}

std::string none_text(physics::NoPoint none) {
    return none == physics::NoPoint::pushed_out ? "no steady point: the array pushes the voltage out of the window"
                                                : "nothing: the voltage does not reach the window";
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
        if (!op.held()) {
            out += "      " + none_text(op.none) + "\n";
        } else if (op.binding != physics::Binding::nothing) {
            out += fmt::format("      {}{}\n", binding_text(op),
                               op.binding == physics::Binding::current_limit
                                   ? fmt::format("; the hand rule (limit × Vmp) would say {}", watts(op.hand_rule_w))
                                   : std::string());
        }
        out += cable_effect_text(p);
    }
    return out;
}

std::string reverse_text(const study::InputJudgement& one, const std::vector<std::string>& ids, Colour colour) {
    if (one.driven.empty()) return "";
    const auto most = [](const study::ReverseCurrent& r) {
        constexpr double smallest_printed_a = 0.005;
        return !r.weather || r.current_a < smallest_printed_a
                   ? std::string("none")
                   : fmt::format("{}, {}", amps(r.current_a), rules::title_of(*r.weather));
    };
    std::string out = "\n  " + bold("Driven back through each string, at most", colour) + "\n";
    out += fmt::format("  {}{}{}\n", padded("string", 36), padded("nothing drawn", 34), "in operation");
    for (std::size_t i = 0; i < one.driven.size(); ++i) {
        const study::DrivenString& string = one.driven[i];
        const std::string name = label({{one.wiring.strings[i]}}, ids) + (string.blocked ? ", blocking diode" : "");
        out += fmt::format("  {}{}{}\n", padded(fmt::format("{}: {}", i + 1, name), 36),
                           padded(most(string.open_circuit), 34), most(string.operating));
    }
    return out;
}

std::string help_text(const study::InputJudgement& one) {
    std::string out;
    if (one.help.coldest_survived && one.help.coldest_survived->degc <= rules::coldest_looked_at.degc) {
        out += "  This wiring stays within the input's maximum even at −100 °C, the coldest looked at.\n";
    } else if (one.help.coldest_survived) {
        out += fmt::format("  This wiring stays within the input's maximum down to {} (panel coefficient).\n",
                           degrees(Celsius{std::ceil(one.help.coldest_survived->degc * 10.0) / 10.0}));
    } else {
        out += "  This wiring is over the input's maximum even at 25 °C.\n";
    }
    if (one.help.longest_string && one.help.shortest_string) {
        const int longest = *one.help.longest_string;
        const int shortest = *one.help.shortest_string;
        if (longest < shortest) {
            out += "  " +
                   wrapped(fmt::format(
                               "No string length suits this input: the cold allows {} in series, the heat needs {}.",
                               longest, shortest),
                           2) +
                   "\n";
        } else if (longest == shortest) {
            out += fmt::format("  On this input, exactly {} of these panels may stand in series.\n", longest);
        } else {
            out += fmt::format("  On this input, {} to {} of these panels may stand in series.\n", shortest, longest);
        }
    } else if (one.help.longest_string) {
        out +=
            fmt::format("  On this input, at most {} of these panels may stand in series.\n", *one.help.longest_string);
    }
    return out;
}

}  // namespace

std::string check_text(const Setup& setup, const study::Judgement& j, Colour colour) {
    const std::vector<std::string> ids = kind_ids(setup);
    std::string wiring;
    for (const study::InputJudgement& one : j.inputs) {
        wiring += fmt::format("{}{} = {}", wiring.empty() ? "" : "; ", setup.controller.inputs[one.input].name,
                              label(one.wiring, ids));
    }
    std::string out = fmt::format("{}  {}\n", coloured(word_of(j.outcome), j.outcome, colour), wiring);
    out += wrapped(sentence_of(j.outcome, j.proven), 0) + "\n";
    // What is wrong stands right under the verdict, and so does the gravest caution.
    const auto first = [&](const std::vector<study::RuleVerdict>& verdicts, std::string_view where) {
        for (const study::RuleVerdict& v : verdicts) {
            if (!v.finding.decides || v.finding.outcome != j.outcome || j.outcome == Outcome::within) continue;
            out += wrapped(fmt::format("{}: {}", where, v.words.because), 0) + "\n";
            if (!v.words.instead.empty()) out += wrapped("→ " + v.words.instead, 0) + "\n";
            return;
        }
    };
    for (const study::InputJudgement& one : j.inputs) first(one.verdicts, setup.controller.inputs[one.input].name);
    first(j.plan, "All inputs");
    if (!j.cautions.empty()) out += wrapped("! " + j.cautions.front().text, 0) + "\n";
    out +=
        wrapped("! " + std::string("Measure polarity and open-circuit voltage before you plug anything in."), 0) + "\n";

    for (const study::InputJudgement& one : j.inputs) {
        out += "\n" +
               bold(fmt::format("{}: {}", setup.controller.inputs[one.input].name, label(one.wiring, ids)), colour) +
               "\n";
        out += verdicts_text(one.verdicts, colour);
        out += help_text(one);
        out += points_text(one.points, colour);
        out += reverse_text(one, ids, colour);
        out += wires_text(setup, one, colour);
    }
    if (!j.plan.empty()) {
        out += "\n" + bold("All inputs together", colour) + "\n" + verdicts_text(j.plan, colour);
    }
    out += battery_text(setup, j.battery, colour);
    out += "\n" + bold("Harvest", colour) + "\n";
    out += "  " +
           wrapped(
               fmt::format("On a warm day, weighted over the light of a year: {} (European weights), {} (CEC weights); "
                           "the panels one by one would give {} (European).",
                           watts(j.harvest.european_w), watts(j.harvest.cec_w), watts(j.free_harvest.european_w)),
               2) +
           "\n";
    if (!setup.cables.empty() && j.wireless_harvest.european_w > 0.0) {
        out += "  " +
               wrapped(fmt::format("Without the cables it would be {} (European): they cost {:.2f} %.",
                                   watts(j.wireless_harvest.european_w),
                                   100.0 * (1.0 - j.harvest.european_w / j.wireless_harvest.european_w)),
                       2) +
               "\n";
    }
    out += assumptions_text(j.assumptions, colour);
    out += doubts_text(all_doubts(setup, j.curves), colour);
    out += "\n" + bold("Be careful", colour) + "\n";
    for (const study::Caution& c : j.cautions) out += "  ! " + wrapped(c.text, 4) + "\n";
    return out;
}

}  // namespace plait::output
