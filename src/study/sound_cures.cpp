#include "sound_cures.hpp"

#include <plait/rules/catalogue.hpp>
#include <plait/rules/cure_search.hpp>

#include <algorithm>
#include <optional>

namespace plait::study {
namespace {

std::optional<InputWiring> changed(const InputWiring& wiring, const rules::Cure& cure) {
    switch (cure.kind) {
        case rules::CureKind::fewer_in_series:
            return rules::cut_to(wiring, cure.count);
        case rules::CureKind::more_in_series:
            return rules::grown_to(wiring, cure.count);
        case rules::CureKind::fewer_strings:
            return rules::first_strings(wiring, cure.count);
        default:
            return std::nullopt;
    }
}

// 0: nothing drives more than a panel bears; 1: a tolerance may; 2: it does.
int driven_too_much(const rules::Situation& s) {
    rules::Findings findings;
    rules::rule_named("reverse-current")->check(s, findings);
    int most = 0;
    for (const rules::Finding& f : findings) {
        if (f.may_exceed()) most = std::max(most, f.outcome == rules::Outcome::exceeds ? 2 : 1);
    }
    return most;
}

}  // namespace

void keep_sound(const SystemModel& system, const rules::Situation& s, rules::Cures& cures) {
    // Equal strings stay equal, and drive nothing.
    if (cures.empty() || s.points().front().strings.empty()) return;
    const int now = driven_too_much(s);
    const auto breaks = [&](const rules::Cure& cure) {
        const std::optional<InputWiring> wiring = changed(s.wiring(), cure);
        if (!wiring) return false;
        const rules::ConditionPoints points = system.points(s.here.input, *wiring);
        const rules::WiredInput here{s.here.input, &*wiring, &points};
        return driven_too_much({s.setup, here, std::span(&here, 1), s.curves}) > now;
    };
    cures.erase(std::remove_if(cures.begin(), cures.end(), breaks), cures.end());
}

}  // namespace plait::study
