#include "sound_cures.hpp"

#include <plait/rules/catalogue.hpp>
#include <plait/study/apply_cure.hpp>

#include <algorithm>
#include <optional>
#include <set>
#include <tuple>

namespace plait::study {
namespace {

using rules::CureKind;

struct Trouble {
    std::set<std::tuple<std::size_t, const rules::Rule*, rules::Unit>> passed;  ///< by input
    bool falls_short = false;
};

void look(const rules::Situation& s, Trouble& trouble) {
    rules::each_deciding(s, rules::Scope::input, [&](std::size_t rule, const rules::Finding& f) {
        if (f.outcome == rules::Outcome::exceeds) trouble.passed.insert({s.here.input, rules::all_rules()[rule], f.unit});
        trouble.falls_short = trouble.falls_short || f.outcome == rules::Outcome::falls_short;
    });
}

bool changes_wiring(CureKind kind) {
    return kind == CureKind::fewer_in_series || kind == CureKind::more_in_series || kind == CureKind::fewer_strings ||
           kind == CureKind::blocking_diodes;
}
bool changes_cables(CureKind kind) { return kind == CureKind::cable_size || kind == CureKind::shorter_cable; }
// Stated once for all inputs: another one may want another size, and says so itself.
bool is_of_one_input(CureKind kind) {
    return kind == CureKind::string_fuse || kind == CureKind::connectors || kind == CureKind::branch_connectors;
}

Trouble after(const SystemModel& system, const rules::Situation& s, const rules::Cure& cure, const ArrayPlan& plan) {
    Trouble trouble;
    const std::optional<ChangedSetup> changed = apply(cure, s.setup, plan);
    if (!changed) return trouble;
    std::optional<SystemModel> other;
    if (changes_cables(cure.kind)) other.emplace(changed->setup);
    std::vector<rules::ConditionPoints> points;
    points.reserve(s.plan.size());
    std::vector<rules::WiredInput> wired;
    for (const rules::WiredInput& w : s.plan) {
        const InputWiring& wiring = changed->plan[w.input];
        if (other) {
            points.push_back(other->points(w.input, wiring));
        } else if (w.input == cure.input && changes_wiring(cure.kind)) {
            points.push_back(system.points(w.input, wiring));
        } else {
            points.push_back(*w.points);
        }
        wired.push_back({w.input, &wiring, &points.back()});
    }
    for (const rules::WiredInput& w : wired) {
        if (is_of_one_input(cure.kind) && w.input != cure.input) continue;
        look({changed->setup, w, wired, s.curves}, trouble);
    }
    return trouble;
}

}  // namespace

void keep_sound(const SystemModel& system, const rules::Situation& s, const rules::Finding& f, rules::Cures& cures) {
    if (cures.empty()) return;
    ArrayPlan plan(s.setup.controller.inputs.size());
    Trouble before;
    for (const rules::WiredInput& w : s.plan) {
        plan[w.input] = *w.wiring;
        look({s.setup, w, s.plan, s.curves}, before);
    }
    const bool grave = f.outcome == rules::Outcome::exceeds;
    const auto graver = [&](const rules::Cure& cure) {
        const Trouble then = after(system, s, cure, plan);
        if (then.falls_short && !before.falls_short && !grave) return true;
        return !std::includes(before.passed.begin(), before.passed.end(), then.passed.begin(), then.passed.end());
    };
    cures.erase(std::remove_if(cures.begin(), cures.end(), graver), cures.end());
}

}  // namespace plait::study
