#include <plait/physics/day_clearness.hpp>

#include "root.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

namespace plait::physics {
namespace {

constexpr double dullest_ratio = 0.05;

/// Hollands and Huget 1983 [from memory].
double clearest_ratio(double mean_ratio) {
    return 0.6313 + 0.267 * mean_ratio - 11.9 * std::pow(mean_ratio - 0.75, 8.0);
}

/// Mean of a density that grows as exp(g·x) over x from 0 to 1.
double mean_of_unit(double g) {
    // Below this the two terms cancel; the series is exact to the last digit there.
    if (std::abs(g) < 1e-3) return 0.5 + g / 12.0;
    return -1.0 / std::expm1(-g) - 1.0 / g;
}

/// The g whose mean is `mean`, between 0 and 1; nothing where the density is hardly more than one edge of them.
std::optional<double> unit_slope(double mean) {
    constexpr double steepest = 30.0;
    return crossing([&](double g) { return mean_of_unit(g) - mean; }, -steepest, steepest, 1e-12);
}

/// The integral of the quantiles from 0 to the share `u`, over exp(g·x) on 0 … 1.
double quantiles_to(double u, double g) {
    const double c = std::expm1(g);
    return ((1.0 + c * u) * std::log1p(c * u) - c * u) / (c * g);
}

}  // namespace

std::vector<double> day_clearness(double mean_ratio, double clear_ratio, std::size_t days) {
    const double most = std::min(clearest_ratio(mean_ratio), clear_ratio);
    std::vector<double> out(days, mean_ratio);
    if (!(mean_ratio > dullest_ratio) || !(mean_ratio < most)) return out;
    const double wide = most - dullest_ratio;
    const std::optional<double> slope = unit_slope((mean_ratio - dullest_ratio) / wide);
    if (!slope) return out;
    const double g = *slope;
    const double share = 1.0 / static_cast<double>(days);
    for (std::size_t i = 0; i < days; ++i) {
        const double from = share * static_cast<double>(i);
        // A density that is nearly even has its mean in the middle of each slice; the formula would cancel there.
        const double x = std::abs(g) < 1e-3 ? from + 0.5 * share : (quantiles_to(from + share, g) - quantiles_to(from, g)) / share;
        out[i] = dullest_ratio + wide * std::clamp(x, 0.0, 1.0);
    }
    // What rounding has left of the mean.
    const double left = mean_ratio - share * std::accumulate(out.begin(), out.end(), 0.0);
    for (double& ratio : out) ratio += left;
    return out;
}

}  // namespace plait::physics
