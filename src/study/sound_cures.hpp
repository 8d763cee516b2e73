#pragma once

#include <plait/rules/rule.hpp>
#include <plait/study/system_model.hpp>

namespace plait::study {

/// Takes out the cures that would make something graver of what a rule found: after which another limit that must not be
/// passed is, or, if none is passed by the finding itself, the array falls short of what an input needs. Some of that
/// only the curves of the changed wiring show, and rules do not solve curves. The situation must be of the system.
void keep_sound(const SystemModel& system, const rules::Situation& s, const rules::Finding& f, rules::Cures& cures);

}  // namespace plait::study
