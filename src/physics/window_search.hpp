// The search of operating_point.hpp, for any falling curve whose power extremes are known. A Curve gives
// current_a(V), voltage_v(I) and power_crossing_v(P, V1, V2): the V between V1 and V2, where the power is monotone,
// at which it is P.
#pragma once

#include <plait/physics/operating_point.hpp>

#include <algorithm>
#include <cmath>
#include <span>

namespace plait::physics {

// Two points of equal power but for rounding: the one at the higher voltage counts, where step-down inputs sit.
inline constexpr double equal_power_ratio = 1e-11;

template <class Curve>
class WindowSearch {
public:
    /// `extremes`: voltages of the alternating maxima and minima of V·I between 0 and open circuit, rising, starting and
    /// ending with a maximum. `free` is the global maximum.
    WindowSearch(const Curve& curve, std::span<const double> extremes_v, PowerPoint free, const AcceptanceWindow& window)
        : curve_(curve), extremes_v_(extremes_v), window_(window) {
        found_.free_maximum = free;
    }

    OperatingPoint run() {
        const PowerPoint& free = found_.free_maximum;
        if (!(free.power_w() > 0.0)) return found_;
        const double limit_at_free_a = window_.current_limit_a(free.voltage_v);
        const double hand_limit_a = free.voltage_v < window_.low_v || free.voltage_v > window_.high_v
                                        ? nearest_limit_a(free.voltage_v)
                                        : limit_at_free_a;
        found_.hand_rule_w = std::min(free.voltage_v * std::min(free.current_a, hand_limit_a), window_.power_w);
        if (free.current_a <= limit_at_free_a && free.power_w() <= window_.power_w) {
            take(free, Binding::nothing, 0.0);
            return found_;
        }
        if (window_.bands.empty()) {
            search_band({window_.low_v, window_.high_v, std::numeric_limits<double>::infinity()});
        } else {
            for (const CurrentBand& band : window_.bands) search_band(band);
        }
        if (!found_.held()) {
            const bool reached = curve_.current_a(window_.low_v) > 0.0 && window_.low_v < curve_.voltage_v(0.0);
            found_.none = reached ? NoPoint::pushed_out : NoPoint::too_low;
        }
        return found_;
    }

private:
    double nearest_limit_a(double voltage_v) const {
        return window_.current_limit_a(std::clamp(voltage_v, window_.low_v, window_.high_v));
    }

    void take(PowerPoint p, Binding binding, double limit) {
        if (!(p.power_w() > 0.0)) return;
        if (found_.held() && p.power_w() < found_.point.power_w() * (1.0 - equal_power_ratio)) return;
        found_.none = NoPoint::held;
        found_.point = p;
        found_.binding = binding;
        found_.binding_limit = limit;
        found_.low_side_of_power_limit = binding == Binding::power_limit && p.voltage_v < found_.free_maximum.voltage_v;
    }

    void search_band(const CurrentBand& band) {
        double start_v = std::max(band.from_v, window_.low_v);
        double end_v = std::min(band.to_v, window_.high_v);
        if (!(start_v <= end_v)) return;
        const double start_a = curve_.current_a(start_v);
        if (start_a <= 0.0) return;
        const double end_a = std::isfinite(end_v) ? curve_.current_a(end_v) : -1.0;
        if (end_a > band.limit_a) return;
        bool end_is_open_circuit = false;
        if (end_a < 0.0) {
            end_v = curve_.voltage_v(0.0);
            // A window that begins at open circuit, but for rounding: there is nothing to take.
            if (!(start_v < end_v)) return;
            end_is_open_circuit = true;
        }
        Binding at_start = start_v > window_.low_v ? Binding::band_edge : Binding::window_bottom;
        double start_limit = start_v;
        if (start_a > band.limit_a) {
            start_v = std::clamp(curve_.voltage_v(band.limit_a), start_v, end_v);
            at_start = Binding::current_limit;
            start_limit = band.limit_a;
        }
        const Binding at_end = end_v < window_.high_v ? Binding::band_edge : Binding::window_top;

        // Walk the monotone pieces of V·I: rising up to the first maximum, falling after it, and so on.
        double piece_start_v = start_v;
        bool rising = true;
        bool more = true;
        for (std::size_t i = 0; more && i <= extremes_v_.size(); ++i, rising = !rising) {
            const double piece_end_v = i < extremes_v_.size() ? std::min(extremes_v_[i], end_v) : end_v;
            if (piece_end_v < piece_start_v) continue;
            more = piece_end_v < end_v;
            const bool starts_at_edge = piece_start_v == start_v;
            const bool ends_at_edge = piece_end_v == end_v;
            const double best_v = rising ? piece_end_v : piece_start_v;
            const double other_v = rising ? piece_start_v : piece_end_v;
            const PowerPoint best = at(best_v);
            if (best.power_w() <= window_.power_w) {
                const bool on_edge = rising ? ends_at_edge : starts_at_edge;
                if (!on_edge) {
                    take(best, Binding::nothing, 0.0);
                } else if (!rising) {
                    take(best, at_start, start_limit);
                } else if (!end_is_open_circuit) {
                    take(best, at_end, end_v);
                }
            } else if (at(other_v).power_w() <= window_.power_w) {
                const double v = curve_.power_crossing_v(window_.power_w, piece_start_v, piece_end_v);
                take(at(v), Binding::power_limit, window_.power_w);
            }
            piece_start_v = piece_end_v;
        }
    }

    PowerPoint at(double voltage_v) const { return {voltage_v, curve_.current_a(voltage_v)}; }

    const Curve& curve_;
    std::span<const double> extremes_v_;
    const AcceptanceWindow& window_;
    OperatingPoint found_;
};

}  // namespace plait::physics
