#include <plait/study/judgement.hpp>

#include <plait/rules/array_figures.hpp>
#include <plait/rules/catalogue.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/rules/cure_search.hpp>

#include "coldest_survived.hpp"
#include "sound_cures.hpp"

#include <plait/study/concerns.hpp>
#include <plait/study/other_ends.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace plait::study {
namespace {

using rules::Outcome;

void apply(const SystemModel& system, const rules::Rule& rule, const rules::Situation& s,
           const std::vector<Assumption>& assumptions, std::span<const LevelPowers> level_power_w,
           std::vector<RuleVerdict>& out) {
    rules::Findings findings;
    rule.check(s, findings);
    for (const rules::Finding& f : findings) {
        RuleVerdict v{&rule, f, sound_cures(system, s, f, rules::cures_of(rule, s, f), level_power_w), {}, {}, false};
        v.words = rules::words_of(rule, s, f, v.cures);
        for (std::size_t i = 0; i < assumptions.size(); ++i) {
            if (concerns(assumptions[i], rule, f.test, s)) v.assumptions.push_back(i);
        }
        out.push_back(std::move(v));
    }
}

// What another end of the site's ranges would turn.
void compare_ends(std::vector<RuleVerdict>& verdicts, const std::vector<RuleVerdict>& there) {
    for (RuleVerdict& v : verdicts) {
        if (!v.finding.decides || v.turns_in_range || !turns(*v.rule, v.finding, there)) continue;
        v.turns_in_range = true;
        const RuleVerdict* other = counterpart(*v.rule, v.finding, there);
        v.words.because += " The stated range of temperatures does not settle this: at its other end it would be \"" +
                           std::string(rules::name_of(other == nullptr ? Outcome::within : other->finding.outcome)) +
                           "\".";
    }
}

Tally tally_of(const std::vector<RuleVerdict>& verdicts) {
    Tally tally;
    for (const RuleVerdict& v : verdicts) {
        if (v.finding.decides) tally.count(v.finding, !v.assumptions.empty() || v.turns_in_range);
    }
    return tally;
}

Verdict verdict_of(const Tally& tally, double clipped_ratio) {
    Verdict verdict;
    static_cast<Answers&>(verdict) = tally.answers();
    verdict.clipped_ratio = verdict.intake == Intake::clipped ? clipped_ratio : 0.0;
    return verdict;
}

// The fewest in series for which no rule about waking up and working in the heat says "falls short".
std::optional<int> shortest_string(const SystemModel& system, std::size_t input, const EqualStrings& equal) {
    constexpr int most_tried = 60;
    // They look at the datasheets alone: no curve is solved for them.
    const std::array asked{rules::rule_named("start-voltage"), rules::rule_named("tracking-bottom"),
                           rules::rule_named("tracking-with-drop"), rules::rule_named("battery-headroom")};
    for (int n = 1; n <= most_tried; ++n) {
        const InputWiring wiring = written_out({equal.kind, n, 1});
        const rules::WiredInput wired{input, &wiring, nullptr};
        const rules::Situation s{system.setup(), wired, std::span(&wired, 1), system.curves()};
        rules::Findings findings;
        for (const rules::Rule* rule : asked) rule->check(s, findings);
        const bool short_of = std::any_of(findings.begin(), findings.end(), [](const rules::Finding& f) {
            return f.decides && f.outcome == Outcome::falls_short;
        });
        if (!short_of) return n;
    }
    return std::nullopt;
}

Help help_for(const SystemModel& system, const rules::Situation& s) {
    Help help;
    const bool known = s.input().max_voltage_v.has_value();
    if (known) help.coldest_survived = coldest_survived(system, s);
    if (const auto equal = as_equal_strings(s.wiring())) {
        if (known) {
            help.longest_string = static_cast<int>(
                rules::longest_string(s, equal->kind, static_cast<std::size_t>(equal->in_parallel)));
        }
        help.shortest_string = shortest_string(system, s.here.input, *equal);
    }
    return help;
}

ArrayFacts facts_of(const rules::Situation& s) {
    const Setup& setup = s.setup;
    ArrayFacts facts;
    facts.pmax_w = rules::array_pmax_w(s, s.wiring()).value;
    facts.isc_a = rules::array_isc_a(s, s.wiring()).value;
    facts.bright_isc_a = rules::array_bright_isc_a(s, s.wiring()).value;
    facts.continuous_isc_a = rules::continuous_duty_factor * facts.bright_isc_a;
    facts.cold_method_applies.fill(true);
    for (std::size_t m = 0; m < rules::cold_methods.size(); ++m) {
        facts.cold_voc_v[m] = rules::array_cold_voc_v(s.stated(), s.wiring(), rules::cold_methods[m]).value;
    }
    for (const SeriesString& string : s.wiring().strings) {
        double voc_v = 0.0;
        for (const PanelPlace& place : string.panels) {
            voc_v += s.panel(place).voc_v;
            for (std::size_t m = 0; m < rules::cold_methods.size(); ++m) {
                if (!rules::method_applies(s.panel(place), rules::cold_methods[m], setup.site.coldest_air)) {
                    facts.cold_method_applies[m] = false;
                }
            }
        }
        facts.stc_voc_v = std::max(facts.stc_voc_v, voc_v);
    }
    facts.cold_vmp_v = rules::cold_vmp_v(s).value;
    facts.hot_voc_v = rules::hot_voc_v(s).value;
    facts.hot_vmp_v = rules::hot_vmp_v(s).value;
    return facts;
}

void add_conditions(const rules::Situation& s, const std::vector<RuleVerdict>& verdicts,
                    std::vector<rules::Condition>& conditions) {
    for (const RuleVerdict& v : verdicts) {
        if (v.finding.decides && v.finding.outcome == Outcome::needs) {
            add_condition(conditions, v.rule->condition(s, v.finding));
        }
    }
}

// One ampere in a billion is rounding, not a current.
constexpr double least_a = 1e-9;

std::vector<DrivenString> driven_strings(const rules::Situation& s) {
    std::vector<DrivenString> driven;
    for (std::size_t i = 0; i < s.points().front().strings.size(); ++i) {
        const SeriesString& string = s.wiring().strings[i];
        DrivenString& one = driven.emplace_back();
        one.blocked = string.blocking_diode;
        one.rating_a = rules::weakest_series_fuse_a(s.setup, string);
        for (const rules::ConditionPoint& p : s.points()) {
            const auto raise = [&](ReverseCurrent& most, double reverse_a) {
                if (reverse_a > std::max(most.current_a, least_a)) most = {reverse_a, p.id};
            };
            raise(one.open_circuit, -p.strings[i].open_circuit_a);
            if (p.operating.held()) raise(one.operating, -p.strings[i].operating_a);
        }
    }
    return driven;
}

}  // namespace

double shared_w(const Controller& controller, double sum_w) {
    const double charging_w =
        physics::charging_power_limit_w(controller).value_or(std::numeric_limits<double>::infinity());
    return std::min({sum_w, controller.max_total_power_w.value_or(sum_w), charging_w});
}

std::vector<Assumption> all_assumptions(const SystemModel& system) {
    std::vector<Assumption> all = system.setup().assumptions;
    for (std::size_t kind = 0; kind < system.setup().kinds.size(); ++kind) {
        const physics::FittedPanel& fitted = system.fitted(kind);
        if (fitted.weak_light_stated || system.setup().kinds[kind].panel.given_diode ||
            system.setup().curve_method == CurveMethod::de_soto) {
            continue;
        }
        const double permille = std::round(fitted.weak_light_ratio * 1000.0);
        std::string value = std::to_string(static_cast<int>(permille / 10.0)) + "." +
                            std::to_string(static_cast<int>(permille) % 10) + " %";
        const Panel& panel = system.setup().kinds[kind].panel;
        all.push_back({Quantity::panel_weak_light, kind, std::nullopt, "panel '" + panel.name + "'",
                       "efficiency at 200 W/m² over that at STC", value,
                       physics::weak_light_prior_holds(panel.technology)
                           ? "datasheet silent; usual for " + std::string(name_of(panel.technology).title)
                           : "datasheet silent; for this technology a guess: ask the maker for the weak-light figure"});
    }
    return all;
}

std::vector<physics::FittedPanel> curves_of(const SystemModel& system) {
    std::vector<physics::FittedPanel> curves;
    for (std::size_t kind = 0; kind < system.setup().kinds.size(); ++kind) curves.push_back(system.fitted(kind));
    return curves;
}

ClippedBy clipped_by(const PlacedFinding& found) {
    if (!found.input) return ClippedBy::shared_limit;
    return found.verdict->rule == rules::rule_named("cable-drop") ? ClippedBy::cables : ClippedBy::inputs;
}

double clipped_cost_w(const Judgement& j, const PlacedFinding& found) {
    if (found.verdict->finding.outcome != Outcome::clips) return 0.0;
    switch (clipped_by(found)) {
        case ClippedBy::cables:
            return j.account.cables_w;
        case ClippedBy::inputs:
            return j.account.inputs_w;
        case ClippedBy::shared_limit:
            return j.account.shared_w;
    }
    return 0.0;
}

std::vector<PlacedFinding> headline_findings(const Judgement& j) {
    using rules::HeadlineShare;
    std::vector<PlacedFinding> found;
    const auto look = [&](const std::vector<RuleVerdict>& verdicts, std::optional<std::size_t> input) {
        for (const RuleVerdict& v : verdicts) {
            if (v.finding.decides && rules::headline_share(v.finding) < HeadlineShare::doubts) found.push_back({input, &v});
        }
    };
    for (const InputJudgement& one : j.inputs) look(one.verdicts, one.input);
    look(j.plan, std::nullopt);
    const auto share = [](const PlacedFinding& f) { return rules::headline_share(f.verdict->finding); };
    std::stable_sort(found.begin(), found.end(), [&](const PlacedFinding& a, const PlacedFinding& b) {
        return share(a) != share(b) ? share(a) < share(b) : clipped_cost_w(j, a) > clipped_cost_w(j, b);
    });
    if (!found.empty() && share(found.front()) == HeadlineShare::forbids) {
        found.erase(std::find_if(found.begin(), found.end(),
                                 [&](const PlacedFinding& f) { return share(f) != HeadlineShare::forbids; }),
                    found.end());
    }
    return found;
}

Judgement judge(const SystemModel& system, const ArrayPlan& plan) {
    Judgement j;
    std::vector<Judgement> ends;
    for (const SystemModel& end : system.other_ends()) ends.push_back(judge(end, plan));
    j.assumptions = all_assumptions(system);
    j.curves = curves_of(system);
    for (std::size_t input = 0; input < plan.size(); ++input) {
        if (plan[input].empty()) continue;
        InputJudgement& one = j.inputs.emplace_back();
        one.input = input;
        one.wiring = plan[input];
        one.points = system.points(input, one.wiring);
        one.level_power_w = system.level_powers(input, one.wiring);
        one.wireless_level_power_w =
            system.setup().cables.empty() ? one.level_power_w : system.level_powers(input, one.wiring, Wires::left_out);
    }
    std::vector<rules::WiredInput> wired;
    std::vector<LevelPowers> level_power_w;
    for (const InputJudgement& one : j.inputs) {
        wired.push_back({one.input, &one.wiring, &one.points});
        level_power_w.push_back(one.level_power_w);
    }

    Tally whole;
    std::vector<rules::Condition> conditions;
    LevelPowers together_w{};
    LevelPowers wireless_w{};
    for (std::size_t i = 0; i < j.inputs.size(); ++i) {
        InputJudgement& one = j.inputs[i];
        const rules::Situation s{system.setup(), wired[i], wired, system.curves()};
        for (const rules::Rule* rule : rules::all_rules()) {
            if (rule->scope == rules::Scope::input) apply(system, *rule, s, j.assumptions, level_power_w, one.verdicts);
        }
        for (const Judgement& end : ends) compare_ends(one.verdicts, end.inputs[i].verdicts);
        one.help = help_for(system, s);
        one.facts = facts_of(s);
        one.driven = driven_strings(s);
        one.wires = wire_sheet(s);
        const Tally tally = tally_of(one.verdicts);
        ArrayPlan alone(plan.size());
        alone[one.input] = one.wiring;
        one.verdict = verdict_of(tally, harvest_account(system, alone).clipped_ratio());
        add_conditions(s, one.verdicts, one.verdict.conditions);
        add_conditions(s, one.verdicts, conditions);
        whole.merge(tally);
        const LevelPowers free_w = system.free_powers(one.wiring);
        const Harvest free = weighted(free_w);
        j.free_harvest.european_w += free.european_w;
        j.free_harvest.cec_w += free.cec_w;
        for (std::size_t l = 0; l < together_w.size(); ++l) {
            together_w[l] += one.level_power_w[l];
            wireless_w[l] += one.wireless_level_power_w[l];
        }
    }
    if (!wired.empty()) {
        const rules::Situation s{system.setup(), wired.front(), wired, system.curves()};
        for (const rules::Rule* rule : rules::all_rules()) {
            if (rule->scope == rules::Scope::plan) apply(system, *rule, s, j.assumptions, level_power_w, j.plan);
        }
        for (const Judgement& end : ends) compare_ends(j.plan, end.plan);
        add_conditions(s, j.plan, conditions);
        j.battery = battery_sheet(s);
    }
    whole.merge(tally_of(j.plan));
    j.account = harvest_account(system, plan);
    j.verdict = verdict_of(whole, j.account.clipped_ratio());
    j.verdict.conditions = std::move(conditions);
    for (double& w : together_w) w = shared_w(system.setup().controller, w);
    for (double& w : wireless_w) w = shared_w(system.setup().controller, w);
    j.harvest = weighted(together_w);
    j.wireless_harvest = weighted(wireless_w);
    for (const InputJudgement& one : j.inputs) {
        const std::vector<HotSpot> spots = hot_spots(system, one.input, one.wiring);
        j.hot_spots.insert(j.hot_spots.end(), spots.begin(), spots.end());
    }
    j.cautions = cautions_for(system.stated(), plan, j.hot_spots);
    return j;
}

}  // namespace plait::study
