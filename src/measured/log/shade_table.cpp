#include "shade_table.hpp"

#include <plait/physics/power_extremes.hpp>

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

// The net, over √G and T, and the finer one that is interpolated from it.
constexpr std::array<double, 6> net_root{5.0, 11.0, 17.5, 24.5, 31.6, 40.0};
constexpr std::array<double, 5> net_degc{-25.0, 5.0, 30.0, 55.0, 85.0};
constexpr double near_root = 1.0;
constexpr double near_k = 4.0;
constexpr int quarters = 4;
constexpr double flank_k = 4.0;  // what a temperature is off, and half a step of the net of rows
// How often an input stays on a maximum at low volts when the best is at higher ones, beside the other way round: coming down from
// open circuit, or from where it was before the shade, it meets the higher volts first. Ours, *no source*.
constexpr double stays_low = 0.1;
constexpr double degree_drift = 0.05;  // from one row to the next

bool alike(const SeriesString& a, const SeriesString& b) { return a == b; }

std::size_t groups_of(const study::SystemModel& system, const SeriesString& string) {
    std::size_t count = 0;
    for (const PanelPlace& place : string.panels) count += system.group_count(place.kind);
    return count;
}

// Where bypassed groups are out of the string its maximum is lower by their share of the volts; half way is the border.
double border_ratio(const ShadeFamily& family, std::size_t all_groups) {
    return 1.0 - 0.5 * static_cast<double>(family.groups) / static_cast<double>(all_groups);
}

template <std::size_t N>
std::size_t below(const std::array<double, N>& net, double x) {
    const auto up = std::upper_bound(net.begin(), net.end(), x);
    const auto i = static_cast<std::size_t>(up - net.begin());
    return std::clamp<std::size_t>(i, 1, N - 1) - 1;
}

}  // namespace

ShadeTable::ShadeTable(const WiredInput& wired) : wired_(wired) {
    using Kind = ShadeFamily::Kind;
    const std::vector<SeriesString>& strings = wired.wiring.strings;
    std::vector<std::size_t> unlike;
    for (std::size_t s = 0; s < strings.size() && unlike.size() < 2; ++s) {
        const bool known =
            std::any_of(unlike.begin(), unlike.end(), [&](std::size_t u) { return alike(strings[u], strings[s]); });
        if (!known && !strings[s].panels.empty()) unlike.push_back(s);
    }
    families_.push_back({Kind::all, 0, strings.size(), 0, 0});
    if (!wired.equal) families_.push_back({Kind::as_wired, 0, 0, 0, 0});
    for (const std::size_t s : unlike) {
        const auto same = static_cast<std::size_t>(std::count_if(
            strings.begin(), strings.end(), [&](const SeriesString& other) { return alike(strings[s], other); }));
        const std::size_t panels = strings[s].panels.size();
        const std::size_t first_groups = wired.system->group_count(strings[s].panels.front().kind);
        const bool diodes = wired.system->panels()[strings[s].panels.front().kind].bypass_diodes > 0;
        if (strings.size() > 1) families_.push_back({Kind::missing, s, 1, 0, 0});
        if (diodes) {
            families_.push_back({Kind::bypassed, s, 1, 1, 0});
            if (panels > 1 && first_groups > 1) families_.push_back({Kind::bypassed, s, 1, first_groups, 1});
        }
        std::vector<std::size_t> of_strings{1};
        if (same > 2) of_strings.push_back(same - 1);
        if (same > 1) of_strings.push_back(same);
        for (const std::size_t m : of_strings) {
            if (first_groups > 1) families_.push_back({Kind::part, s, m, 1, 0});
            for (std::size_t k = 1; k <= panels && k <= 4; ++k) {
                if (k == panels && m == strings.size()) continue;  // that is all of them
                std::size_t groups = 0;
                for (std::size_t p = 0; p < k; ++p) groups += wired.system->group_count(strings[s].panels[p].kind);
                families_.push_back({Kind::part, s, m, groups, k});
            }
        }
    }
    for (const Kind kind : {Kind::part, Kind::bypassed, Kind::missing}) {
        const auto of_kind = [&](const ShadeFamily& f) { return f.kind == kind; };
        const auto count = std::count_if(families_.begin(), families_.end(), of_kind);
        for (ShadeFamily& f : families_) {
            if (of_kind(f)) f.share = 1.0 / static_cast<double>(count);
        }
    }
}

InputWiring ShadeTable::shaded(const ShadeFamily& family, double light_ratio) const {
    InputWiring wiring = wired_.wiring;
    if (family.kind == ShadeFamily::Kind::missing) {
        wiring.strings.erase(wiring.strings.begin() + static_cast<std::ptrdiff_t>(family.string));
        return wiring;
    }
    const SeriesString like = wiring.strings[family.string];
    std::size_t left = family.strings;
    for (std::size_t s = family.string; s < wiring.strings.size() && left > 0; ++s) {
        SeriesString& string = wiring.strings[s];
        if (family.kind != ShadeFamily::Kind::all && !alike(string, like)) continue;
        --left;
        std::size_t groups = family.kind == ShadeFamily::Kind::all ? groups_of(*wired_.system, string) : family.groups;
        for (PanelPlace& place : string.panels) {
            if (groups == 0) break;
            place.groups.resize(wired_.system->group_count(place.kind));
            for (GroupState& group : place.groups) {
                if (groups == 0) break;
                group.light_ratio *= light_ratio;
                --groups;
            }
        }
    }
    return wiring;
}

FamilyHills ShadeTable::solved(const ShadeFamily& family, double irradiance_w_per_m2, Celsius cell,
                               const HeldAt& top) const {
    FamilyHills found{};
    const study::KindConditions by_kind(wired_.system->setup().kinds.size(), {irradiance_w_per_m2, cell});
    const std::size_t count = family.by_degrees() ? shade_degrees.size() : 1;
    for (std::size_t d = 0; d < count; ++d) {
        const double light_ratio = family.by_degrees() ? std::max(shade_degrees[d], 1e-3) : 0.0;
        const InputWiring wiring = family.kind == ShadeFamily::Kind::as_wired ? wired_.wiring : shaded(family, light_ratio);
        const physics::ArrayCurve curve = wired_.system->curve(wiring, by_kind, wired_.system->wires(wired_.input, wiring));
        const auto put = [&](const physics::PowerPoint& p, bool at_edge) {
            const ShadeHill hill{p.voltage_v / top.voltage_v, p.current_a / top.current_a, at_edge};
            const bool low = family.kind == ShadeFamily::Kind::part &&
                             hill.volts_ratio <
                                 border_ratio(family, groups_of(*wired_.system, wired_.wiring.strings[family.string]));
            const bool lower = family.kind == ShadeFamily::Kind::as_wired &&
                               found[d][high_hill].watts_ratio() > hill.watts_ratio();
            ShadeHill& place = found[d][low || lower ? low_hill : high_hill];
            if (family.kind == ShadeFamily::Kind::as_wired && !lower) found[d][low_hill] = place;
            if (hill.watts_ratio() > place.watts_ratio()) place = hill;
        };
        if (wired_.pinned_v) {
            const physics::OperatingPoint op = physics::pinned_point(curve, *wired_.pinned_v);
            if (op.held()) put(op.point, false);
            continue;
        }
        const double open_v = curve.open_circuit_v();
        const double high_v = std::min(wired_.window.high_v, open_v);
        if (!(open_v > wired_.window.low_v) || !(high_v > wired_.window.low_v)) continue;
        const physics::PowerExtremes extremes = physics::power_extremes(curve, wired_.window.low_v, high_v);
        for (const physics::PowerExtreme& e : extremes.points) {
            if (e.maximum && e.point.current_a > 0.0 && e.point.voltage_v > 0.0) put(e.point, e.at_end);
        }
    }
    return found;
}

namespace {

/// Where a number lies between the steps of a net, whole ones or quarters of them.
struct NetPlace {
    int quarter = 0;  ///< of the step below
    int more = 0;     ///< to the step above
    double part = 0.0;
};

template <std::size_t N>
NetPlace place_on(const std::array<double, N>& net, double x, bool by_quarters) {
    const double inside = std::clamp(x, net.front(), net.back());
    const std::size_t i = below(net, inside);
    NetPlace p{quarters * static_cast<int>(i), quarters, (inside - net[i]) / (net[i + 1] - net[i])};
    if (!by_quarters) return p;
    const int whole = std::min(static_cast<int>(quarters * p.part), quarters - 1);
    return {p.quarter + whole, 1, quarters * p.part - whole};
}

template <std::size_t N>
double value_at(const std::array<double, N>& net, int quarter) {
    const std::size_t i = std::min(static_cast<std::size_t>(quarter / quarters), N - 2);
    return net[i] + static_cast<double>(quarter - quarters * static_cast<int>(i)) / quarters * (net[i + 1] - net[i]);
}

}  // namespace

const FamilyHills& ShadeTable::node(int root_quarter, int degc_quarter, std::size_t family) {
    const double root = value_at(net_root, root_quarter);
    const double irradiance = root * root;
    const Celsius cell{value_at(net_degc, degc_quarter)};
    Node& n = nodes_[root_quarter * 64 + degc_quarter];
    if (n.families.empty()) {
        n.top = solved_at(wired_, irradiance, cell).top;
        n.families.resize(families_.size());
    }
    std::optional<FamilyHills>& held = n.families[family];
    const bool gives = n.top.voltage_v > 0.0 && n.top.current_a > 0.0;
    if (!held) held = gives ? solved(families_[family], irradiance, cell, n.top) : FamilyHills{};
    return *held;
}

FamilyHills ShadeTable::hills_at(std::size_t family, double root, double degc, bool by_quarters) {
    const NetPlace g = place_on(net_root, root, by_quarters);
    const NetPlace k = place_on(net_degc, degc, by_quarters);
    const double a = g.part;
    const double b = k.part;
    const std::array<const FamilyHills*, 4> corner{
        &node(g.quarter, k.quarter, family), &node(g.quarter + g.more, k.quarter, family),
        &node(g.quarter, k.quarter + k.more, family), &node(g.quarter + g.more, k.quarter + k.more, family)};
    const std::array<double, 4> share{(1.0 - a) * (1.0 - b), a * (1.0 - b), (1.0 - a) * b, a * b};
    FamilyHills hills{};
    const std::size_t count = families_[family].by_degrees() ? shade_degrees.size() : 1;
    for (std::size_t d = 0; d < count; ++d) {
        for (std::size_t h = 0; h < hill_count; ++h) {
            ShadeHill sum;
            double there = 0.0;
            for (std::size_t c = 0; c < 4; ++c) {
                const ShadeHill& hill = (*corner[c])[d][h];
                if (!hill.there()) continue;
                there += share[c];
                sum.volts_ratio += share[c] * hill.volts_ratio;
                sum.amps_ratio += share[c] * hill.amps_ratio;
                sum.at_edge = sum.at_edge || (hill.at_edge && share[c] > 0.0);
            }
            if (there >= 0.5) hills[d][h] = {sum.volts_ratio / there, sum.amps_ratio / there, sum.at_edge};
        }
    }
    return hills;
}

namespace {

std::size_t best_of(const ShadeHills& h) {
    return h[low_hill].watts_ratio() > h[high_hill].watts_ratio() ? low_hill : high_hill;
}

// How much of a degree's probability a maximum has: of two that are alike either half.
double part_of(const ShadeHills& h, std::size_t hill, bool worse) {
    if (!h[hill].there()) return 0.0;
    const double least = worse_ratio * h[best_of(h)].watts_ratio();
    const bool good = h[hill].watts_ratio() >= least;
    if (good == worse) return 0.0;
    const ShadeHill& other = h[1 - hill];
    return good && other.there() && other.watts_ratio() >= least ? 0.5 : 1.0;
}

ShadeHill between(const ShadeHill& a, const ShadeHill& b, double share) {
    return {a.volts_ratio + share * (b.volts_ratio - a.volts_ratio), a.amps_ratio + share * (b.amps_ratio - a.amps_ratio)};
}

bool any_at_edge(const FamilyHills& hills) {
    return std::any_of(hills.begin(), hills.end(), [](const ShadeHills& h) { return h[low_hill].at_edge || h[high_hill].at_edge; });
}

// Where, on the way from one pair of maxima to the next, one of them begins or ceases to be as good as the other, watts
// taken for straight between; with both ends of the way.
std::array<double, 4> where_ranks_change(const ShadeHills& a, const ShadeHills& b) {
    std::array<double, 4> cuts{0.0, 0.0, 1.0, 1.0};
    if (!a[low_hill].there() || !a[high_hill].there()) return cuts;
    for (const Hill hill : {low_hill, high_hill}) {
        const auto ahead = [&](const ShadeHills& h) { return h[hill].watts_ratio() - worse_ratio * h[1 - hill].watts_ratio(); };
        const double begin = ahead(a);
        const double end = ahead(b);
        if ((begin < 0.0) != (end < 0.0)) cuts[1 + hill] = begin / (begin - end);
    }
    std::sort(cuts.begin(), cuts.end());
    return cuts;
}

}  // namespace

void ShadeTable::add_stretches(const FamilyHills& hills, const Flanks* flanks, bool worse, std::vector<ShadeStretch>& to) {
    for (const Hill hill : {low_hill, high_hill}) {
        const double often = worse && hill == low_hill ? stays_low : 1.0;
        for (std::size_t d = 0; d + 1 < shade_degrees.size(); ++d) {
            const ShadeHills& a = hills[d];
            const ShadeHills& b = hills[d + 1];
            const double from_degree = shade_degrees[d];
            const double to_degree = shade_degrees[d + 1];
            const auto put = [&](double from, double until, double share, double possible_ratio) {
                if (!(share > 0.0)) return;
                ShadeStretch s;
                s.begin = a[hill].there() ? a[hill] : b[hill];
                if (a[hill].there() && b[hill].there()) {
                    s.begin = between(a[hill], b[hill], from);
                    const ShadeHill end = between(a[hill], b[hill], until);
                    s.more_volts_ratio = end.volts_ratio - s.begin.volts_ratio;
                    s.more_amps_ratio = end.amps_ratio - s.begin.amps_ratio;
                }
                if (flanks != nullptr && a[hill].at_edge && b[hill].at_edge) {
                    // On a flank the window's end sets the volts and the warmth the amps: from what cooler cells give to what
                    // warmer ones do.
                    const ShadeHill& cooler = flanks->cooler[d][hill];
                    const ShadeHill& warmer = flanks->warmer[d][hill];
                    const ShadeHill middle = s.middle();
                    const double most = cooler.there() ? cooler.amps_ratio : middle.amps_ratio;
                    const double least = warmer.there() ? warmer.amps_ratio : 0.0;
                    s.begin = {middle.volts_ratio, least};
                    s.more_volts_ratio = 0.0;
                    s.more_amps_ratio = most - least;
                }
                s.share = often * share;
                s.possible_ratio = possible_ratio;
                s.from_degree = from_degree + from * (to_degree - from_degree);
                s.to_degree = from_degree + until * (to_degree - from_degree);
                to.push_back(s);
            };
            const bool same_hills = a[low_hill].there() == b[low_hill].there() && a[high_hill].there() == b[high_hill].there();
            if (!same_hills) {
                // A maximum comes or goes somewhere between.
                put(0.0, 1.0, 0.5 * (part_of(a, hill, worse) + part_of(b, hill, worse)),
                    0.5 * (a[best_of(a)].watts_ratio() + b[best_of(b)].watts_ratio()));
                continue;
            }
            const std::array<double, 4> cuts = where_ranks_change(a, b);
            for (std::size_t c = 0; c + 1 < cuts.size(); ++c) {
                if (!(cuts[c + 1] > cuts[c])) continue;
                const double middle = 0.5 * (cuts[c] + cuts[c + 1]);
                const ShadeHills there{between(a[low_hill], b[low_hill], middle), between(a[high_hill], b[high_hill], middle)};
                put(cuts[c], cuts[c + 1], part_of(there, hill, worse), there[best_of(there)].watts_ratio());
            }
        }
    }
}

const ShadeLines& ShadeTable::at(double irradiance_w_per_m2, Celsius cell) {
    constexpr std::size_t most_kept = 20000;  // stretches, two megabytes
    const double root = std::clamp(std::sqrt(irradiance_w_per_m2), net_root.front(), net_root.back());
    const double degc = std::clamp(cell.degc, net_degc.front(), net_degc.back());
    const int rn = static_cast<int>(std::lround(root / near_root));
    const int tn = static_cast<int>(std::lround(degc / near_k));
    const int key = rn * 256 + tn + 128;
    if (last_ != nullptr && key == last_key_) return *last_;  // most rows are like the one before
    if (kept_stretches_ > most_kept && near_.find(key) == near_.end()) {
        near_.clear();
        kept_stretches_ = 0;
    }
    std::unique_ptr<ShadeLines>& held = near_[key];
    if (!held) {
        held = std::make_unique<ShadeLines>(lines_near(rn, tn));
        kept_stretches_ += held->count();
    }
    last_ = held.get();
    last_key_ = key;
    return *held;
}

ShadeLines ShadeTable::lines_near(int rn, int tn) {
    const double r = std::clamp(near_root * rn, net_root.front(), net_root.back());
    const double t = std::clamp(near_k * tn, net_degc.front(), net_degc.back());
    ShadeLines lines;
    for (std::size_t f = 0; f < families_.size(); ++f) {
        FamilyHills hills = hills_at(f, r, t, false);
        // A maximum that an end of the window holds stands on a flank, which moves with the warmth too much for the net.
        std::optional<Flanks> flanks;
        if (families_[f].by_degrees() && any_at_edge(hills)) {
            hills = hills_at(f, r, t, true);
            flanks = Flanks{hills_at(f, r, t - flank_k, true), hills_at(f, r, t + flank_k, true)};
        }
        lines.points_.push_back(hills.front());
        for (const bool worse : {false, true}) {
            if (families_[f].by_degrees()) add_stretches(hills, flanks ? &*flanks : nullptr, worse, lines.stretches_);
            lines.begin_.push_back(lines.stretches_.size());
        }
    }
    for (const ShadeStretch& s : lines.stretches_) {
        lines.volts_.push_back(s.begin.volts_ratio);
        lines.amps_.push_back(s.begin.amps_ratio);
        lines.more_volts_.push_back(s.more_volts_ratio);
        lines.more_amps_.push_back(s.more_amps_ratio);
        const double wide = s.to_degree - s.from_degree;
        const double drift_var = degree_drift * degree_drift + wide * wide / 12.0;
        lines.weight_.push_back(s.share * wide);
        lines.middle_degree_.push_back(0.5 * (s.from_degree + s.to_degree));
        lines.possible_.push_back(s.possible_ratio);
        lines.drift_norm_.push_back(0.375 / std::sqrt(drift_var));
        lines.drift_sharpness_.push_back(0.25 / drift_var);
    }
    const std::size_t padded = (lines.count() + ShadeLines::block - 1) / ShadeLines::block * ShadeLines::block;
    for (std::vector<double>* of : {&lines.volts_, &lines.amps_, &lines.more_volts_, &lines.more_amps_}) of->resize(padded, 0.0);
    return lines;
}

}  // namespace plait::measured
