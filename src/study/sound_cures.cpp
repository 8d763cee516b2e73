#include "sound_cures.hpp"

#include <plait/rules/catalogue.hpp>
#include <plait/study/apply_cure.hpp>
#include <plait/study/judgement.hpp>

#include <algorithm>
#include <optional>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

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
// Stated once for all inputs: another one may want another size, and says so itself.
bool is_of_one_input(CureKind kind) {
    return kind == CureKind::string_fuse || kind == CureKind::own_string_fuses || kind == CureKind::connectors ||
           kind == CureKind::branch_connectors;
}

/// The plan after a cure.
class CuredPlan {
public:
    CuredPlan(const SystemModel& system, const rules::Situation& s, const rules::Cure& cure, ChangedSetup changed)
        : system_(system), before_(s), cure_(cure), changed_(std::move(changed)) {
        if (cure.kind == CureKind::cable_sizes) other_.emplace(changed_.setup);
    }

    [[nodiscard]] Trouble trouble() const {
        std::vector<rules::ConditionPoints> points;
        points.reserve(before_.plan.size());
        std::vector<rules::WiredInput> wired;
        for (const rules::WiredInput& w : before_.plan) {
            points.push_back(is_other(w.input) ? model().points(w.input, wiring(w.input)) : *w.points);
            wired.push_back({w.input, &wiring(w.input), &points.back()});
        }
        Trouble trouble;
        for (const rules::WiredInput& w : wired) {
            if (is_of_one_input(cure_.kind) && w.input != cure_.input) continue;
            look({changed_.setup, w, wired, before_.curves}, trouble);
        }
        return trouble;
    }

    /// `before_w`: along with the plan's inputs.
    [[nodiscard]] double gain_w(std::span<const LevelPowers> before_w) const {
        LevelPowers sum_before_w{};
        LevelPowers sum_after_w{};
        for (std::size_t i = 0; i < before_.plan.size(); ++i) {
            const std::size_t input = before_.plan[i].input;
            const LevelPowers after_w = is_other(input) ? model().level_powers(input, wiring(input)) : before_w[i];
            for (std::size_t l = 0; l < after_w.size(); ++l) {
                sum_before_w[l] += before_w[i][l];
                sum_after_w[l] += after_w[l];
            }
        }
        const Controller& controller = changed_.setup.controller;
        for (double& w : sum_before_w) w = shared_w(controller, w);
        for (double& w : sum_after_w) w = shared_w(controller, w);
        return weighted(sum_after_w).european_w - weighted(sum_before_w).european_w;
    }

private:
    [[nodiscard]] const InputWiring& wiring(std::size_t input) const { return changed_.plan[input]; }
    [[nodiscard]] const SystemModel& model() const { return other_ ? *other_ : system_; }
    /// Whether the input's curve is another one.
    [[nodiscard]] bool is_other(std::size_t input) const {
        return other_ || (input == cure_.input && changes_wiring(cure_.kind));
    }

    const SystemModel& system_;
    const rules::Situation& before_;
    const rules::Cure& cure_;
    ChangedSetup changed_;
    std::optional<SystemModel> other_;
};

}  // namespace

rules::Cures sound_cures(const SystemModel& system, const rules::Situation& s, const rules::Finding& f, rules::Cures cures,
                         std::span<const LevelPowers> level_power_w) {
    if (cures.empty()) return cures;
    ArrayPlan plan(s.setup.controller.inputs.size());
    Trouble before;
    for (const rules::WiredInput& w : s.plan) {
        plan[w.input] = *w.wiring;
        look({s.setup, w, s.plan, s.curves}, before);
    }
    const bool grave = f.outcome == rules::Outcome::exceeds;
    rules::Cures sound;
    for (rules::Cure& cure : cures) {
        std::optional<ChangedSetup> changed = apply(cure, s.setup, plan);
        if (!changed) continue;
        const CuredPlan cured(system, s, cure, std::move(*changed));
        const Trouble then = cured.trouble();
        if (then.falls_short && !before.falls_short && !grave) continue;
        if (!std::includes(before.passed.begin(), before.passed.end(), then.passed.begin(), then.passed.end())) continue;
        if (f.outcome == rules::Outcome::clips) cure.gain_w = cured.gain_w(level_power_w);
        sound.push_back(std::move(cure));
    }
    return sound;
}

}  // namespace plait::study
