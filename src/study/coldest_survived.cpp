#include "coldest_survived.hpp"

#include <plait/rules/catalogue.hpp>
#include <plait/rules/cold_methods.hpp>

#include <algorithm>

namespace plait::study {
namespace {

// 120 K halved so often leaves less than a hundredth of a kelvin, or with curves, which take longer, less than the tenth that
// is printed.
constexpr int halvings = 14;
constexpr int halvings_with_curves = 11;

bool passes_none(const rules::Situation& s, bool with_curves) {
    rules::Findings findings;
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->scope != rules::Scope::input || (rule->asks_curves && !with_curves)) continue;
        findings.clear();
        rule->check(s, findings);
        if (std::any_of(findings.begin(), findings.end(), [](const rules::Finding& f) { return f.exceeds_at_worst(); })) {
            return false;
        }
    }
    return true;
}

// Whether a limit that must not be passed is held against curves here: reverse current between unlike strings, and what a
// direct-connect controller passes on.
bool curves_matter(const rules::Situation& s) {
    rules::Findings findings;
    for (const rules::Rule* rule : rules::all_rules()) {
        if (rule->scope == rules::Scope::input && rule->asks_curves) rule->check(s, findings);
    }
    return std::any_of(findings.begin(), findings.end(),
                       [](const rules::Finding& f) { return f.decides && f.broken == rules::Outcome::exceeds; });
}

// The coldest of the two at which the question is answered with yes; at `good` it is.
template <class Holds>
Celsius coldest_of(Celsius good, Celsius bad, int steps, Holds holds) {
    if (holds(bad)) return bad;
    for (int i = 0; i < steps; ++i) {
        const Celsius middle{0.5 * (good.degc + bad.degc)};
        (holds(middle) ? good : bad) = middle;
    }
    return good;
}

}  // namespace

std::optional<Celsius> coldest_survived(const SystemModel& system, const rules::Situation& s) {
    const Celsius own = s.site().coldest_air;
    if (!passes_none(s, true)) return std::nullopt;
    if (own < rules::coldest_looked_at) return own;
    Setup colder = s.setup;
    // Colder never gives less by any method, so the answer turns once.
    const auto by_datasheets = [&](Celsius air) {
        colder.site.coldest_air = air;
        const rules::WiredInput here{s.here.input, s.here.wiring, nullptr};
        return passes_none({colder, here, std::span(&here, 1), system.curves()}, false);
    };
    const Celsius coldest = coldest_of(own, rules::coldest_looked_at, halvings, by_datasheets);
    if (!curves_matter(s)) return coldest;
    const auto by_curves = [&](Celsius air) {
        colder.site.coldest_air = air;
        const SystemModel there(colder);
        const rules::ConditionPoints points = there.points(s.here.input, s.wiring());
        const rules::WiredInput here{s.here.input, s.here.wiring, &points};
        return passes_none({colder, here, std::span(&here, 1), there.curves()}, true);
    };
    return coldest_of(own, coldest, halvings_with_curves, by_curves);
}

}  // namespace plait::study
