// What the text of the ranking and the answer to "why not this one?" share.
#pragma once

#include <plait/study/arrangement.hpp>

#include <string>

namespace plait::output {

/// "PV1 2s1p, PV2 3 folding | 3 flexible"
[[nodiscard]] std::string plan_label(const Setup& setup, const ArrayPlan& plan);
[[nodiscard]] std::string plan_label(const Setup& setup, const study::Arrangement& a, const study::RankedPlan& plan);
/// "1 joint", "no unlike panels in a string": what makes `a` simpler than `b`; empty when it is not.
[[nodiscard]] std::string simpler_because(const study::RankedPlan& a, const study::RankedPlan& b);
/// How sure the ranking is of its first line. At least one plan must be usable.
[[nodiscard]] std::string standing(const study::Arrangement& a);
/// A count of wirings: "2 493", "about 3.6 thousand million".
[[nodiscard]] std::string many(double count);

}  // namespace plait::output
