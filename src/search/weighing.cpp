#include "weighing.hpp"

#include <plait/study/concerns.hpp>
#include <plait/study/fuses_wanted.hpp>
#include <plait/study/other_ends.hpp>

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

struct RuleFinding {
    const rules::Rule* rule = nullptr;
    rules::Finding finding;
};

/// The deciding findings of one scope, in the order of the catalogue.
std::vector<RuleFinding> found(const rules::Situation& s, rules::Scope scope) {
    std::vector<RuleFinding> all;
    rules::each_deciding(s, scope, [&](std::size_t rule, const rules::Finding& f) {
        all.push_back({rules::all_rules()[rule], f});
    });
    return all;
}

bool turns_at_an_end(const RuleFinding& r, const std::vector<std::vector<RuleFinding>>& ends) {
    return std::any_of(ends.begin(), ends.end(), [&](const std::vector<RuleFinding>& there) {
        return study::turns(*r.rule, r.finding, there);
    });
}

/// It rests on an assumed value, or the other end of a stated range turns it.
bool doubted(const RuleFinding& r, const rules::Situation& s, const std::vector<std::vector<RuleFinding>>& ends) {
    return any_assumed(*r.rule, r.finding.test, s) || turns_at_an_end(r, ends);
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
    const rules::Situation s{system.setup(), wired, std::span(&wired, 1), system.curves()};
    Candidate c;
    c.input = input;
    std::vector<std::vector<RuleFinding>> ends;
    for (const study::SystemModel& end : system.other_ends()) {
        weighed.points_at_ends.push_back(end.points(input, wiring));
        const rules::WiredInput there{input, &wiring, &weighed.points_at_ends.back()};
        ends.push_back(found({end.setup(), there, std::span(&there, 1), end.curves()}, rules::Scope::input));
    }
    for (const RuleFinding& r : found(s, rules::Scope::input)) {
        const rules::Finding& f = r.finding;
        const bool doubtful = doubted(r, s, ends);
        weighed.tally.count(f, doubtful);
        c.deciding.look(f, doubtful, *r.rule, input);
        if (f.outcome == Outcome::needs) study::add_condition(c.conditions, r.rule->condition(s, f));
    }
    c.verdict = weighed.tally.answers();
    c.wants_fuses = wiring.strings.size() > 1 && study::fuses_wanted(system.setup(), rules::string_fuse_figures(s));
    c.cold_voc_v = rules::array_cold_voc_v(system.stated(), wiring).value;
    const std::optional<double>& limit_v = system.setup().controller.inputs[input].max_voltage_v;
    if (limit_v) c.cold_margin_v = *limit_v - c.cold_voc_v;
    c.wiring = std::move(wiring);
    return c;
}

void fill_harvest(const study::SystemModel& system, Candidate& c) {
    c.level_power_w = system.level_powers(c.input, c.wiring);
    c.free_european_w = study::weighted(system.free_powers(c.wiring)).european_w;
}

study::Tally plan_tally(const study::SystemModel& system, std::span<const rules::WiredInput> wired,
                        std::span<const Weighed* const> weighed, RankedPlan* plan) {
    const rules::Situation s{system.setup(), wired.front(), wired, system.curves()};
    std::vector<std::vector<RuleFinding>> ends;
    for (std::size_t e = 0; e < system.other_ends().size(); ++e) {
        std::vector<rules::WiredInput> there(wired.begin(), wired.end());
        for (std::size_t i = 0; i < there.size(); ++i) there[i].points = &weighed[i]->points_at_ends[e];
        const study::SystemModel& end = system.other_ends()[e];
        ends.push_back(found({end.setup(), there.front(), there, end.curves()}, rules::Scope::plan));
    }
    study::Tally tally;
    for (const RuleFinding& r : found(s, rules::Scope::plan)) {
        const bool doubtful = doubted(r, s, ends);
        tally.count(r.finding, doubtful);
        if (plan == nullptr) continue;
        plan->deciding.look(r.finding, doubtful, *r.rule, std::nullopt);
        if (r.finding.outcome == Outcome::needs) study::add_condition(plan->conditions, r.rule->condition(s, r.finding));
    }
    return tally;
}

}  // namespace plait::search
