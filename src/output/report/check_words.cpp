#include "check_words.hpp"

#include <plait/rules/cold_methods.hpp>

#include "curve_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using rules::Outcome;

std::string_view side_of(rules::Sense sense) { return sense == rules::Sense::at_most ? "at most" : "at least"; }

// What follows the reason of a finding: what to do instead, the harm, what is unproven, the source, and what other
// methods of the same rule would have decided.
std::vector<std::string> finding_notes(const study::RuleVerdict& v, const std::vector<study::RuleVerdict>& all) {
    const rules::Finding& f = v.finding;
    std::vector<std::string> notes;
    if (!v.words.instead.empty()) notes.push_back("→ " + v.words.instead);
    const bool harmful = f.outcome == Outcome::exceeds || f.outcome == Outcome::needs ||
                         f.outcome == Outcome::falls_short || f.exceeds_by_tolerance();
    if (harmful) notes.push_back(fmt::format("Otherwise: {}.", v.rule->harm));
    if (!v.assumptions.empty()) {
        std::string which;
        for (const std::size_t a : v.assumptions) which += fmt::format("{}[{}]", which.empty() ? "" : " ", a + 1);
        notes.push_back("Not proven: it rests on assumed values " + which);
    }
    if (!f.even_at_worst && f.outcome != Outcome::undecided) {
        notes.push_back(fmt::format("Not proven: over the tolerances it is {} to {}, on both sides of the limit",
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

std::vector<std::string> operation_notes(const rules::ConditionPoint& p) {
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
        notes.push_back(fmt::format("cables: {}, {} ({}); without them {}", volts(p.cable->drop_v),
                                    watts(p.cable->loss_w), per_cent(p.cable_loss_ratio(), 2),
                                    watts(p.cable->without.point.power_w())));
    }
    return notes;
}

// What a limit costs; nothing where it is too little to print.
std::string cost_words(const study::Judgement& j, const study::PlacedFinding& found) {
    const double cost_w = study::clipped_cost_w(j, found);
    constexpr double least_printed_w = 0.05;
    if (cost_w < least_printed_w) return "";
    constexpr Names who{Name{study::ClippedBy::cables, "the cables cost"},
                        Name{study::ClippedBy::inputs, "the inputs’ limits cost"},
                        Name{study::ClippedBy::shared_limit, "the limit on all inputs together costs"}};
    return fmt::format(" In a year's light {} {}.", name_in(who, study::clipped_by(found)), watts(cost_w));
}

}  // namespace

std::vector<const study::RuleVerdict*> verdicts_in_order(const std::vector<study::RuleVerdict>& verdicts) {
    std::vector<const study::RuleVerdict*> order;
    for (const study::RuleVerdict& v : verdicts) {
        const bool alone =
            !v.finding.decides && std::none_of(verdicts.begin(), verdicts.end(), [&](const study::RuleVerdict& o) {
                return o.rule == v.rule && o.finding.decides;
            });
        if (v.finding.decides || alone) order.push_back(&v);
    }
    const auto share = [](const study::RuleVerdict* v) { return rules::headline_share(v->finding); };
    std::stable_sort(order.begin(), order.end(),
                     [&](const study::RuleVerdict* a, const study::RuleVerdict* b) { return share(a) < share(b); });
    return order;
}

std::vector<std::string> first_reasons(const Setup& setup, const study::Judgement& j) {
    std::vector<std::string> lines;
    const auto once = [&](std::string line) {
        if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(std::move(line));
    };
    std::vector<std::pair<std::optional<std::size_t>, const rules::Rule*>> said;
    bool costly = false;
    for (const study::PlacedFinding& found : study::headline_findings(j)) {
        const study::RuleVerdict& v = *found.verdict;
        // One reason a rule and input is enough: the codes' tests of one rule differ in their figures, not in the cure.
        const std::pair key{found.input, v.rule};
        if (std::find(said.begin(), said.end(), key) != said.end()) continue;
        said.push_back(key);
        if (v.finding.outcome == Outcome::clips && std::exchange(costly, true)) continue;
        std::string line =
            found.input ? setup.controller.inputs[*found.input].name + ": " : std::string("All inputs: ");
        line += v.words.because;
        if (v.finding.exceeds_by_tolerance()) {
            line += fmt::format(" Over the stated tolerances it is {} to {}; the limit is {}.",
                                in_unit(v.finding.spread.lower(), v.finding.unit),
                                in_unit(v.finding.spread.upper(), v.finding.unit),
                                in_unit(v.finding.limit, v.finding.unit));
        }
        if (v.finding.outcome == Outcome::clips) line += cost_words(j, found);
        if (v.finding.outcome == Outcome::needs) line += fmt::format(" Otherwise {}.", v.rule->harm);
        once(std::move(line));
        if (!v.words.instead.empty()) once("→ " + v.words.instead);
    }
    return lines;
}

std::string unused_sentence(const Setup& setup, const ArrayPlan& plan) {
    std::string kinds;
    std::size_t unused = 0;
    for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
        std::size_t used = 0;
        for (const InputWiring& w : plan) used += w.panel_count(kind);
        const auto count = static_cast<std::size_t>(std::max(0, setup.kinds[kind].count));
        if (used >= count) continue;
        unused += count - used;
        kinds += fmt::format("{}{} of {} {}", kinds.empty() ? "" : ", ", count - used, count, setup.kinds[kind].id);
    }
    if (unused == 0) return "";
    return fmt::format("{} left out: {}.", unused == 1 ? "One panel is" : fmt::format("{} panels are", unused), kinds);
}

std::vector<std::string> help_sentences(const study::InputJudgement& one) {
    std::vector<std::string> out;
    if (one.verdict.connection == study::Connection::forbidden) return out;
    if (one.help.coldest_survived && one.help.coldest_survived->degc <= rules::coldest_looked_at.degc) {
        // Colder than anywhere on earth: nothing to say.
    } else if (one.help.coldest_survived) {
        out.push_back(fmt::format("In the cold this wiring passes no limit down to {}.",
                                  degrees(Celsius{std::ceil(one.help.coldest_survived->degc * 10.0) / 10.0})));
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

Table rule_table(const std::vector<study::RuleVerdict>& verdicts) {
    Table table = table_of("Each rule: what was found, the limit, the room left, and whose limit it is",
                           {"rule", "#value", "#limit", "#room", "why"});
    table.entries = true;
    for (const study::RuleVerdict* v : verdicts_in_order(verdicts)) {
        const rules::Finding& f = v->finding;
        table.rows.push_back(
            {{std::string(v->rule->title), in_unit(f.value, f.unit),
              std::isfinite(f.limit) ? fmt::format("{} {}", side_of(f.sense), in_unit(f.limit, f.unit)) : "not known",
              in_unit(f.margin(), f.unit), v->words.because},
             finding_notes(*v, verdicts),
             mark_of(*v)});
    }
    return table;
}

Table reading_table(const rules::ConditionPoints& points, Weathers weathers) {
    Table table = table_of("By weather: the open circuit, then what the input’s display should show in operation",
                           {"weather", "#W/m²", "#cells", "#open circuit", "#volts", "#amps", "#watts"});
    for (const rules::ConditionPoint& p : points) {
        if ((p.id == rules::ConditionId::stc) != (weathers == Weathers::test_conditions)) continue;
        const physics::OperatingPoint& op = p.operating;
        table.rows.push_back(
            {{std::string(rules::title_of(p.id)), fmt::format("{:.0f}", p.condition.irradiance_w_per_m2),
              degrees(p.condition.cell), volts(p.open_circuit_v), op.held() ? volts(op.point.voltage_v) : "–",
              op.held() ? amps(op.point.current_a) : "–", op.held() ? watts(op.point.power_w()) : "–"}});
    }
    return table;
}

Table operation_table(const rules::ConditionPoints& points) {
    Table table =
        table_of("What decides in each weather, and what is left in the array", {"weather", "#watts", "#not taken"});
    for (const rules::ConditionPoint& p : points) {
        const physics::OperatingPoint& op = p.operating;
        table.rows.push_back(
            {{std::string(rules::title_of(p.id)), op.held() ? watts(op.point.power_w()) : "–", watts(op.lost_w())},
             operation_notes(p)});
    }
    return table;
}

Table driven_table(const study::InputJudgement& one, const std::vector<std::string>& ids) {
    Table table = table_of("Driven back through each string, at most", {"string", "nothing drawn", "in operation"});
    const auto most = [](const study::ReverseCurrent& r) {
        constexpr double smallest_printed_a = 0.005;
        return !r.weather || r.current_a < smallest_printed_a
                   ? std::string("none")
                   : fmt::format("{}, {}", amps(r.current_a), rules::title_of(*r.weather));
    };
    for (std::size_t i = 0; i < one.driven.size(); ++i) {
        const study::DrivenString& string = one.driven[i];
        const std::string name = label({{one.wiring.strings[i]}}, ids) + (string.blocked ? ", blocking diode" : "");
        table.rows.push_back({{fmt::format("{}: {}", i + 1, name), most(string.open_circuit), most(string.operating)}});
    }
    return table;
}

std::vector<std::string> harvest_sentences(const Setup& setup, const study::Judgement& j) {
    std::vector<std::string> out{
        fmt::format("On a warm day, weighted over the light of a year: {} (European weights), {} (CEC weights); the "
                    "panels one by one would give {} (European).",
                    watts(j.harvest.european_w), watts(j.harvest.cec_w), watts(j.free_harvest.european_w))};
    if (!setup.cables.empty() && j.wireless_harvest.european_w > 0.0) {
        out.push_back(fmt::format("Without the cables it would be {} (European): they cost {}.",
                                  watts(j.wireless_harvest.european_w),
                                  per_cent(j.cables_cost_ratio(), 2)));
    }
    return out;
}

}  // namespace plait::output
