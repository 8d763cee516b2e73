// Sweeps of inputs that exist only here: a window of known bands, power and edges, stepped over by a supply with noise,
// gaps, outliers and a current limit of its own.
#pragma once

#include <plait/measured/window_learning.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

namespace plait::measured::test {

struct TrueBand {
    double from_v, to_v, limit_a;
};

struct TrueWindow {
    std::vector<TrueBand> bands;
    double power_w = 0.0;
    double start_v = 0.0, stop_v = 0.0, trip_v = 0.0, recovery_v = 0.0;

    [[nodiscard]] double current_a(double v) const {
        for (const TrueBand& b : bands) {
            if (v < b.to_v || &b == &bands.back()) return std::min(b.limit_a, power_w / v);
        }
        return 0.0;
    }
};

struct Sweep {
    TrueWindow truth;
    std::vector<SweepRow> rows;
    bool falling = false;
    double noise_ratio = 0.0;
    double supply_a = 1e9;
    bool trips = false;  ///< the sweep went high enough to see it
};

/// Numbers from a generator the standard fixes to the bit; its distributions are not, so these are made by hand.
class Dice {
public:
    explicit Dice(std::uint32_t seed) : generator_(seed) {}
    double between(double low, double high) { return low + (high - low) * unit(); }
    bool chance(double share) { return unit() < share; }
    int whole(int low, int high) { return low + static_cast<int>(unit() * (high - low + 1)); }
    /// Standard normal: Marsaglia's polar method.
    double normal() {
        for (;;) {
            const double x = between(-1, 1);
            const double y = between(-1, 1);
            const double r = x * x + y * y;
            if (r > 0.0 && r < 1.0) return x * std::sqrt(-2.0 * std::log(r) / r);
        }
    }

private:
    double unit() { return (static_cast<double>(generator_()) + 0.5) / 4294967296.0; }
    std::mt19937 generator_;
};

inline Sweep random_sweep(Dice& dice) {
    Sweep s;
    TrueWindow& w = s.truth;
    w.start_v = dice.between(10, 14);
    w.stop_v = w.start_v - dice.between(0.3, 1.5);
    w.trip_v = dice.between(45, 150);
    w.recovery_v = w.trip_v * dice.between(0.92, 0.98);
    const int bands = dice.whole(1, 3);
    double from_v = 0.0;
    double limit_a = dice.between(5, 12);
    for (int k = 0; k < bands; ++k) {
        const double share = static_cast<double>(k + 1) / (bands + (bands == 1 ? 0 : 1));
        const double to_v = k + 1 == bands ? 1e9 : w.start_v + (w.trip_v - w.start_v) * share * dice.between(0.8, 1.1);
        w.bands.push_back({from_v, to_v, limit_a});
        from_v = to_v;
        limit_a *= dice.chance(0.8) ? dice.between(1.25, 1.8) : dice.between(0.55, 0.8);
    }
    // The power limit takes over somewhere in the last band, or never.
    const TrueBand& last = w.bands.back();
    const double last_from_v = std::max(last.from_v, w.start_v);
    w.power_w =
        dice.chance(0.75) ? last.limit_a * (last_from_v + (w.trip_v - last_from_v) * dice.between(0.25, 0.75)) : 1e9;
    for (const TrueBand& b : w.bands)
        w.power_w = std::max(w.power_w, b.limit_a * std::min(b.to_v, w.trip_v) * (b.to_v < 1e9 ? 1.02 : 0.0));

    s.noise_ratio = dice.between(0.01, 0.02);
    s.falling = dice.chance(0.7);
    if (dice.chance(0.25)) s.supply_a = w.bands.front().limit_a * dice.between(1.05, 1.5);
    const double step_v = (w.trip_v - w.stop_v) / dice.whole(35, 80);
    const int dwell = dice.whole(1, 3);
    const double low_v = w.stop_v - dice.between(1, 4) * step_v;
    const double high_v = w.trip_v + dice.between(1, 4) * step_v;
    int line = 1;
    bool on = false;
    bool tripped = false;
    const auto reading = [&](double v, bool up) {
        if (v > w.trip_v) tripped = true;
        if (v < w.recovery_v) tripped = false;
        if (up ? v >= w.start_v : (v < w.recovery_v && v >= w.stop_v)) on = true;
        if (v < w.stop_v) on = false;
        const double wanted_a = on && !tripped ? w.current_a(v) : 0.0;
        for (int d = 0; d < dwell; ++d) {
            SweepRow r;
            r.line = ++line;
            r.voltage_v = v;
            r.supply_was_the_limit = wanted_a > s.supply_a;
            r.current_a = std::min(wanted_a, s.supply_a) * (1.0 + s.noise_ratio * dice.normal());
            if (wanted_a > 0.0 && dice.chance(0.02)) {
                r.current_a *= dice.chance(0.5) ? dice.between(0.3, 0.7) : dice.between(1.4, 2.0);
            }
            if (wanted_a == 0.0) r.current_a = dice.between(0.0, 0.02);
            s.rows.push_back(r);
        }
    };
    const double gap_v = dice.between(low_v, high_v);  // a stretch nobody measured
    const double gap_end_v = gap_v + (dice.chance(0.3) ? 3.0 * step_v : 0.0);
    std::vector<double> up;
    for (double v = low_v; v <= high_v; v += step_v) {
        if (dice.chance(0.05) || (v > gap_v && v < gap_end_v)) continue;
        up.push_back(v);
    }
    for (const double v : up) reading(v, true);
    s.trips = tripped;
    if (s.falling) {
        const double shift_v = dice.between(0, step_v);
        for (auto v = up.rbegin(); v != up.rend(); ++v) reading(*v - shift_v, false);
    }
    return s;
}

}  // namespace plait::measured::test
