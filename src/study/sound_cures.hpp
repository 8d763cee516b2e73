#pragma once

#include <plait/rules/rule.hpp>
#include <plait/study/system_model.hpp>

namespace plait::study {

/// Takes out the cures after which unlike strings would drive too much current through each other: only the curves of
/// the changed wiring show it, and rules do not solve curves. The situation must be of the system.
void keep_sound(const SystemModel& system, const rules::Situation& s, rules::Cures& cures);

}  // namespace plait::study
