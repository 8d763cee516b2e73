#include "point_buffer.hpp"
#include "root.hpp"

#include <plait/physics/reverse_current.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace plait::physics {
namespace {

constexpr double voltage_width_v = 1e-7;  // currents to about 1e-6 of their own

double branch_current_a(const ArrayCurve& array, std::size_t branch, double voltage_v, std::span<GroupPoint> points) {
    const ArrayCurve::Branch& b = array.branches()[branch];
    return current_from_scratch(array.parts_of(b), voltage_v, points.subspan(b.first, b.size));
}

/// A string at an end of its tolerance. Voltages stretch, currents shift by `shift_a` at most.
double shifted_current_a(const ArrayCurve& array, std::size_t branch, const StringTolerance& tolerance, double way,
                         double shift_a, double voltage_v, std::span<GroupPoint> points) {
    const double stretch = 1.0 + way * tolerance.voltage_ratio;
    return branch_current_a(array, branch, voltage_v / stretch, points) + way * shift_a;
}

/// Strings that are alike and have the same tolerance: what one of them does all of them do.
struct LikeStrings {
    std::size_t branch = 0;
    StringTolerance tolerance;
    double count = 0.0;
    double shift_a = 0.0;   ///< by which its tolerance shifts the current
    double weak_top_v = 0.0;  ///< open circuit at the lower end of the tolerance, not below the true one
    double strong_top_v = 0.0;
};

/// One of some like strings at an end of its tolerance: `way` +1 stronger, −1 weaker than stated.
struct Shifted {
    const LikeStrings* strings = nullptr;
    double way = 0.0;
    double count = 0.0;

    [[nodiscard]] double current_a(const ArrayCurve& array, double voltage_v, std::span<GroupPoint> points) const {
        return shifted_current_a(array, strings->branch, strings->tolerance, way, strings->shift_a, voltage_v, points);
    }
};

/// The current back through one of the strings when it is weaker (`sign` +1) or stronger (−1) than stated and the others the
/// other way round.
double driven_back_a(const ArrayCurve& array, const std::vector<LikeStrings>& all, const LikeStrings& one, double sign,
                     std::span<GroupPoint> points) {
    const Shifted own{&one, -sign, 1.0};
    std::vector<Shifted> shifted{own};
    double top_v = sign > 0.0 ? one.weak_top_v : one.strong_top_v;
    for (const LikeStrings& like : all) {
        const double others = &like == &one ? like.count - 1.0 : like.count;
        if (!(others > 0.0)) continue;
        shifted.push_back({&like, sign, others});
        top_v = std::max(top_v, sign > 0.0 ? like.strong_top_v : like.weak_top_v);
    }
    const auto sum_a = [&](double v) {
        double sum = 0.0;
        for (const Shifted& s : shifted) sum += s.count * s.current_a(array, v, points);
        return sum;
    };
    const std::optional<double> open_v = crossing(sum_a, 0.0, top_v, voltage_width_v);
    return open_v ? std::max(0.0, -own.current_a(array, *open_v, points)) : 0.0;
}

}  // namespace

std::vector<double> string_currents_a(const ArrayCurve& array, double voltage_v) {
    PointBuffer buffer(array.parts().size());
    array.solve(voltage_v, buffer.all(), true);
    std::vector<double> currents;
    for (std::size_t s = 0; s < array.string_count(); ++s) {
        const std::optional<std::size_t> branch = array.branch_of(s);
        currents.push_back(branch ? buffer.all()[array.branches()[*branch].first].current_a : 0.0);
    }
    return currents;
}

double current_at_tolerance_a(const ArrayCurve& string, const StringTolerance& tolerance, double of_tolerance_ratio,
                              double short_circuit_a, double voltage_v) {
    PointBuffer buffer(string.parts().size());
    return shifted_current_a(string, 0, tolerance, of_tolerance_ratio, tolerance.current_ratio * short_circuit_a, voltage_v, buffer.all());
}

std::vector<Interval> reverse_spreads_a(const ArrayCurve& array, std::span<const StringTolerance> tolerances) {
    PointBuffer buffer(array.parts().size());
    std::vector<LikeStrings> all;
    std::vector<std::optional<std::size_t>> like_of;
    for (std::size_t s = 0; s < array.string_count(); ++s) {
        const std::optional<std::size_t> branch = array.branch_of(s);
        if (!branch) {
            like_of.push_back(std::nullopt);
            continue;
        }
        const auto known = std::find_if(all.begin(), all.end(), [&](const LikeStrings& like) {
            return like.branch == *branch && like.tolerance == tolerances[s];
        });
        like_of.push_back(static_cast<std::size_t>(known - all.begin()));
        if (known != all.end()) {
            known->count += 1.0;
            continue;
        }
        LikeStrings like{*branch, tolerances[s], 1.0, 0.0, 0.0, 0.0};
        like.shift_a = tolerances[s].current_ratio * branch_current_a(array, *branch, 0.0, buffer.all());
        const ArrayCurve::Branch& b = array.branches()[*branch];
        const double open_v =
            voltage_at_current(array.parts_of(b), -std::abs(like.shift_a), buffer.all().subspan(b.first, b.size));
        like.weak_top_v = (1.0 - tolerances[s].voltage_ratio) * open_v;
        like.strong_top_v = (1.0 + tolerances[s].voltage_ratio) * open_v;
        all.push_back(like);
    }
    std::vector<Interval> of_like;
    for (const LikeStrings& like : all) {
        const double least_a = driven_back_a(array, all, like, -1.0, buffer.all());
        const double most_a = driven_back_a(array, all, like, 1.0, buffer.all());
        of_like.emplace_back(std::min(least_a, most_a), std::max(least_a, most_a));
    }
    std::vector<Interval> spreads;
    for (const std::optional<std::size_t>& like : like_of) spreads.push_back(like ? of_like[*like] : Interval(0.0));
    return spreads;
}

}  // namespace plait::physics
