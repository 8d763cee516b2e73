#include "stc_family.hpp"

#include "root.hpp"

#include <algorithm>
#include <cmath>

namespace plait::physics {
namespace {

constexpr double root_width = 1e-14;  // of quantities of the order of 0.01 … 1

/// 1 − E(u)
double lack(double u, double ideality) { return -std::expm1((u - 1.0) / ideality); }

}  // namespace

DiodeCurve StcMember::curve(double voc_v, double isc_a) const {
    const double saturation = diode * std::exp(-1.0 / ideality);
    return {isc_a * (diode - saturation + shunt), isc_a * saturation, voc_v * ideality, voc_v / isc_a * series,
            isc_a / voc_v * shunt};
}

StcMember shuntless_with_series(double ideality, double series) {
    return {ideality, series, 0.0, 1.0 / lack(series, ideality)};
}

StcMember StcFamily::through_points(double ideality, double series) const {
    const double u_max = v_ + i_ * series;
    const double lack_short = lack(series, ideality);
    const double lack_max = lack(u_max, ideality);
    const double determinant = lack_max * (1.0 - series) - lack_short * (1.0 - u_max);  // > 0: E is convex
    return {ideality, series, (lack_max - lack_short * i_) / determinant, (v_ + i_ - 1.0) / determinant};
}

// dP/dV = 0 says (Vmp − Imp·Rs)·(J·E/a + G) = Imp. Multiplied by the determinant, which is positive up to the end of
// the range of Rs and zero there, it has no pole and changes sign once.
double StcFamily::steepness(double ideality, double series) const {
    const double u_max = v_ + i_ * series;
    const double lack_short = lack(series, ideality);
    const double lack_max = lack(u_max, ideality);
    const double determinant = lack_max * (1.0 - series) - lack_short * (1.0 - u_max);
    const double conductance = (v_ + i_ - 1.0) * (1.0 - lack_max) / ideality + (lack_max - lack_short * i_);
    return (v_ - i_ * series) * conductance - i_ * determinant;
}

// G times the determinant.
double StcFamily::shunt_share(double ideality, double series) const {
    return lack(v_ + i_ * series, ideality) - i_ * lack(series, ideality);
}

std::optional<StcMember> StcFamily::exact(double ideality) const {
    const auto series = crossing([&](double r) { return steepness(ideality, r); }, 0.0, widest_series(), root_width);
    if (!series) return std::nullopt;
    return through_points(ideality, *series);
}

std::optional<StcMember> StcFamily::greatest_ideality(double low, double high) const {
    const auto feasible = [](const std::optional<StcMember>& m) { return m && m->shunt >= 0.0; };
    if (!feasible(exact(low))) return std::nullopt;
    auto best = exact(high);
    if (feasible(best)) return best;
    if (!best) {  // Rs reaches zero below `high`
        const auto end = crossing([&](double a) { return steepness(a, 0.0); }, low, high, root_width);
        if (!end) return exact(low);
        high = *end;
        best = through_points(high, 0.0);
        if (best->shunt >= 0.0) return best;
    }
    const auto shunt = [&](double a) {
        const auto m = exact(a);
        return m ? m->shunt : through_points(a, 0.0).shunt;
    };
    const auto end = crossing(shunt, low, high, root_width);
    best = exact(end.value_or(low));
    if (!best) best = through_points(end.value_or(low), 0.0);
    best->shunt = 0.0;  // but for rounding
    return best;
}

std::optional<StcMember> StcFamily::shuntless(double ideality) const {
    const auto series = crossing([&](double r) { return shunt_share(ideality, r); }, 0.0, widest_series(), root_width);
    if (!series) return std::nullopt;
    return shuntless_with_series(ideality, *series);
}

std::optional<double> StcFamily::greatest_shuntless(double low, double high) const {
    if (shunt_share(low, 0.0) < 0.0) return std::nullopt;
    if (shunt_share(high, 0.0) >= 0.0) return high;
    return crossing([&](double a) { return shunt_share(a, 0.0); }, low, high, root_width);
}

}  // namespace plait::physics
