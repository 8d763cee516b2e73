#pragma once

#include <plait/rules/rule.hpp>
#include <plait/study/system_model.hpp>

#include <span>

namespace plait::study {

/// The cures without those that would make something graver of what a rule found: after which another limit that must not
/// be passed is, or, if none is passed by the finding itself, the array falls short of what an input needs. Some of that
/// only the curves of the changed wiring show, and rules do not solve curves. Of a finding that clips each gets its
/// `gain_w`. The situation must be of the system; `level_power_w` is that of the plan's inputs, in their order.
[[nodiscard]] rules::Cures sound_cures(const SystemModel& system, const rules::Situation& s, const rules::Finding& f,
                                       rules::Cures cures, std::span<const LevelPowers> level_power_w);

}  // namespace plait::study
