// What the lines and the document of pairs share.
#pragma once

#include <plait/output/match.hpp>

#include "json_parts.hpp"

namespace plait::output {

/// One pair, without a verdict in full.
[[nodiscard]] Json pair_json(const search::MatchStudy& study, const search::PairAnswer& answer);
/// What was asked, of which files.
[[nodiscard]] Json asked_json(const search::MatchStudy& study);

}  // namespace plait::output
