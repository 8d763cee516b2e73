#include <plait/measured/clear_share.hpp>

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double hour_s = 3600.0;
constexpr double least_covered_s = 0.75 * hour_s;
// Below it a plane a few degrees off is worth more than a cloud.
constexpr double least_clear_w_per_m2 = 250.0;

bool array_decides(Cause cause) {
    return cause == Cause::less_light || cause == Cause::heat || cause == Cause::array || cause == Cause::cable;
}

}  // namespace

std::optional<double> ClearShare::Hour::share_ratio() const {
    return covered_s >= least_covered_s ? std::optional(light_ws / clear_ws) : std::nullopt;
}

void ClearShare::add(const ExplainedRow& row) {
    const LogRow& r = row.row;
    if (r.irradiance_w_per_m2 || !r.clear_w_per_m2 || *r.clear_w_per_m2 < least_clear_w_per_m2 || !array_decides(row.cause)) return;
    const double hour = std::floor(r.time_s / hour_s);
    if (hour != hour_h_) {
        best_ratio_ = best_hour_ratio();
        now_ = {};
        hour_h_ = hour;
    }
    now_.covered_s += row.hours_s;
    now_.light_ws += row.hours_s * row.irradiance_w_per_m2;
    now_.clear_ws += row.hours_s * *r.clear_w_per_m2;
}

std::optional<double> ClearShare::best_hour_ratio() const {
    const std::optional<double> now = now_.share_ratio();
    if (!now) return best_ratio_;
    return best_ratio_ ? std::max(*now, *best_ratio_) : *now;
}

}  // namespace plait::measured
