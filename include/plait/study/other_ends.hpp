// A site whose temperatures are known only as ranges is judged at the graver ends; what comes out differently at another
// end is not proven. One place, so that the ranking and the full judgement cannot disagree.
#pragma once

#include <plait/rules/rule.hpp>

#include <algorithm>

namespace plait::study {

/// The deciding finding of the same rule about the same kind in a list whose elements have a `rule` and a `finding`;
/// null where there is none.
template <class Ruled>
[[nodiscard]] const Ruled* counterpart(const rules::Rule& rule, const rules::Finding& f, const std::vector<Ruled>& there) {
    const auto found = std::find_if(there.begin(), there.end(), [&](const Ruled& r) {
        return r.rule == &rule && r.finding.decides && r.finding.kind == f.kind && r.finding.unit == f.unit;
    });
    return found == there.end() ? nullptr : &*found;
}

/// Whether a deciding finding comes out differently there, or not at all.
template <class Ruled>
[[nodiscard]] bool turns(const rules::Rule& rule, const rules::Finding& f, const std::vector<Ruled>& there) {
    const Ruled* other = counterpart(rule, f, there);
    return other == nullptr ? f.outcome != rules::Outcome::within : other->finding.outcome != f.outcome;
}

}  // namespace plait::study
