// How probable the readings of a row are under shade of every extent and degree, under a missing string, and where a
// tracker stays on the lower of two maxima.
//
// A family of shades draws a line of points over its degree, in shares of the volts and amps without it. All degrees are
// equally probable, but most often what they were in the row before. The readings' density is that of a bell drawn along
// the line; across it with heavy tails, as everywhere.
#include "card/bell.hpp"
#include "log_figures.hpp"
#include "row_model.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double shade_volt_ratio = 0.008;  // bypass diodes, panels unlike in shade: ours, no source
constexpr double shade_amp_ratio = 0.012;
constexpr double same_as_before = 0.7;
// Farther than this beyond a stretch's end, in standard deviations, a stretch is left out: what it would add is its bell
// over its length times less than e^(−1.7·14) = 5·10⁻¹¹, a ten-millionth of what any reading has by not being explained.
constexpr double beyond_sd = 14.0;

using Many = Eigen::Map<const Eigen::ArrayXd>;
Many many(const std::vector<double>& x, ShadeLines::Range of) {
    return {x.data() + of.first, static_cast<Eigen::Index>(of.last - of.first)};
}

/// Readings as shares, made round: a unit in each direction is a standard deviation. Where all stretches lie as seen from
/// there is worked out at one go; few of them are near.
class Round {
public:
    Round(double x, double y, double var_x, double var_y, double covariance)
        : x_(x), y_(y), per_x_(1.0 / std::sqrt(var_x)), slant_(covariance / var_x) {
        per_y_ = 1.0 / std::sqrt(std::max(var_y - slant_ * covariance, 1e-12));
        norm_ = per_x_ * per_y_;
    }
    [[nodiscard]] double at(const ShadeHill& p) const {
        const auto z = rounded(x_ - p.volts_ratio, y_ - p.amps_ratio);
        const double q = 1.0 + 0.25 * (z[0] * z[0] + z[1] * z[1]);
        return point_norm * norm_ / (q * q * q);
    }
    /// The mean over a stretch.
    [[nodiscard]] double along(const ShadeStretch& s) const {
        const auto e = rounded(s.more_volts_ratio, s.more_amps_ratio);
        const auto z = rounded(x_ - s.begin.volts_ratio, y_ - s.begin.amps_ratio);
        const double length2 = e[0] * e[0] + e[1] * e[1];
        const double ahead = z[0] * e[0] + z[1] * e[1];
        if (length2 < short2) return at(s.middle());
        if (far(length2, ahead)) return 0.0;
        const double per_length = 1.0 / std::sqrt(length2);
        const double begin_sd = ahead * per_length;
        return mean(per_length, std::exp(steepness * (begin_sd - length2 * per_length)),
                    std::exp(std::min(steepness * begin_sd, most_exponent)),
                    square((z[0] * e[1] - z[1] * e[0]) * per_length));
    }
    /// The mean over each of the lines' stretches, into `room.density`.
    void along_all(const ShadeLines& lines, ShadeRoom& room) const {
        const std::size_t padded = lines.volts().size();
        for (Eigen::ArrayXd* of : {&room.density, &room.length2, &room.ahead, &room.across}) {
            of->resize(static_cast<Eigen::Index>(padded));
        }
        // Block by block, so that what is between stays in registers.
        using Block = Eigen::Array<double, ShadeLines::block, 1>;
        const auto block = [](const std::vector<double>& of, std::size_t from) { return Eigen::Map<const Block>(of.data() + from); };
        for (std::size_t from = 0; from < padded; from += ShadeLines::block) {
            const auto at = static_cast<Eigen::Index>(from);
            const Block way_volts = block(lines.more_volts(), from);
            const Block volts = x_ - block(lines.volts(), from);
            const Block way_x = per_x_ * way_volts;
            const Block way_y = per_y_ * (block(lines.more_amps(), from) - slant_ * way_volts);
            const Block begin_x = per_x_ * volts;
            const Block begin_y = per_y_ * (y_ - block(lines.amps(), from) - slant_ * volts);
            const Block length2 = way_x.square() + way_y.square();
            const Block ahead = begin_x * way_x + begin_y * way_y;
            room.length2.segment<ShadeLines::block>(at) = length2;
            room.ahead.segment<ShadeLines::block>(at) = ahead;
            room.across.segment<ShadeLines::block>(at) = begin_x * way_y - begin_y * way_x;
            // Of short ones at their middle.
            const Block middle2 = begin_x.square() + begin_y.square() - ahead + 0.25 * length2;
            room.density.segment<ShadeLines::block>(at) = point_norm * norm_ / (1.0 + 0.25 * middle2).cube();
        }
        room.near.clear();
        for (Eigen::Index i = 0; i < static_cast<Eigen::Index>(lines.count()); ++i) {
            if (room.length2[i] < short2) continue;
            if (far(room.length2[i], room.ahead[i])) {
                room.density[i] = 0.0;
            } else {
                room.near.push_back(i);
            }
        }
        const auto count = static_cast<Eigen::Index>(room.near.size());
        for (Eigen::ArrayXd* of : {&room.per_length, &room.begin_sd, &room.beside}) of->resize(count);
        for (Eigen::Index k = 0; k < count; ++k) {
            const Eigen::Index i = room.near[static_cast<std::size_t>(k)];
            room.per_length[k] = room.length2[i];
            room.begin_sd[k] = room.ahead[i];
            room.beside[k] = room.across[i];
        }
        room.per_length = room.per_length.rsqrt();
        room.begin_sd *= room.per_length;
        room.beside = (room.beside * room.per_length).square();
        room.after_end = (steepness * (room.begin_sd - room.per_length.inverse())).exp();
        room.before_begin = (steepness * room.begin_sd).min(most_exponent).exp();
        for (Eigen::Index k = 0; k < count; ++k) {
            room.density[room.near[static_cast<std::size_t>(k)]] =
                mean(room.per_length[k], room.after_end[k], room.before_begin[k], room.beside[k]);
        }
    }

private:
    static constexpr double point_norm = 0.15915494309189535;
    static constexpr double short2 = 0.25;
    static constexpr double steepness = 1.702;       // as of `surely`
    static constexpr double most_exponent = 300.0;  // so far ahead of its beginning nothing changes any more

    static bool far(double length2, double ahead) {
        const double beyond = std::max(-ahead, ahead - length2);
        return beyond > 0.0 && beyond * beyond > beyond_sd * beyond_sd * length2;
    }
    // surely(to the end) − surely(from the beginning), times the bell across, with one division. `after_end` and
    // `before_begin` are 1/surely − 1 of each.
    [[nodiscard]] double mean(double per_length, double after_end, double before_begin, double beside2) const {
        const double q = 1.0 + 0.25 * beside2;
        return 0.375 * norm_ * per_length * std::max(0.0, before_begin - after_end) /
               ((1.0 + after_end) * (1.0 + before_begin) * std::sqrt(q) * q * q);
    }
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
    OnlyWatts(double w, double var) : w_(w), var_(var), sd_(std::sqrt(var)) {}
    [[nodiscard]] double at(const ShadeHill& p) const { return bell(w_ - p.watts_ratio(), var_); }
    [[nodiscard]] double along(const ShadeStretch& s) const {
        const double a = s.begin.watts_ratio();
        const double b = s.end().watts_ratio();
        if (std::abs(b - a) < 0.5 * sd_) return bell(w_ - 0.5 * (a + b), var_);
        const double low = (w_ - std::min(a, b)) / sd_;
        const double high = (w_ - std::max(a, b)) / sd_;
        if (high > beyond_sd || low < -beyond_sd) return 0.0;
        return std::max(0.0, surely(low) - surely(high)) / std::abs(b - a);
    }
    void along_all(const ShadeLines& lines, ShadeRoom& room) const {
        room.density.resize(static_cast<Eigen::Index>(lines.count()));
        for (std::size_t i = 0; i < lines.count(); ++i) room.density[static_cast<Eigen::Index>(i)] = along(lines.stretch(i));
    }

private:
    double w_;
    double var_;
    double sd_;
};

std::size_t best_of(const ShadeHills& h) {
    return h[low_hill].watts_ratio() > h[high_hill].watts_ratio() ? low_hill : high_hill;
}

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
};

// The sum over stretches of these densities, each by the probability of its degrees.
FamilySum over(const ShadeLines& lines, ShadeLines::Range range, const Eigen::ArrayXd& density, const FamilyBefore& before,
               Eigen::ArrayXd& part) {
    if (range.first == range.last) return {};
    const auto middle = many(lines.middle_degree(), range);
    part = density.segment(static_cast<Eigen::Index>(range.first), static_cast<Eigen::Index>(range.last - range.first)) *
           many(lines.weight(), range);
    if (before.known && before.times > 0.0) {
        const auto q = 1.0 + many(lines.drift_sharpness(), range) * (middle - before.degree).square();
        part *= (1.0 - same_as_before) + same_as_before * before.times * many(lines.drift_norm(), range) / (q.square() * q.sqrt());
    } else if (before.known) {
        part *= 1.0 - same_as_before;
    }
    return {part.sum(), (part * middle).sum(), (part * many(lines.possible(), range)).sum()};
}

// Of each kind of family, how sure a row is of each.
void make_shares(const std::vector<ShadeFamily>& all, std::vector<float>& sure) {
    std::array<float, shade_kinds> sum{};
    for (std::size_t f = 0; f < all.size(); ++f) sum[index_of(all[f].kind)] += sure[f];
    for (std::size_t f = 0; f < all.size(); ++f) {
        const float of_kind = sum[index_of(all[f].kind)];
        if (all[f].kind != ShadeFamily::Kind::as_wired) sure[f] = of_kind > 0.0F ? sure[f] / of_kind : static_cast<float>(all[f].share);
    }
}

}  // namespace

void RowModel::shade_densities(const Local& l, const Seen& s, Density& to, RowEvidence& out) {
    using Kind = ShadeFamily::Kind;
    const std::vector<ShadeFamily>& all = families();
    const ShadeLines& lines = shades_->at(l.account.irradiance_w_per_m2, Celsius{l.account.cell_degc});
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
    ShadeRoom& room = shade_room_;
    const auto over_all = [&](const auto& kernel, double per_unit) {
        kernel.along_all(lines, room);
        if (l.end == Cause::power_limit || l.end == Cause::current_limit) {
            for (std::size_t k = 0; k < lines.count(); ++k) {
                const ShadeStretch& stretch = lines.stretch(k);
                if (!reached(stretch.begin) && !reached(stretch.end())) room.density[static_cast<Eigen::Index>(k)] = 0.0;
            }
        }
        double best = 0.0;
        FamilySum local;
        for (std::size_t f = 0; f < all.size(); ++f) {
            const ShadeFamily& family = all[f];
            if (family.kind == Kind::bypassed || family.kind == Kind::missing) {
                const ShadeHills& h = lines.point(f);
                const ShadeHill& point = h[best_of(h)];
                if (!point.there() || !reached(point)) continue;
                // A bypassed group takes its diode's drop, or nothing where that diode is shorted.
                const double drop_ratio = 0.5 * static_cast<double>(family.groups) / v;
                double density = kernel.along({point, drop_ratio});
                density *= known ? (1.0 - same_as_before) * family.share +
                                       same_as_before * static_cast<double>(before_.sure[f])
                                 : family.share;
                after_.sure[f] = static_cast<float>(density);
                at(family.kind == Kind::missing ? RowState::missing : RowState::bypassed) += per_unit * density;
                continue;
            }
            if (family.kind == Kind::as_wired) {
                const ShadeHills& h = lines.point(f);
                if (h[low_hill].there() && h[low_hill].watts_ratio() < worse_ratio && reached(h[low_hill])) {
                    local.add(2.0 * kernel.at(h[low_hill]), 1.0, 1.0);
                }
                continue;
            }
            FamilyBefore before;
            if (known) {
                before = {true, static_cast<double>(before_.degree[f]), static_cast<double>(before_.sure[f]) / family.share};
            }
            const FamilySum shade = over(lines, lines.best(f), room.density, before, room.part);
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
            const FamilySum other = over(lines, lines.worse(f), room.density, before, room.part);
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
