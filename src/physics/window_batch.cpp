// The search of window_search.hpp for curves with one maximum, many at a time. Right of the maximum current and power
// both fall with the voltage, so of each band the lowest voltage that its limits allow is the best there, and the first
// band from below that has one has the best of all; left of it only a band with a higher limit than the maximum's
// current can have anything. What that does not decide goes to the careful search.
#include <plait/physics/window_batch.hpp>

#include "window_search.hpp"

#include <algorithm>
#include <limits>
#include <vector>

namespace plait::physics {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

class WindowBatch {
public:
    WindowBatch(const CurveBatch& curves, std::span<const double> best_v, std::span<const double> best_a,
                const AcceptanceWindow& window, std::span<BatchPoint> points, BatchForm form)
        : curves_(curves), best_v_(best_v), best_a_(best_a), window_(window), points_(points), form_(form) {
        bands_ = window.bands;
        if (bands_.empty()) bands_ = {{window.low_v, window.high_v, infinite}};
    }

    void run() {
        std::vector<std::size_t> above_top;
        std::vector<std::size_t> below_bottom;
        std::vector<std::size_t> inside;
        for (std::size_t i = 0; i < points_.size(); ++i) {
            const PowerPoint best{best_v_[i], best_a_[i]};
            points_[i] = {};
            if (!(best.power_w() > 0.0)) continue;
            if (allows(window_, best)) {
                points_[i] = {best, Binding::nothing, NoPoint::held};
            } else if (best.voltage_v > window_.high_v) {
                above_top.push_back(i);
            } else if (best.voltage_v < window_.low_v) {
                below_bottom.push_back(i);
            } else {
                inside.push_back(i);
            }
        }
        at_top(above_top);
        at_bottom(below_bottom);
        in_window(std::move(inside));
        for (const std::size_t i : undecided_) {
            const OperatingPoint p = operating_point(curves_.at(i), {best_v_[i], best_a_[i]}, window_);
            points_[i] = {p.point, p.binding, p.none};
        }
    }

private:
    enum class Ask { voltage_at_current, current_at_voltage, power_above, power_below };

    /// The answers for some of the curves, all asked the same figure.
    std::vector<PowerPoint> answers(const std::vector<std::size_t>& which, double figure, Ask what) const {
        std::vector<PowerPoint> out(which.size());
        const BatchAsk ask{which, {}, figure, best_v_, best_a_};
        switch (what) {
            case Ask::voltage_at_current:
                voltages_at_current(curves_, ask, out, form_);
                break;
            case Ask::current_at_voltage:
                currents_at_voltage(curves_, ask, out, form_);
                break;
            case Ask::power_above:
                power_crossings(curves_, ask, BatchSide::above, out, form_);
                break;
            case Ask::power_below:
                power_crossings(curves_, ask, BatchSide::below, out, form_);
                break;
        }
        return out;
    }

    [[nodiscard]] double highest_limit_a() const {
        double most = 0.0;
        for (const CurrentBand& b : bands_) most = std::max(most, b.limit_a);
        return most;
    }
    static bool too_much(double current_a, double limit_a) { return current_a > limit_a * (1.0 + equal_current_ratio); }

    /// The maximum lies above the window: its top, if that is taken; or the power limit on the way up to it.
    void at_top(const std::vector<std::size_t>& which) {
        if (which.empty()) return;
        const std::vector<PowerPoint> top = answers(which, window_.high_v, Ask::current_at_voltage);
        std::vector<std::size_t> by_power;
        for (std::size_t k = 0; k < which.size(); ++k) {
            const std::size_t i = which[k];
            const bool current_fits = !too_much(top[k].current_a, window_.current_limit_a(window_.high_v));
            if (current_fits && top[k].power_w() <= window_.power_w) {
                points_[i] = {top[k], Binding::window_top, NoPoint::held};
            } else if (top[k].power_w() > window_.power_w) {
                by_power.push_back(i);
            } else if (too_much(top[k].current_a, highest_limit_a())) {
                points_[i].none = NoPoint::pushed_out;  // further down there is only more current
            } else {
                undecided_.push_back(i);
            }
        }
        on_the_way_up(by_power);
    }

    /// What meets the power limit below its maximum, and has no place above it: no point of less power is better.
    void on_the_way_up(const std::vector<std::size_t>& which) {
        if (which.empty()) return;
        const std::vector<PowerPoint> crossing = answers(which, window_.power_w, Ask::power_below);
        for (std::size_t k = 0; k < which.size(); ++k) {
            const PowerPoint p = crossing[k];
            const bool taken = p.voltage_v >= window_.low_v && p.current_a <= window_.current_limit_a(p.voltage_v);
            if (taken) {
                points_[which[k]] = {p, Binding::power_limit, NoPoint::held};
            } else if (too_much(p.current_a, highest_limit_a())) {
                points_[which[k]].none = NoPoint::pushed_out;  // further down there is only more current
            } else {
                undecided_.push_back(which[k]);
            }
        }
    }

    /// The maximum lies below the window: its bottom, if there is voltage enough and that is taken.
    void at_bottom(const std::vector<std::size_t>& which) {
        if (which.empty()) return;
        const std::vector<PowerPoint> bottom = answers(which, window_.low_v, Ask::current_at_voltage);
        const double limit_a = window_.current_limit_a(window_.low_v);
        for (std::size_t k = 0; k < which.size(); ++k) {
            const std::size_t i = which[k];
            if (!(bottom[k].current_a > 0.0)) {
                points_[i].none = NoPoint::too_low;
            } else if (bottom[k].current_a <= limit_a && bottom[k].power_w() <= window_.power_w) {
                points_[i] = {bottom[k], Binding::window_bottom, NoPoint::held};
            } else {
                undecided_.push_back(i);
            }
        }
    }

    void in_window(std::vector<std::size_t> which) {
        if (which.empty()) return;
        // The power limit cuts off all between its two crossings; the upper one is the lowest voltage it leaves.
        std::vector<double> power_v(points_.size(), 0.0);
        std::vector<std::size_t> too_strong;
        for (const std::size_t i : which) {
            if (best_v_[i] * best_a_[i] > window_.power_w) too_strong.push_back(i);
        }
        std::vector<double> power_a(points_.size(), 0.0);
        if (!too_strong.empty()) {
            const std::vector<PowerPoint> crossing = answers(too_strong, window_.power_w, Ask::power_above);
            for (std::size_t k = 0; k < too_strong.size(); ++k) {
                power_v[too_strong[k]] = crossing[k].voltage_v;
                power_a[too_strong[k]] = crossing[k].current_a;
            }
        }
        for (const CurrentBand& band : bands_) {
            if (which.empty()) return;
            which = in_band(band, which, power_v, power_a);
        }
        // Nothing at the maximum or above it; below it there is only more current.
        std::vector<std::size_t> by_power;
        for (const std::size_t i : which) {
            if (too_much(best_a_[i], highest_limit_a())) {
                points_[i].none = NoPoint::pushed_out;
            } else if (power_v[i] > 0.0) {
                by_power.push_back(i);
            } else {
                undecided_.push_back(i);
            }
        }
        on_the_way_up(by_power);
    }

    /// Settles what has its point in this band; returns the others.
    std::vector<std::size_t> in_band(const CurrentBand& band, const std::vector<std::size_t>& which,
                                     const std::vector<double>& power_v, const std::vector<double>& power_a) {
        const double from_v = std::max(band.from_v, window_.low_v);
        const double to_v = std::min(band.to_v, window_.high_v);
        std::vector<std::size_t> others;
        std::vector<std::size_t> here;
        std::vector<std::size_t> limited;
        for (const std::size_t i : which) {
            if (!(from_v <= to_v) || to_v < best_v_[i]) {
                others.push_back(i);
                continue;
            }
            here.push_back(i);
            if (too_much(best_a_[i], band.limit_a)) limited.push_back(i);
        }
        const std::vector<PowerPoint> by_current =
            limited.empty() ? std::vector<PowerPoint>{} : answers(limited, band.limit_a, Ask::voltage_at_current);
        std::vector<std::size_t> on_edge;
        std::size_t next = 0;
        for (const std::size_t i : here) {
            const PowerPoint* cut = next < limited.size() && limited[next] == i ? &by_current[next++] : nullptr;
            const double current_v = cut != nullptr ? cut->voltage_v : best_v_[i];
            const double v = std::max({current_v, power_v[i], from_v});
            if (v > to_v) {
                others.push_back(i);
            } else if (power_v[i] > 0.0 && v == power_v[i]) {
                points_[i] = {{v, power_a[i]}, Binding::power_limit, NoPoint::held};
            } else if (left_may_be_better(i)) {
                undecided_.push_back(i);
            } else if (cut != nullptr && v == current_v) {
                points_[i] = {*cut, Binding::current_limit, NoPoint::held};
            } else {
                on_edge.push_back(i);
            }
        }
        if (on_edge.empty()) return others;
        const std::vector<PowerPoint> edge = answers(on_edge, from_v, Ask::current_at_voltage);
        for (std::size_t k = 0; k < on_edge.size(); ++k) {
            if (edge[k].current_a > 0.0) {
                const Binding why = from_v > window_.low_v ? Binding::band_edge : Binding::window_bottom;
                points_[on_edge[k]] = {edge[k], why, NoPoint::held};
            } else {
                undecided_.push_back(on_edge[k]);
            }
        }
        return others;
    }

    /// Whether below the maximum some band takes as much current as there is.
    [[nodiscard]] bool left_may_be_better(std::size_t i) const {
        return std::any_of(bands_.begin(), bands_.end(), [&](const CurrentBand& b) {
            return std::max(b.from_v, window_.low_v) < best_v_[i] && b.limit_a >= best_a_[i];
        });
    }

    const CurveBatch& curves_;
    std::span<const double> best_v_;
    std::span<const double> best_a_;
    const AcceptanceWindow& window_;
    std::span<BatchPoint> points_;
    BatchForm form_;
    std::vector<CurrentBand> bands_;
    std::vector<std::size_t> undecided_;
};

}  // namespace

void operating_points(const CurveBatch& curves, std::span<const double> best_v, std::span<const double> best_a,
                      const AcceptanceWindow& window, std::span<BatchPoint> points, BatchForm form) {
    WindowBatch(curves, best_v, best_a, window, points, form).run();
}

void pinned_points(const CurveBatch& curves, std::span<const double> best_v, std::span<const double> best_a,
                   double voltage_v, std::span<BatchPoint> points, BatchForm form) {
    std::vector<PowerPoint> found(curves.size());
    currents_at_voltage(curves, {{}, {}, voltage_v, best_v, best_a}, found, form);
    for (std::size_t i = 0; i < points.size(); ++i) {
        points[i] = {};
        if (!(best_v[i] * best_a[i] > 0.0)) continue;
        points[i].none = NoPoint::too_low;
        if (found[i].current_a > 0.0) points[i] = {found[i], Binding::pinned, NoPoint::held};
    }
}

}  // namespace plait::physics
