// The wiring that a search advises, judged in full.
#pragma once

#include <plait/search/arrangement.hpp>
#include <plait/study/look_up.hpp>

#include <optional>

namespace plait::search {

struct Advised : study::LookedUp {
    ArrayPlan plan;
};

/// Nothing where no wiring of the arrangement may be connected.
[[nodiscard]] std::optional<Advised> advised_of(const study::SystemModel& system, const Arrangement& arrangement);

}  // namespace plait::search
