// Which assumptions a rule rests on. One place, so that the ranking and the full judgement cannot disagree.
#pragma once

#include <plait/rules/rule.hpp>

#include <algorithm>

namespace plait::study {

/// Whether an assumed value is behind what a test of a rule finds in a situation.
[[nodiscard]] inline bool concerns(const Assumption& a, const rules::Rule& rule, int test, const rules::Situation& s) {
    if (!rules::rests_on(rule, test, a.quantity)) return false;
    const auto uses = [&](const rules::WiredInput& w) {
        return (!a.kind || w.wiring->panel_count(*a.kind) > 0) && (!a.input || *a.input == w.input);
    };
    if (rule.scope == rules::Scope::input) return uses(s.here);
    return std::any_of(s.plan.begin(), s.plan.end(), uses);
}

}  // namespace plait::study
