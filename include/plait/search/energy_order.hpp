// Wirings by what they deliver over a time at a place, instead of by watts over the usual lights.
#pragma once

#include <plait/search/arrangement.hpp>
#include <plait/study/harvest_year.hpp>

namespace plait::search {

/// Puts the usable plans of an arrangement in order by energy, each class by itself: what holds stays before what a
/// tolerance may carry past a limit, and both before what falls short or exceeds, which are not counted at all. The one
/// advised is then the simplest within `near_tie_ratio` of the best by energy. `keep_going` is asked before each plan.
void order_by_energy(const study::SystemModel& system, const study::LightSeries& light, const KeepGoing& keep_going,
                     Arrangement& arrangement);

/// An energy as orders compare it: to a thousandth of a watt-hour. The digits behind are what exp and pow round off,
/// which differs between systems' libraries, and must not decide which of two equal wirings comes first.
[[nodiscard]] double compared_wh(double energy_wh);

}  // namespace plait::search
