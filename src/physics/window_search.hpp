// The search of operating_point.hpp, for any falling curve whose power extremes are known. A Curve gives
// current_a(V), voltage_v(I) and power_crossing(P, left, right): the point between two others, with monotone power
// between them, at which the power is P.
//
// Every question to the curve is a solved equation, so none is asked whose answer is known: I falls with V, so the
// extremes bound it on either side; and from the highest voltage down the first good point rules most others out.
#pragma once

#include <plait/physics/operating_point.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>

namespace plait::physics {

// Two points of equal power but for rounding: the one at the higher voltage counts, where step-down inputs sit.
inline constexpr double equal_power_ratio = 1e-11;

// A current at the limit is within it, whichever of two solved equations it came from.
inline constexpr double equal_current_ratio = 1e-12;

/// True where the array's own maximum is allowed, and so is the answer.
[[nodiscard]] inline bool allows(const AcceptanceWindow& window, PowerPoint p) {
    return p.current_a <= window.current_limit_a(p.voltage_v) && p.power_w() <= window.power_w;
}

template <class Curve>
class WindowSearch {
public:
    /// `extremes`: the alternating maxima and minima of V·I between 0 and open circuit, by rising voltage, starting and
    /// ending with a maximum. `free` is the global maximum.
    WindowSearch(const Curve& curve, std::span<const PowerPoint> extremes, PowerPoint free,
                 const AcceptanceWindow& window)
        : curve_(curve), extremes_(extremes), window_(window) {
        found_.free_maximum = free;
    }

    OperatingPoint run() {
        const PowerPoint& free = found_.free_maximum;
        if (!(free.power_w() > 0.0)) return found_;
        const double hand_limit_a =
            window_.current_limit_a(std::max(window_.low_v, std::min(free.voltage_v, window_.high_v)));
        found_.hand_rule_w = std::min(free.voltage_v * std::min(free.current_a, hand_limit_a), window_.power_w);
        if (allows(window_, free)) {
            take(free, Binding::nothing, 0.0);
            return found_;
        }
        if (window_.bands.empty()) {
            search_band({window_.low_v, window_.high_v, std::numeric_limits<double>::infinity()});
        } else {
            for (std::size_t i = window_.bands.size(); i-- > 0;) search_band(window_.bands[i]);
        }
        if (!found_.held()) {
            const bool reached = window_.low_v < open_circuit_v() && curve_.current_a(window_.low_v) > 0.0;
            found_.none = reached ? NoPoint::pushed_out : NoPoint::too_low;
        }
        return found_;
    }

private:
    void take(PowerPoint p, Binding binding, double limit) {
        if (!(p.power_w() > 0.0) || hopeless(p.power_w())) return;
        found_.none = NoPoint::held;
        found_.point = p;
        found_.binding = binding;
        found_.binding_limit = limit;
        found_.low_side_of_power_limit = binding == Binding::power_limit && p.voltage_v < found_.free_maximum.voltage_v;
    }

    static bool too_much(double current_a, double limit_a) { return current_a > limit_a * (1.0 + equal_current_ratio); }

    /// A point of so much power at a lower voltage would not be better than what was found.
    bool hopeless(double power_w) const {
        return found_.held() && power_w * (1.0 - equal_power_ratio) <= found_.point.power_w();
    }

    void search_band(const CurrentBand& band) {
        const double from_v = std::max(band.from_v, window_.low_v);
        const double to_v = std::min(band.to_v, window_.high_v);
        if (!(from_v <= to_v) || hopeless(most_w(band.limit_a, to_v))) return;
        const bool open = to_v >= open_circuit_v();
        const double end_v = open ? open_circuit_v() : to_v;
        // A window that begins at open circuit, but for rounding: there is nothing to take.
        if (open && !(from_v < end_v)) return;
        std::size_t piece = extremes_.size();  // the piece before extreme `piece` ends at the band's end
        while (piece > 0 && extremes_[piece - 1].voltage_v >= end_v) --piece;
        // What lies to the right of the band carries less: if even that is too much, so is all of the band.
        if (!open && piece < extremes_.size() && too_much(extremes_[piece].current_a, band.limit_a)) return;

        // Walk the monotone pieces of V·I down: rising before a maximum, falling after it.
        const Binding at_end = end_v < window_.high_v ? Binding::band_edge : Binding::window_top;
        double right_v = end_v;
        for (;; --piece) {
            const bool rising = piece % 2 == 0;
            const bool at_edge = right_v == end_v;
            const PowerPoint* left = piece > 0 ? &extremes_[piece - 1] : nullptr;
            const bool last = !left || left->voltage_v <= from_v || too_much(left->current_a, band.limit_a);
            if (rising) {
                const PowerPoint best = at_edge ? at(right_v) : extremes_[piece];
                if (too_much(best.current_a, band.limit_a)) return;
                if (best.power_w() <= window_.power_w) {
                    if (!at_edge) {
                        take(best, Binding::nothing, 0.0);
                    } else if (!open) {
                        take(best, at_end, end_v);
                    }
                } else {
                    const std::optional<Start> start = last ? start_of(band, from_v, end_v, left) : Start{*left};
                    if (!start) return;
                    take_crossing(start->point, best);
                }
            } else {
                const std::optional<Start> start = last ? start_of(band, from_v, end_v, left) : Start{*left};
                if (!start) return;
                if (start->point.power_w() <= window_.power_w) {
                    take(start->point, start->binding, start->limit);
                } else {
                    take_crossing(at_edge ? at(right_v) : extremes_[piece], start->point);
                }
            }
            if (last) return;
            right_v = left->voltage_v;
            if (hopeless(most_w(band.limit_a, right_v))) return;
        }
    }

    /// Where a piece begins, and why there.
    struct Start {
        PowerPoint point;
        Binding binding = Binding::nothing;
        double limit = 0.0;
    };

    /// The lowest voltage of a band at which its current is not too much; nothing if there is none. `left` is the last
    /// extreme before it, if any, or the first whose current is too much.
    std::optional<Start> start_of(const CurrentBand& band, double from_v, double end_v, const PowerPoint* left) {
        const bool known_little = left && left->voltage_v <= from_v && !too_much(left->current_a, band.limit_a);
        const bool known_much = left && left->voltage_v > from_v;
        if (!known_much) {
            const PowerPoint edge = at(from_v);
            if (known_little || !too_much(edge.current_a, band.limit_a)) {
                return Start{edge, from_v > window_.low_v ? Binding::band_edge : Binding::window_bottom, from_v};
            }
        }
        const double v = curve_.voltage_v(band.limit_a);
        if (v > end_v) {
            // But for rounding the band ends before its limit is met.
            const PowerPoint end = at(end_v);
            if (too_much(end.current_a, band.limit_a)) return std::nullopt;
            return Start{end, Binding::current_limit, band.limit_a};
        }
        const PowerPoint point = v >= from_v ? PowerPoint{v, band.limit_a} : at(from_v);
        return Start{point, Binding::current_limit, band.limit_a};
    }

    /// Between a point that gives less than the power limit and one that gives more, the one that gives just that.
    void take_crossing(PowerPoint less, PowerPoint more) {
        if (less.power_w() > window_.power_w) return;
        const bool falling = less.voltage_v > more.voltage_v;
        const PowerPoint p = curve_.power_crossing(window_.power_w, falling ? more : less, falling ? less : more);
        take(p, Binding::power_limit, window_.power_w);
    }

    /// No point below a voltage in a band gives more.
    double most_w(double limit_a, double voltage_v) const {
        return std::min({limit_a * voltage_v, window_.power_w, found_.free_maximum.power_w()});
    }

    double open_circuit_v() {
        if (!open_circuit_v_) open_circuit_v_ = curve_.open_circuit_v();
        return *open_circuit_v_;
    }

    /// The curve's point at an edge; a shared edge is solved once.
    PowerPoint at(double voltage_v) {
        if (open_circuit_v_ && voltage_v == *open_circuit_v_) return {voltage_v, 0.0};
        if (!edge_ || edge_->voltage_v != voltage_v) edge_ = PowerPoint{voltage_v, curve_.current_a(voltage_v)};
        return *edge_;
    }

    const Curve& curve_;
    std::span<const PowerPoint> extremes_;
    const AcceptanceWindow& window_;
    OperatingPoint found_;
    std::optional<double> open_circuit_v_;
    std::optional<PowerPoint> edge_;
};

}  // namespace plait::physics
