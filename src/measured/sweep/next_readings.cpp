#include <plait/measured/next_readings.hpp>

#include <plait/physics/acceptance_window.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace plait::measured {
namespace {

constexpr double apart_ratio = 0.01;  // two suggestions nearer than this are one
constexpr double least_gap_v = 0.05;  // no bench supply is set closer

double current_of(const LearnedPiece& p, double voltage_v) {
    return p.kind == PieceKind::constant_power ? p.level.value / voltage_v : p.kind == PieceKind::nothing ? 0.0 : p.level.value;
}

// A voltage that a hand sets, inside the gap and near its middle.
double settable_v(const Interval& gap_v) {
    const double middle_v = 0.5 * (gap_v.lower() + gap_v.upper());
    for (const double step_v : {1.0, 0.5, 0.1}) {
        const double near_v = std::round(middle_v / step_v) * step_v;
        const double quarter_v = 0.25 * (gap_v.upper() - gap_v.lower());
        if (std::abs(near_v - middle_v) < quarter_v) return near_v;
    }
    return middle_v;
}

class Suggestions {
public:
    Suggestions(const LearnedWindow& w, const Controller* controller, const Input* printed)
        : w_(w), highest_v_(printed != nullptr && printed->max_voltage_v ? *printed->max_voltage_v : w.highest_working_v) {
        if (controller != nullptr && printed != nullptr) limits_ = physics::window_of(*controller, *printed);
        if (w.pieces.empty()) return;
        gaps();
        levels();
        if (limits_) unseen();
    }

    std::vector<NextReading> best(std::size_t most) {
        std::stable_sort(all_.begin(), all_.end(),
                         [](const NextReading& a, const NextReading& b) { return a.settled_value > b.settled_value; });
        std::vector<NextReading> chosen;
        for (const NextReading& n : all_) {
            const bool near = std::any_of(chosen.begin(), chosen.end(), [&](const NextReading& c) {
                return std::abs(c.voltage_v - n.voltage_v) < apart_ratio * n.voltage_v;
            });
            if (!near && chosen.size() < most) chosen.push_back(n);
        }
        return chosen;
    }

private:
    // A reading in the middle halves a gap; over the half of it that is settled `doubt_w` are known.
    void gap(ReadingReason reason, const Interval& between_v, double doubt_w, bool falling) {
        const Interval open_v(between_v.lower(), std::min(between_v.upper(), std::max(highest_v_, between_v.lower())));
        const double width_v = open_v.upper() - open_v.lower();
        if (width_v < least_gap_v || !(doubt_w > 0.0)) return;
        const double voltage_v = settable_v(open_v);
        const double settled_v = std::min(voltage_v - between_v.lower(), between_v.upper() - voltage_v);
        if (!(settled_v > 0.0)) return;
        all_.push_back({voltage_v, reason, falling, between_v, settled_v * doubt_w});
    }

    void gaps() {
        const auto at = [&](const LearnedPiece& p, const SwitchVoltage& s) { return s.middle_v() * current_of(p, s.middle_v()); };
        const LearnedPiece& first = w_.pieces.front();
        const LearnedPiece& last = w_.pieces.back();
        if (w_.start) gap(ReadingReason::start, w_.start->between_v, at(first, *w_.start), false);
        if (w_.stop) gap(ReadingReason::stop, w_.stop->between_v, at(first, *w_.stop), true);
        if (w_.trip) gap(ReadingReason::trip, w_.trip->between_v, at(last, *w_.trip), false);
        // To see it come back it must have tripped: nobody is sent above the print for that.
        const double tripped_v = w_.trip ? w_.trip->between_v.upper() : w_.recovery ? w_.recovery->between_v.upper() : 0.0;
        if (w_.recovery && tripped_v <= highest_v_) gap(ReadingReason::recovery, w_.recovery->between_v, at(last, *w_.recovery), true);
        for (std::size_t k = 0; k < w_.changes.size(); ++k) {
            const SwitchVoltage& s = w_.changes[k];
            double doubt_w = std::abs(at(w_.pieces[k], s) - at(w_.pieces[k + 1], s));
            // Where two laws meet, both tell the current between their readings, and only their crossing is in doubt.
            const bool met = w_.takeover_v && w_.pieces[k + 1].kind == PieceKind::constant_power && w_.power_w &&
                             w_.pieces[k + 1].level.value == w_.power_w->value;
            if (met) doubt_w *= std::min(1.0, (w_.takeover_v->likely.upper() - w_.takeover_v->likely.lower()) /
                                                  std::max(s.between_v.upper() - s.between_v.lower(), least_gap_v));
            gap(ReadingReason::step, s.between_v, doubt_w, false);
        }
    }

    // One more of n readings takes 1 − √(n / (n + 1)) of the interval.
    void levels() {
        for (const LearnedPiece& p : w_.pieces) {
            const double length_v = p.to_v - p.from_v;
            if (p.kind == PieceKind::nothing || p.kind == PieceKind::at_least || length_v < least_gap_v) continue;
            const Interval hole_v = widest_hole(p);
            const double voltage_v = settable_v({hole_v.lower(), std::min(hole_v.upper(), std::max(highest_v_, hole_v.lower()))});
            if (voltage_v > highest_v_) continue;
            const double width = p.level.likely.upper() - p.level.likely.lower();
            const double width_w = p.kind == PieceKind::constant_power ? width : width * voltage_v;
            const double n = std::max(1.0, static_cast<double>(p.steps));
            all_.push_back({voltage_v, ReadingReason::level, false, Interval(p.from_v, p.to_v),
                            (1.0 - std::sqrt(n / (n + 1.0))) * width_w * length_v});
        }
    }

    [[nodiscard]] Interval widest_hole(const LearnedPiece& p) const {
        std::vector<double> volts;
        for (const FittedRow& r : w_.rows) {
            if (r.use == RowUse::fits && r.row.voltage_v >= p.from_v && r.row.voltage_v <= p.to_v) volts.push_back(r.row.voltage_v);
        }
        std::sort(volts.begin(), volts.end());
        Interval widest(p.from_v, p.to_v);
        double width_v = -1.0;
        for (std::size_t i = 0; i + 1 < volts.size(); ++i) {
            if (volts[i + 1] - volts[i] <= width_v) continue;
            width_v = volts[i + 1] - volts[i];
            widest = Interval(volts[i], volts[i + 1]);
        }
        return widest;
    }

    // The ends of the printed window that no reading reached, and readings at which the supply was the limit.
    void unseen() {
        const auto printed_w = [&](double v) { return std::min(limits_->current_limit_a(v) * v, limits_->power_w); };
        const auto end = [&](double from_v, double to_v) {
            if (!(to_v - from_v > least_gap_v) || !std::isfinite(to_v)) return;
            const Interval open_v(from_v, std::min(to_v, highest_v_));
            const double voltage_v = settable_v(open_v);
            const double watts = printed_w(voltage_v);
            if (voltage_v <= highest_v_ && std::isfinite(watts) && watts > 0.0) {
                all_.push_back({voltage_v, ReadingReason::unseen, false, open_v, 0.5 * (to_v - from_v) * watts});
            }
        };
        const bool lower_end = w_.start || w_.stop;
        const bool upper_end = w_.trip || w_.recovery;
        if (!lower_end && limits_->low_v < w_.lowest_working_v) end(limits_->low_v, w_.lowest_working_v);
        if (!upper_end && w_.highest_working_v < highest_v_) end(w_.highest_working_v, std::min(limits_->high_v, highest_v_));
    }

    const LearnedWindow& w_;
    double highest_v_;
    std::optional<physics::AcceptanceWindow> limits_;
    std::vector<NextReading> all_;
};

}  // namespace

std::vector<NextReading> next_readings(const LearnedWindow& window, const Controller* controller, const Input* printed,
                                       std::size_t most) {
    return Suggestions(window, controller, printed).best(most);
}

}  // namespace plait::measured
