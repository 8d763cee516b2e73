#pragma once

#include <plait/model/setup.hpp>
#include <plait/model/wiring.hpp>
#include <plait/rules/rule.hpp>

namespace plait::study {

/// Of a plan that clips though each of its inputs by itself does not: the rule about the inputs together that is behind
/// it. The charge current where it clips, else the shared power.
[[nodiscard]] const rules::Rule& shared_limit(const Setup& setup, const ArrayPlan& plan);

}  // namespace plait::study
