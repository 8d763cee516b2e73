#pragma once

#include <cstddef>
#include <vector>

namespace plait::physics {

/// How clear the days of a month are whose mean clearness is known: `days` ≥ 1 of them, dullest first, each the mean of
/// its share of all days of such months; together exactly `mean_ratio`. A clearness is a day's light on flat ground
/// over what falls on top of the air; `clear_ratio` is that of a clear day of the month, and no day has more.
///
/// Days from 0.05 to a most that depends on the mean are distributed by exp(γ·clearness), with the γ that gives the
/// mean: P. Bendt, M. Collares-Pereira and A. Rabl, Solar Energy 27 (1981) 1–5; the most is that of K. G. T. Hollands
/// and R. G. Huget, Solar Energy 30 (1983) 195–209. Both [from memory].
///
/// Where the mean is nearly as clear as a clear day, or as dull as the dullest, all days are alike.
[[nodiscard]] std::vector<double> day_clearness(double mean_ratio, double clear_ratio, std::size_t days);

}  // namespace plait::physics
