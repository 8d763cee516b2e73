#include <plait/model/place.hpp>

#include <cmath>

namespace plait {

double clock_ahead_h(const Location& location, int month, int day) {
    if (!location.summer_time) return location.from_utc_h;
    const SummerTime& s = *location.summer_time;
    const auto order = [](int m, int d) { return 100 * m + d; };
    const int now = order(month, day);
    const int from = order(s.from_month, s.from_day);
    const int to = order(s.to_month, s.to_day);
    const bool summer = from <= to ? now >= from && now < to : now >= from || now < to;
    return location.from_utc_h + (summer ? s.ahead_h : 0.0);
}

double horizon_elevation_deg(const std::vector<HorizonPoint>& horizon, double azimuth_deg) {
    if (horizon.empty()) return 0.0;
    // The points before and after, round the circle.
    const HorizonPoint* before = &horizon.back();
    double before_deg = before->azimuth_deg - 360.0;
    for (const HorizonPoint& after : horizon) {
        if (after.azimuth_deg >= azimuth_deg) {
            const double width_deg = after.azimuth_deg - before_deg;
            const double share = width_deg > 0.0 ? (azimuth_deg - before_deg) / width_deg : 1.0;
            return before->elevation_deg + share * (after.elevation_deg - before->elevation_deg);
        }
        before = &after;
        before_deg = after.azimuth_deg;
    }
    const HorizonPoint& after = horizon.front();
    const double width_deg = after.azimuth_deg + 360.0 - before_deg;
    const double share = width_deg > 0.0 ? (azimuth_deg - before_deg) / width_deg : 1.0;
    return before->elevation_deg + share * (after.elevation_deg - before->elevation_deg);
}

}  // namespace plait
