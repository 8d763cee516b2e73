// Why a wiring somebody had in mind is not the first on the list.
#pragma once

#include <plait/search/arrangement.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// Reasons, the gravest first.
[[nodiscard]] std::vector<std::string> why_reasons(const study::SystemModel& system, const search::Arrangement& arrangement,
                                                   const study::Judgement& judged, const ArrayPlan& plan);

}  // namespace plait::output
