#pragma once

#include <plait/base/result.hpp>
#include <plait/model/setup.hpp>

#include <string>
#include <string_view>

namespace plait::input {

/// A wiring from its short form: "3s2p", "3s2p meadow", "2 meadow + dune | 3 dune", "unused" for the first input, or
/// "PV1=3s2p; PV2=unused" for several; an input that is not named gets nothing. `where` names the text in messages,
/// such as "--wiring"; columns count from 1 in it. More panels than are on hand are no complaint, more than 500 are.
[[nodiscard]] Result<ArrayPlan> read_wiring(std::string_view text, const std::string& where, const Setup& setup);

}  // namespace plait::input
