#include <plait/study/look_up.hpp>

#include <plait/base/names.hpp>
#include <plait/rules/catalogue.hpp>

#include <algorithm>
#include <array>

namespace plait::study {
namespace {

// Every deciding finding of a plan with the place of its rule in the catalogue.
template <class F>
void each_deciding(const SystemModel& system, const ArrayPlan& plan, F f) {
    std::vector<rules::ConditionPoints> points(plan.size());
    std::vector<rules::WiredInput> wired;
    for (std::size_t input = 0; input < plan.size(); ++input) {
        if (plan[input].empty()) continue;
        points[input] = system.points(input, plan[input]);
        wired.push_back({input, &plan[input], &points[input]});
    }
    const auto look = [&](const rules::WiredInput& here, rules::Scope scope) {
        rules::each_deciding({system.setup(), here, wired, system.curves()}, scope, f);
    };
    for (const rules::WiredInput& here : wired) look(here, rules::Scope::input);
    if (!wired.empty()) look(wired.front(), rules::Scope::plan);
}

bool rests_on_it(const Judgement& judgement, std::size_t assumption) {
    const auto any = [&](const std::vector<RuleVerdict>& verdicts) {
        return std::any_of(verdicts.begin(), verdicts.end(), [&](const RuleVerdict& v) {
            return v.finding.decides &&
                   std::find(v.assumptions.begin(), v.assumptions.end(), assumption) != v.assumptions.end();
        });
    };
    return any(judgement.plan) || std::any_of(judgement.inputs.begin(), judgement.inputs.end(),
                                              [&](const InputJudgement& one) { return any(one.verdicts); });
}

// Two kinds of figure reach rules that do not name them. One that is missing silences its rule: nothing rests on a
// limit that nobody states. And Vmp and Imp take along what was worked out from them, Voc and Isc among it.
bool reaches_farther(const Assumption& a, const ArrayPlan& plan) {
    const auto uses = [&](const InputWiring& wiring) { return !a.kind || wiring.panel_count(*a.kind) > 0; };
    switch (a.quantity) {
        case Quantity::input_current_limit:
            return !a.input || !plan[*a.input].empty();
        case Quantity::panel_vmp:
        case Quantity::panel_imp:
            return std::any_of(plan.begin(), plan.end(), uses);
        default:
            return false;
    }
}

/// What the rules say, each gravest finding by itself, and what it comes to.
struct Said {
    std::vector<Answers> by_rule;  ///< in the order of the catalogue; of a silent one as if it were within
    Answers whole;
};

Said said_of(const SystemModel& system, const ArrayPlan& plan) {
    std::vector<Tally> tallies(rules::all_rules().size());
    each_deciding(system, plan, [&](std::size_t rule, const rules::Finding& f) { tallies[rule].count(f, false); });
    Said said;
    Tally whole;
    for (const Tally& tally : tallies) {
        said.by_rule.push_back(tally.answers());
        whole.merge(tally);
    }
    said.whole = whole.answers();
    return said;
}

int gravity(Connection connection) {
    switch (connection) {
        case Connection::allowed:
            return 0;
        case Connection::once_added:
            return 1;
        case Connection::undecided:
            return 2;
        case Connection::may_exceed:
            return 3;
        case Connection::forbidden:
            return 4;
    }
    return 0;
}

int gravity(Intake intake) {
    switch (intake) {
        case Intake::all:
            return 0;
        case Intake::clipped:
            return 1;
        case Intake::falls_short:
            return 2;
    }
    return 0;
}

bool could_exceed(const LookUpList& list) {
    const auto past = [](const Answers& a) {
        return a.connection == Connection::forbidden || a.connection == Connection::may_exceed;
    };
    return !past(list.now) && !list.first.empty() && past(list.first.front().gravest);
}

Turn turn_of(const Answers& now, const Answers& low, const Answers& high) {
    if (milder(now, low) || milder(now, high)) return Turn::graver;
    if (milder(low, now) || milder(high, now)) return Turn::milder;
    return low == now && high == now ? Turn::none : Turn::doubt;
}

}  // namespace

bool milder(const Answers& a, const Answers& b) {
    const int of_a = gravity(a.connection);
    const int of_b = gravity(b.connection);
    return of_a != of_b ? of_a < of_b : gravity(a.intake) < gravity(b.intake);
}

std::string_view name_of(Turn turn) {
    constexpr Names names{Name{Turn::none, "none"}, Name{Turn::doubt, "doubt"}, Name{Turn::milder, "milder"},
                          Name{Turn::graver, "graver"}};
    return name_in(names, turn);
}

Answers answers_at(const SystemModel& system, const ArrayPlan& plan) { return said_of(system, plan).whole; }

LookUpList look_up(const SystemModel& system, const ArrayPlan& plan, const Judgement& judgement) {
    const Setup& setup = system.setup();
    const auto all = rules::all_rules();
    const Said now = said_of(system, plan);
    LookUpList list;
    list.now = now.whole;
    for (std::size_t i = 0; i < judgement.assumptions.size(); ++i) {
        const Assumption& assumption = judgement.assumptions[i];
        if (!rests_on_it(judgement, i) && !reaches_farther(assumption, plan)) continue;
        LookUp one;
        one.assumption = i;
        one.range = plausible_range(setup, assumption);
        const auto at = [&](double value) {
            const Setup moved = looked_up(setup, assumption, value);
            return said_of(SystemModel(moved), plan);
        };
        const Said low = at(one.range.low);
        const Said high = at(one.range.high);
        one.at_low = low.whole;
        one.at_high = high.whole;
        one.turn = turn_of(list.now, one.at_low, one.at_high);
        if (one.turn == Turn::none) continue;
        one.gravest = milder(one.at_low, one.at_high) ? one.at_high : one.at_low;
        one.where_printed = where_printed(assumption.quantity);
        for (std::size_t rule = 0; rule < all.size(); ++rule) {
            if (low.by_rule[rule] == now.by_rule[rule] && high.by_rule[rule] == now.by_rule[rule]) continue;
            one.settles.push_back(all[rule]);
        }
        list.first.push_back(std::move(one));
    }
    std::stable_sort(list.first.begin(), list.first.end(), [](const LookUp& a, const LookUp& b) {
        return a.turn != b.turn ? a.turn > b.turn : milder(b.gravest, a.gravest);
    });
    list.others = judgement.assumptions.size() - list.first.size();
    return list;
}

LookedUp judge_and_look_up(const SystemModel& system, const ArrayPlan& plan) {
    LookedUp out;
    out.judgement = judge(system, plan);
    out.look_ups = look_up(system, plan, out.judgement);
    out.judgement.verdict.could_exceed = could_exceed(out.look_ups);
    return out;
}

}  // namespace plait::study
