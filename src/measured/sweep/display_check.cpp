#include <plait/measured/display_check.hpp>

#include <plait/physics/student_t.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace plait::measured {
namespace {

constexpr std::size_t least_pairs = 3;

struct Pair {
    double voltage_v = 0.0;
    double ratio = 0.0;
    double upper_step_ratio = 0.0;  // the step of either reading as a share of it
    double lower_step_ratio = 0.0;
    double upper = 0.0;
    double lower = 0.0;
};

double step_share(double step, double value) { return step > 0.0 && value > 0.0 ? step / value : 0.0; }

// A display may show the same digits in every row: then no number of rows averages its rounding away.
double rounding_variance(const std::vector<Pair>& pairs) {
    std::set<double> uppers;
    std::set<double> lowers;
    double upper = 0.0;
    double lower = 0.0;
    for (const Pair& p : pairs) {
        uppers.insert(p.upper);
        lowers.insert(p.lower);
        upper += p.upper_step_ratio * p.upper_step_ratio / 12.0;
        lower += p.lower_step_ratio * p.lower_step_ratio / 12.0;
    }
    const auto n = static_cast<double>(pairs.size());
    return upper / n / static_cast<double>(uppers.size()) + lower / n / static_cast<double>(lowers.size());
}

RatioRange range_of(const std::vector<Pair>& pairs, double accuracy_ratio) {
    RatioRange out;
    out.rows = static_cast<int>(pairs.size());
    out.from_v = pairs.front().voltage_v;
    out.to_v = pairs.front().voltage_v;
    const auto n = static_cast<double>(pairs.size());
    double mean = 0.0;
    for (const Pair& p : pairs) {
        out.from_v = std::min(out.from_v, p.voltage_v);
        out.to_v = std::max(out.to_v, p.voltage_v);
        mean += p.ratio / n;
    }
    double squares = 0.0;
    for (const Pair& p : pairs) squares += (p.ratio - mean) * (p.ratio - mean);
    const double variance = squares / (n - 1.0) / n;
    const double rounding = rounding_variance(pairs);
    const double half = std::hypot(std::max(physics::student_t_95_ratio(out.rows - 1) * std::sqrt(variance), 1.96 * mean * std::sqrt(rounding)),
                                   accuracy_ratio * mean);
    out.ratio = {mean, {mean - half, mean + half}};
    return out;
}

template <class PairOf>
RatioCheck checked(const LearnedWindow& w, PairOf pair_of) {
    RatioCheck check;
    std::vector<Pair> all;
    std::vector<std::vector<Pair>> by_piece(w.pieces.size());
    for (const FittedRow& r : w.rows) {
        if (r.use != RowUse::fits && r.use != RowUse::supply_was_the_limit) continue;
        const std::optional<Pair> pair = pair_of(r.row);
        if (!pair) continue;
        all.push_back(*pair);
        for (std::size_t k = 0; k < w.pieces.size(); ++k) {
            if (r.row.voltage_v < w.pieces[k].from_v || r.row.voltage_v > w.pieces[k].to_v) continue;
            by_piece[k].push_back(*pair);
            break;
        }
    }
    if (all.size() < least_pairs) return check;
    check.whole = range_of(all, w.meter_accuracy_ratio);
    for (const std::vector<Pair>& pairs : by_piece) {
        if (pairs.size() >= least_pairs) check.ranges.push_back(range_of(pairs, 0.0));
    }
    for (const RatioRange& a : check.ranges) {
        for (const RatioRange& b : check.ranges) {
            check.differs = check.differs || a.ratio.likely.upper() < b.ratio.likely.lower();
        }
    }
    for (RatioRange& range : check.ranges) {  // the meters' own error is the same in every range
        const double own = w.meter_accuracy_ratio * range.ratio.value;
        const double half = std::hypot(0.5 * (range.ratio.likely.upper() - range.ratio.likely.lower()), own);
        range.ratio.likely = {range.ratio.value - half, range.ratio.value + half};
    }
    check.worked_out = std::all_of(all.begin(), all.end(), [](const Pair& p) {
        return std::abs(p.upper - p.lower) <= 0.501 * p.upper_step_ratio * p.upper + 1e-9;
    });
    return check;
}

}  // namespace

RatioCheck display_against_meter(const LearnedWindow& window) {
    return checked(window, [&](const SweepRow& r) -> std::optional<Pair> {
        const double meter_w = r.voltage_v * r.current_a;
        if (r.from_power || r.vague || !r.display_w || !(*r.display_w > 0.0) || !(meter_w > 0.0)) return std::nullopt;
        return Pair{r.voltage_v, *r.display_w / meter_w, step_share(r.display_step_w, *r.display_w),
                    step_share(window.amps_step_a, r.current_a), *r.display_w, meter_w};
    });
}

RatioCheck battery_efficiency(const LearnedWindow& window) {
    RatioCheck check = checked(window, [&](const SweepRow& r) -> std::optional<Pair> {
        const double taken_w = r.voltage_v * r.current_a;
        if (r.vague || !r.battery_w || !(*r.battery_w > 0.0) || !(taken_w > 0.0)) return std::nullopt;
        const double step = r.from_power ? step_share(window.watts_step_w, taken_w) : step_share(window.amps_step_a, r.current_a);
        return Pair{r.voltage_v, *r.battery_w / taken_w, step_share(r.battery_step_w, *r.battery_w), step, *r.battery_w, taken_w};
    });
    check.worked_out = false;
    return check;
}

std::optional<WallEffect> wall_effect(const LearnedWindow& window) {
    WallEffect e;
    for (const FittedRow& r : window.rows) {
        if (r.use != RowUse::beside_the_wall) continue;
        for (const LearnedPiece& p : window.pieces) {
            const bool law = p.kind == PieceKind::constant_current || p.kind == PieceKind::constant_power;
            if (!law || r.row.voltage_v < p.from_v || r.row.voltage_v > p.to_v) continue;
            const double usual_a = p.kind == PieceKind::constant_power ? p.level.value / r.row.voltage_v : p.level.value;
            const double share = r.row.current_a / usual_a;
            e.least_ratio = e.rows == 0 ? share : std::min(e.least_ratio, share);
            e.most_ratio = std::max(e.most_ratio, share);
            e.taken_ratio += share;
            e.wall_w += *r.row.wall_w;
            ++e.rows;
            break;
        }
    }
    if (e.rows == 0) return std::nullopt;
    e.taken_ratio /= e.rows;
    e.wall_w /= e.rows;
    return e;
}

}  // namespace plait::measured
