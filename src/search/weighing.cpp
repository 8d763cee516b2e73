#include "weighing.hpp"

#include <plait/study/concerns.hpp>
#include <plait/study/fuses_wanted.hpp>

#include <plait/rules/catalogue.hpp>
#include <plait/rules/cold_methods.hpp>

#include <algorithm>
#include <utility>

namespace plait::search {
namespace {

using rules::Outcome;

bool any_assumed(const rules::Rule& rule, int test, const rules::Situation& s) {
    const std::vector<Assumption>& assumptions = s.setup.assumptions;
    return std::any_of(assumptions.begin(), assumptions.end(),
                       [&](const Assumption& a) { return study::concerns(a, rule, test, s); });
}

}  // namespace

RankClass rank_class(const study::Answers& v) {
    if (v.connection == study::Connection::forbidden) return RankClass::exceeds;
    if (v.intake == study::Intake::falls_short) return RankClass::falls_short;
    return v.holds() ? RankClass::holds : RankClass::may_exceed;
}

Candidate weigh(const study::SystemModel& system, std::size_t input, InputWiring wiring, Weighed& weighed) {
    weighed.points = system.points(input, wiring);
    const rules::WiredInput wired{input, &wiring, &weighed.points};
    const rules::Situation s{system.setup(), wired, std::span(&wired, 1)};
    Candidate c;
    c.input = input;
    rules::Findings findings;
    int gravest = 0;
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->scope != rules::Scope::input) continue;
        findings.clear();
        rule->check(s, findings);
        for (const rules::Finding& f : findings) {
            if (!f.decides) continue;
            weighed.tally.count(f, any_assumed(*rule, f.test, s));
            if (f.outcome == Outcome::needs) study::add_condition(c.conditions, rule->condition(s, f));
            // A limit that a tolerance may pass speaks before what must be added.
            const bool may_exceed = f.outcome == Outcome::within && f.broken == Outcome::exceeds && !f.even_at_worst;
            const int here = 2 * rules::gravity(may_exceed ? Outcome::needs : f.outcome) + (may_exceed ? 1 : 0);
            if (here > gravest) {
                gravest = here;
                c.worst_rule = rule;
            }
        }
    }
    c.verdict = weighed.tally.answers();
    c.wants_fuses = wiring.strings.size() > 1 && study::fuses_wanted(system.setup(), rules::string_fuse_figures(s));
    c.cold_voc_v = rules::array_cold_voc_v(system.setup(), wiring, system.setup().site.cold_method);
    c.cold_margin_v = system.setup().controller.inputs[input].max_voltage_v - c.cold_voc_v;
    c.wiring = std::move(wiring);
    return c;
}

void fill_harvest(const study::SystemModel& system, Candidate& c) {
    c.level_power_w = system.level_powers(c.input, c.wiring);
    c.free_european_w = study::weighted(system.free_powers(c.wiring)).european_w;
}

study::Tally plan_tally(const study::SystemModel& system, std::span<const rules::WiredInput> wired,
                        std::vector<rules::Condition>* conditions) {
    study::Tally tally;
    rules::Findings findings;
    const rules::Situation s{system.setup(), wired.front(), wired};
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->scope != rules::Scope::plan) continue;
        findings.clear();
        rule->check(s, findings);
        for (const rules::Finding& f : findings) {
            if (!f.decides) continue;
            tally.count(f, any_assumed(*rule, f.test, s));
            if (conditions != nullptr && f.outcome == Outcome::needs) {
                study::add_condition(*conditions, rule->condition(s, f));
            }
        }
    }
    return tally;
}

}  // namespace plait::search
