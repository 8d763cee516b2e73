#include <plait/study/shared_limit.hpp>

#include <plait/rules/catalogue.hpp>

#include <algorithm>
#include <cassert>

namespace plait::study {

const rules::Rule& shared_limit(const Setup& setup, const ArrayPlan& plan) {
    const rules::Rule* charge = rules::rule_named("charge-current");
    const rules::Rule* power = rules::rule_named("shared-power");
    assert(charge != nullptr && power != nullptr);
    // The charge current is held against rated watts, so no operating points are worked out.
    std::vector<rules::WiredInput> wired;
    for (std::size_t input = 0; input < plan.size(); ++input) {
        if (!plan[input].empty()) wired.push_back({input, &plan[input], nullptr});
    }
    assert(!wired.empty());
    rules::Findings findings;
    charge->check({setup, wired.front(), wired, {}}, findings);
    const bool clips = std::any_of(findings.begin(), findings.end(), [](const rules::Finding& f) {
        return f.decides && f.outcome == rules::Outcome::clips;
    });
    return clips ? *charge : *power;
}

}  // namespace plait::study
