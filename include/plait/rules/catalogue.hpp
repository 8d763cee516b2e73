#pragma once

#include <plait/rules/rule.hpp>

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace plait::rules {

/// Every rule, in the order of a report.
[[nodiscard]] std::span<const Rule* const> all_rules();

/// The rule of that id, or null.
[[nodiscard]] const Rule* rule_named(std::string_view id);

/// Every deciding finding about a situation by the rules of one scope: use(place of the rule in the catalogue, finding).
template <class Use>
void each_deciding(const Situation& s, Scope scope, Use use) {
    const std::span<const Rule* const> rules = all_rules();
    Findings findings;
    for (std::size_t rule = 0; rule < rules.size(); ++rule) {
        if (rules[rule]->scope != scope) continue;
        findings.clear();
        rules[rule]->check(s, findings);
        for (const Finding& f : findings) {
            if (f.decides) use(rule, f);
        }
    }
}

/// What cures a finding of a rule; nothing for one that is met, even at worst.
[[nodiscard]] Cures cures_of(const Rule& rule, const Situation& s, const Finding& f);

/// A finding and its cures in words.
[[nodiscard]] Words words_of(const Rule& rule, const Situation& s, const Finding& f, const Cures& cures);

/// The cures as one sentence, "Put at most 3 panels in series, or use …"; empty where there are none.
[[nodiscard]] std::string cure_words(const Setup& setup, const Cures& cures);

}  // namespace plait::rules
