#pragma once

#include <plait/search/arrangement.hpp>

#include <vector>

namespace plait::search {

/// Of the plans met, those none of which another beats or equals in everything: harvest, room in the cold, harvest with
/// one panel shaded (worst and mean), the highest voltage there is to touch, connectors and fuses. At most a handful.
[[nodiscard]] std::vector<TradeOff> trade_offs(const study::SystemModel& system, const Arrangement& arrangement);

}  // namespace plait::search
