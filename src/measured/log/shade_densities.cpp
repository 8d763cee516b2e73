// How probable the readings of a row are under shade of every extent and degree, under a missing string, and where a
// tracker stays on the lower of two maxima.
//
// A family of shades draws a line of points over its degree, in shares of the volts and amps without it. All degrees are
// equally probable, but most often what they were in the row before. The readings' density is that of a bell drawn along
// the line; across it with heavy tails, as everywhere.
#include "card/bell.hpp"
#include "log_figures.hpp"
#include "row_model.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double shade_volt_ratio = 0.008;  // bypass diodes, panels unlike in shade: ours, no source
constexpr double shade_amp_ratio = 0.012;
constexpr double same_as_before = 0.7;
constexpr double degree_drift = 0.05;
constexpr double worse_ratio = 0.97;  // a maximum lower than this is worth to be told from the best

/// Readings as shares, made round: a unit in each direction is a standard deviation.
class Round {
public:
    Round(double x, double y, double var_x, double var_y, double covariance)
        : x_(x), y_(y), per_x_(1.0 / std::sqrt(var_x)), slant_(covariance / var_x) {
        per_y_ = 1.0 / std::sqrt(std::max(var_y - slant_ * covariance, 1e-12));
        norm_ = per_x_ * per_y_;
    }
    /// Where the readings lie as seen from a point.
    [[nodiscard]] std::array<double, 2> from(const ShadeHill& p) const { return rounded(x_ - p.volts_ratio, y_ - p.amps_ratio); }
    [[nodiscard]] double at(const ShadeHill& p) const {
        const auto z = from(p);
        const double q = 1.0 + 0.25 * (z[0] * z[0] + z[1] * z[1]);
        return 0.15915494309189535 * norm_ / (q * q * q);
    }
    /// The mean over the straight line between two points.
    [[nodiscard]] double along(const ShadeHill& p, const ShadeHill& q) const {
        const auto z = from(p);
        const auto e = rounded(q.volts_ratio - p.volts_ratio, q.amps_ratio - p.amps_ratio);
        const double length = std::hypot(e[0], e[1]);
        if (length < 0.5) return at({0.5 * (p.volts_ratio + q.volts_ratio), 0.5 * (p.amps_ratio + q.amps_ratio)});
        const double ahead = (z[0] * e[0] + z[1] * e[1]) / length;
        const double across = (z[0] * e[1] - z[1] * e[0]) / length;
        const double within = surely(length - ahead) - surely(-ahead);
        return within <= 0.0 ? 0.0 : norm_ / length * within * bell(across, 1.0);
    }

private:
    [[nodiscard]] std::array<double, 2> rounded(double dx, double dy) const {
        return {dx * per_x_, (dy - slant_ * dx) * per_y_};
    }
    double x_;
    double y_;
    double per_x_;
    double slant_;
    double per_y_ = 0.0;
    double norm_ = 0.0;
};

/// The same where only watts are there.
class OnlyWatts {
public:
    OnlyWatts(double w, double var) : w_(w), var_(var) {}
    [[nodiscard]] double at(const ShadeHill& p) const { return bell(w_ - p.watts_ratio(), var_); }
    [[nodiscard]] double along(const ShadeHill& p, const ShadeHill& q) const {
        const double a = p.watts_ratio();
        const double b = q.watts_ratio();
        const double sd = std::sqrt(var_);
        if (std::abs(b - a) < 0.5 * sd) return bell(w_ - 0.5 * (a + b), var_);
        const double within = surely((w_ - std::min(a, b)) / sd) - surely((w_ - std::max(a, b)) / sd);
        return std::max(0.0, within) / std::abs(b - a);
    }

private:
    double w_;
    double var_;
};

std::size_t best_of(const ShadeHills& h) {
    return h[low_hill].watts_ratio() > h[high_hill].watts_ratio() ? low_hill : high_hill;
}

/// A family's sum over degrees.
struct FamilySum {
    double shade = 0.0;  // at the best maximum
    double degree = 0.0;
    double local = 0.0;  // at the other
    double local_possible = 0.0;
};

template <class Kernel, class Reached>
FamilySum sum_over(const FamilyHills& hills, const Kernel& kernel, const Reached& reached, double before_degree,
                   double before_share) {
    FamilySum sum;
    // With what the row before says of this family's degree.
    const auto mass = [&](double low, double high) {
        double m = high - low;
        if (before_share > 0.0) {
            const double middle = 0.5 * (low + high);
            const double drift_var = square(degree_drift) + square(high - low) / 12.0;
            m = (1.0 - same_as_before) * m + same_as_before * before_share * (high - low) * bell(middle - before_degree, drift_var);
        } else if (before_share == 0.0) {
            m *= 1.0 - same_as_before;
        }
        return m;
    };
    const auto add = [&](double density, double degree) {
        sum.shade += density;
        sum.degree += density * degree;
    };
    const auto point = [&](std::size_t d, double share) {
        const ShadeHills& h = hills[d];
        const std::size_t best = best_of(h);
        const ShadeHill& other = h[1 - best];
        if (h[best].there() && reached(h[best])) add(share * kernel.at(h[best]), shade_degrees[d]);
        if (other.there() && other.watts_ratio() < worse_ratio * h[best].watts_ratio() && reached(other)) {
            const double density = share * kernel.at(other);
            sum.local += density;
            sum.local_possible += density * h[best].watts_ratio();
        }
    };
    for (std::size_t d = 0; d + 1 < shade_degrees.size(); ++d) {
        const double share = mass(shade_degrees[d], shade_degrees[d + 1]);
        const ShadeHills& a = hills[d];
        const ShadeHills& b = hills[d + 1];
        const std::size_t best = best_of(a);
        if (best != best_of(b) || !a[best].there() || !b[best].there()) {
            point(d, 0.5 * share);
            point(d + 1, 0.5 * share);
            continue;
        }
        if (reached(a[best]) || reached(b[best])) {
            add(share * kernel.along(a[best], b[best]), 0.5 * (shade_degrees[d] + shade_degrees[d + 1]));
        }
        const ShadeHill& from = a[1 - best];
        const ShadeHill& to = b[1 - best];
        if (!from.there() || !to.there() || to.watts_ratio() > worse_ratio * b[best].watts_ratio() || !reached(from)) continue;
        const double density = share * kernel.along(from, to);
        sum.local += density;
        sum.local_possible += density * 0.5 * (a[best].watts_ratio() + b[best].watts_ratio());
    }
    return sum;
}

}  // namespace

void RowModel::shade_densities(const Local& l, const Seen& s, Density& to, RowEvidence& out) {
    using Kind = ShadeFamily::Kind;
    const std::vector<ShadeFamily>& all = families();
    const std::vector<FamilyHills>& hills = shades_->at(l.account.irradiance_w_per_m2, Celsius{l.account.cell_degc});
    const double v = l.top.voltage_v;
    const double i = l.top.current_a;
    const double top_w = v * i;
    const auto at = [&](RowState h) -> double& { return to[index_of(h)]; };
    const double most_w = 1.02 * l.held.power_w();
    const double most_a = 1.02 * l.held.current_a;
    // Where a limit holds the array anyway, shade that leaves more than the limit changes nothing.
    const auto reached = [&](const ShadeHill& h) {
        if (l.end == Cause::power_limit) return h.watts_ratio() * top_w <= most_w;
        if (l.end == Cause::current_limit) return h.amps_ratio * i <= most_a;
        return true;
    };
    after_.degree.assign(all.size(), 0.0F);
    after_.sure.assign(all.size(), 0.0F);
    const auto over_all = [&](const auto& kernel, double per_unit) {
        double part = 0.0;
        double best = 0.0;
        double local_possible = 0.0;
        double best_local = 0.0;
        for (std::size_t f = 0; f < all.size(); ++f) {
            const ShadeFamily& family = all[f];
            if (family.kind == Kind::bypassed || family.kind == Kind::missing) {
                const ShadeHills& h = hills[f].front();
                const ShadeHill& point = h[best_of(h)];
                double density = 0.0;
                if (point.there() && reached(point)) {
                    // A bypassed group takes its diode's drop, or nothing where that diode is shorted.
                    const double drop_ratio = 0.5 * static_cast<double>(family.groups) / v;
                    density = kernel.along(point, {point.volts_ratio + drop_ratio, point.amps_ratio});
                }
                const bool known = before_.known && f < before_.sure.size();
                const double share = known ? (1.0 - same_as_before) * family.share +
                                                 same_as_before * static_cast<double>(before_.sure[f])
                                           : family.share;
                after_.sure[f] = static_cast<float>(share * density);
                at(family.kind == Kind::missing ? RowState::missing : RowState::bypassed) += per_unit * share * density;
                continue;
            }
            if (family.kind == Kind::as_wired) {
                const ShadeHills& h = hills[f].front();
                if (h[low_hill].there() && h[low_hill].watts_ratio() < worse_ratio && reached(h[low_hill])) {
                    const double density = 2.0 * kernel.at(h[low_hill]);
                    at(RowState::local_maximum) += per_unit * density;
                    local_possible += density;
                    best_local += density;
                }
                continue;
            }
            const bool known = before_.known && f < before_.sure.size();
            const double sure = known ? static_cast<double>(before_.sure[f]) / family.share : -1.0;
            const double degree = known ? static_cast<double>(before_.degree[f]) : 0.0;
            const FamilySum sum = sum_over(hills[f], kernel, reached, degree, sure);
            const double density = family.share * sum.shade;
            if (sum.shade > 0.0) after_.degree[f] = static_cast<float>(sum.degree / sum.shade);
            after_.sure[f] = family.kind == Kind::all ? 1.0F : static_cast<float>(density);
            if (family.kind == Kind::all) {
                at(RowState::shade_all) += per_unit * density;
                continue;
            }
            part += density;
            if (density > best) {
                best = density;
                out.shade_part.family = static_cast<std::uint16_t>(f);
                out.shade_part.light_ratio = after_.degree[f];
            }
            at(RowState::local_maximum) += per_unit * family.share * sum.local;
            local_possible += family.share * sum.local_possible;
            best_local += family.share * sum.local;
        }
        at(RowState::shade_part) = per_unit * part;
        for (const Kind kind : {Kind::part, Kind::bypassed, Kind::missing}) {
            float sum = 0.0F;
            for (std::size_t f = 0; f < all.size(); ++f) sum += all[f].kind == kind ? after_.sure[f] : 0.0F;
            for (std::size_t f = 0; f < all.size(); ++f) {
                if (all[f].kind == kind) after_.sure[f] = sum > 0.0F ? after_.sure[f] / sum : static_cast<float>(all[f].share);
            }
        }
        out.local.possible_w = best_local > 0.0 ? local_possible / best_local : 1.0;
    };
    if (s.volts) {
        const double model_x = square(shade_volt_ratio);
        const double model_y = square(shade_amp_ratio);
        over_all(Round(s.voltage_v / v, s.current_a / i, (s.volt_var + l.top.var_v) / square(v) + model_x,
                       (s.amp_var + l.top.var_a) / square(i) + model_y, l.top.covariance / top_w),
                 1.0 / top_w);
    } else {
        over_all(OnlyWatts(s.power_w / top_w, (s.watt_var + l.top.watt_var()) / square(top_w) + square(shade_amp_ratio)),
                 1.0 / top_w);
    }
    // In the log's meters.
    const double held_w = l.account.free_w;
    out.local.possible_w *= held_w;
}

}  // namespace plait::measured
