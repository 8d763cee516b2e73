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
        const double length = std::sqrt(e[0] * e[0] + e[1] * e[1]);  // hypot guards against sizes that shares do not have
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
double best_watts(const ShadeHills& h) { return std::max(h[low_hill].watts_ratio(), h[high_hill].watts_ratio()); }

/// A family's sum over degrees.
struct FamilySum {
    double density = 0.0;
    double degree = 0.0;    // times the density
    double possible = 0.0;  // the best maximum's watts, times the density

    void add(double more, double at_degree, double possible_ratio) {
        density += more;
        degree += more * at_degree;
        possible += more * possible_ratio;
    }
};

/// What the row before says of a family: the degree then, and its part in all families over its part beforehand.
struct FamilyBefore {
    bool known = false;
    double degree = 0.0;
    double times = 0.0;

    /// The probability of degrees between two.
    [[nodiscard]] double mass(double low, double high) const {
        const double even = high - low;
        if (!known) return even;
        if (!(times > 0.0)) return (1.0 - same_as_before) * even;
        const double drift_var = square(degree_drift) + square(even) / 12.0;
        return even * (1.0 - same_as_before + same_as_before * times * bell(0.5 * (low + high) - degree, drift_var));
    }
};

enum class Which { best, worse };

// Over the maxima that are as good as the best, or over those that are worse by more than may be told.
template <class Kernel, class Reached>
FamilySum over(Which which, const FamilyHills& hills, const Kernel& kernel, const Reached& reached,
               const FamilyBefore& before) {
    FamilySum sum;
    for (const Hill hill : {low_hill, high_hill}) {
        // How much of a degree's probability this maximum has: of two that are alike either half.
        const auto part = [&](std::size_t d) {
            const ShadeHills& h = hills[d];
            if (!h[hill].there()) return 0.0;
            const double least = worse_ratio * best_watts(h);
            const bool good = h[hill].watts_ratio() >= least;
            if (good != (which == Which::best)) return 0.0;
            const ShadeHill& other = h[1 - hill];
            return which == Which::best && other.there() && other.watts_ratio() >= least ? 0.5 : 1.0;
        };
        double here = part(0);
        for (std::size_t d = 0; d + 1 < shade_degrees.size(); ++d) {
            const double next = part(d + 1);
            const ShadeHill& a = hills[d][hill];
            const ShadeHill& b = hills[d + 1][hill];
            if (here > 0.0 || next > 0.0) {
                const double mass = before.mass(shade_degrees[d], shade_degrees[d + 1]);
                const double middle = 0.5 * (shade_degrees[d] + shade_degrees[d + 1]);
                const double possible = 0.5 * (best_watts(hills[d]) + best_watts(hills[d + 1]));
                const double share = 0.5 * (here + next) * mass;
                if (a.there() && b.there()) {
                    if (reached(a) || reached(b)) sum.add(share * kernel.along(a, b), middle, possible);
                } else if (a.there() ? reached(a) : reached(b)) {
                    sum.add(share * kernel.at(a.there() ? a : b), middle, possible);
                }
            }
            here = next;
        }
    }
    return sum;
}

// Of each kind of family, how sure a row is of each.
void make_shares(const std::vector<ShadeFamily>& all, std::vector<float>& sure) {
    using Kind = ShadeFamily::Kind;
    for (const Kind kind : {Kind::part, Kind::all, Kind::bypassed, Kind::missing}) {
        float sum = 0.0F;
        for (std::size_t f = 0; f < all.size(); ++f) sum += all[f].kind == kind ? sure[f] : 0.0F;
        for (std::size_t f = 0; f < all.size(); ++f) {
            if (all[f].kind == kind) sure[f] = sum > 0.0F ? sure[f] / sum : static_cast<float>(all[f].share);
        }
    }
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
    for (std::vector<float>* of : {&after_.degree, &after_.sure, &after_.local_degree, &after_.local_sure}) {
        of->assign(all.size(), 0.0F);
    }
    const bool known = before_.known && before_.sure.size() == all.size();
    const auto over_all = [&](const auto& kernel, double per_unit) {
        double best = 0.0;
        FamilySum local;
        for (std::size_t f = 0; f < all.size(); ++f) {
            const ShadeFamily& family = all[f];
            if (family.kind == Kind::bypassed || family.kind == Kind::missing) {
                const ShadeHills& h = hills[f].front();
                const ShadeHill& point = h[best_of(h)];
                if (!point.there() || !reached(point)) continue;
                // A bypassed group takes its diode's drop, or nothing where that diode is shorted.
                const double drop_ratio = 0.5 * static_cast<double>(family.groups) / v;
                double density = kernel.along(point, {point.volts_ratio + drop_ratio, point.amps_ratio});
                density *= known ? (1.0 - same_as_before) * family.share +
                                       same_as_before * static_cast<double>(before_.sure[f])
                                 : family.share;
                after_.sure[f] = static_cast<float>(density);
                at(family.kind == Kind::missing ? RowState::missing : RowState::bypassed) += per_unit * density;
                continue;
            }
            if (family.kind == Kind::as_wired) {
                const ShadeHills& h = hills[f].front();
                if (h[low_hill].there() && h[low_hill].watts_ratio() < worse_ratio && reached(h[low_hill])) {
                    local.add(2.0 * kernel.at(h[low_hill]), 1.0, 1.0);
                }
                continue;
            }
            FamilyBefore before;
            if (known) {
                before = {true, static_cast<double>(before_.degree[f]), static_cast<double>(before_.sure[f]) / family.share};
            }
            const FamilySum shade = over(Which::best, hills[f], kernel, reached, before);
            const double density = family.share * shade.density;
            if (shade.density > 0.0) after_.degree[f] = static_cast<float>(shade.degree / shade.density);
            after_.sure[f] = static_cast<float>(density);
            at(family.kind == Kind::all ? RowState::shade_all : RowState::shade_part) += per_unit * density;
            if (family.kind == Kind::all) continue;
            if (density > best) {
                best = density;
                out.shade_part.family = static_cast<std::uint16_t>(f);
                out.shade_part.light_ratio = after_.degree[f];
            }
            if (known) {
                before.degree = static_cast<double>(before_.local_degree[f]);
                before.times = static_cast<double>(before_.local_sure[f]) / family.share;
            }
            const FamilySum other = over(Which::worse, hills[f], kernel, reached, before);
            if (other.density > 0.0) after_.local_degree[f] = static_cast<float>(other.degree / other.density);
            after_.local_sure[f] = static_cast<float>(family.share * other.density);
            local.add(family.share * other.density, 0.0, other.density > 0.0 ? other.possible / other.density : 0.0);
        }
        at(RowState::local_maximum) = per_unit * local.density;
        out.local.possible_w = local.density > 0.0 ? local.possible / local.density : 1.0;
        make_shares(all, after_.sure);
        make_shares(all, after_.local_sure);
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
