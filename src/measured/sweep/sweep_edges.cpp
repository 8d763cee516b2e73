#include "sweep_edges.hpp"

#include "window_pieces.hpp"

#include <algorithm>

namespace plait::measured {
namespace {

// The gap between the last point of one kind and the first of the other, where the steps change; the split that leaves
// the fewest points on the wrong side.
SwitchVoltage gap_at(const std::vector<SweepPoint>& points, const SweepStep& below, const SweepStep& above,
                     bool taking_above) {
    std::vector<std::size_t> near = below.points;
    near.insert(near.end(), above.points.begin(), above.points.end());
    std::sort(near.begin(), near.end(),
              [&](std::size_t a, std::size_t b) { return points[a].voltage_v < points[b].voltage_v; });
    const auto right_side = [&](std::size_t i, bool is_above) {
        return points[near[i]].taking == (is_above == taking_above);
    };
    std::size_t best = 1;
    std::size_t fewest = near.size() + 1;
    // With the split in front of all of them every point counts as above; one by one they go below.
    std::size_t wrong = 0;
    for (std::size_t i = 0; i < near.size(); ++i) wrong += right_side(i, true) ? 0U : 1U;
    for (std::size_t split = 1; split < near.size(); ++split) {
        wrong -= right_side(split - 1, true) ? 0U : 1U;
        wrong += right_side(split - 1, false) ? 0U : 1U;
        if (points[near[split]].voltage_v == points[near[split - 1]].voltage_v) continue;
        if (wrong < fewest) {
            fewest = wrong;
            best = split;
        }
    }
    std::size_t last = best - 1;
    std::size_t first = best;
    while (last > 0 && !right_side(last, false)) --last;
    while (first + 1 < near.size() && !right_side(first, true)) ++first;
    return {Interval(points[near[last]].voltage_v, points[near[first]].voltage_v)};
}

// The stretch from the labels alone, where there are too few readings to tell laws from: after a trip people often take
// only the two readings that show where it comes back. The stretch that leaves the fewest readings on the wrong side.
Stretch labelled_stretch(const std::vector<SweepPoint>& points) {
    std::vector<SweepPoint> sorted = points;
    std::sort(sorted.begin(), sorted.end(),
              [](const SweepPoint& a, const SweepPoint& b) { return a.voltage_v < b.voltage_v; });
    const std::size_t n = sorted.size();
    std::size_t begin = 0;
    std::size_t end = n;
    // The most readings that take less those that do not, over all stretches (Kadane's scan).
    long long most = 0;
    long long sum = 0;
    std::size_t first = 0;
    for (std::size_t i = 0; i < n; ++i) {
        if (sum <= 0) {
            sum = 0;
            first = i;
        }
        sum += sorted[i].taking ? 1 : -1;
        if (sum > most) {
            most = sum;
            begin = first;
            end = i + 1;
        }
    }
    Stretch s;
    if (begin > 0) s.low = SwitchVoltage{Interval(sorted[begin - 1].voltage_v, sorted[begin].voltage_v)};
    if (end < n) s.high = SwitchVoltage{Interval(sorted[end - 1].voltage_v, sorted[end].voltage_v)};
    return s;
}

}  // namespace

Stretch stretch_of(const std::vector<SweepPoint>& points, double least_noise_ratio) {
    const std::vector<SweepStep> steps = steps_of(points);
    const Segmentation found = segment(steps, least_noise_ratio, true);
    Stretch s;
    const auto law = [](const StepPiece& p) { return p.kind != PieceKind::nothing; };
    if (std::none_of(found.pieces.begin(), found.pieces.end(), law)) return labelled_stretch(points);
    if (found.pieces.front().kind == PieceKind::nothing) {
        const std::size_t end = found.pieces.front().end;
        s.low = gap_at(points, steps[end - 1], steps[end], true);
    }
    if (found.pieces.back().kind == PieceKind::nothing) {
        const std::size_t begin = found.pieces.back().begin;
        s.high = gap_at(points, steps[begin - 1], steps[begin], false);
    }
    return s;
}

void keep_order(std::optional<SwitchVoltage>& falling, std::optional<SwitchVoltage>& rising) {
    if (!falling || !rising) return;
    const double low_v = std::max(falling->between_v.lower(), rising->between_v.lower());
    const double high_v = std::min(falling->between_v.upper(), rising->between_v.upper());
    if (low_v < rising->between_v.upper()) rising->between_v = Interval(low_v, rising->between_v.upper());
    if (high_v > falling->between_v.lower()) falling->between_v = Interval(falling->between_v.lower(), high_v);
}

}  // namespace plait::measured
