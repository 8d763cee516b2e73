// The three equations that windows ask of a curve, for a batch. With x = u/a, ρ = Rs/a, s = a·G and D = I0·exp(x):
//     I = IL + I0 − D − s·x        V = a·(x − ρ·I)        dI/dx = −g, g = D + s        dV/dx = a·(1 + ρ·g)
// Each takes Halley's steps from a guess made at the maximum-power point; the careful form answers what they leave.
#include "batch_lanes.hpp"

#include <plait/physics/window_batch.hpp>

namespace plait::physics {
namespace {

PLAIT_INLINE double halley_change(double f, double f1, double f2) { return -2.0 * f * f1 / (2.0 * f1 * f1 - f * f2); }
PLAIT_INLINE double size_of(double change) { return change < 0.0 ? -change : change; }

/// D + s·x = IL + I0 − I, an exponential but for the shunt.
struct VoltageAtCurrent {
    static PLAIT_INLINE void solve(Block& b) {
        Lanes shunt, supply, x, diode;
        for (std::size_t i = 0; i < lanes; ++i) {
            shunt[i] = b.shunt[i] * b.ideality[i];
            supply[i] = b.light[i] + b.saturation[i] - b.target[i];
            const double at_best = (b.best_v[i] + b.series[i] * b.best_a[i]) / b.ideality[i];
            const double wanted = supply[i] - shunt[i] * at_best;
            const double usable = wanted > b.saturation[i] ? wanted : b.saturation[i];
            x[i] = rough_logarithm(usable) - rough_logarithm(b.saturation[i]);
            b.well[i] = wanted > b.saturation[i] ? 1.0 : 0.0;
        }
        for (std::size_t i = 0; i < lanes; ++i) {
            diode[i] = b.saturation[i] * exponential<Digits::some>(x[i]);
            x[i] += halley_change(diode[i] + shunt[i] * x[i] - supply[i], diode[i] + shunt[i], diode[i]);
        }
        for (std::size_t i = 0; i < lanes; ++i) {
            diode[i] = b.saturation[i] * exponential<Digits::all>(x[i]);
            x[i] += halley_change(diode[i] + shunt[i] * x[i] - supply[i], diode[i] + shunt[i], diode[i]);
        }
        for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::all>(x[i]);
        for (std::size_t i = 0; i < lanes; ++i) {
            const double change = halley_change(diode[i] + shunt[i] * x[i] - supply[i], diode[i] + shunt[i], diode[i]);
            b.voltage[i] = (x[i] + change) * b.ideality[i] - b.series[i] * b.target[i];
            b.current[i] = b.target[i];
            b.well[i] = size_of(change) < last_step ? b.well[i] : 0.0;
        }
    }
};

/// x − ρ·I = V/a, of which the left side is convex and rising.
struct CurrentAtVoltage {
    static PLAIT_INLINE void solve(Block& b) {
        Lanes shunt, rho, supply, wanted, x, diode;
        for (std::size_t i = 0; i < lanes; ++i) {
            shunt[i] = b.shunt[i] * b.ideality[i];
            rho[i] = b.series[i] / b.ideality[i];
            supply[i] = b.light[i] + b.saturation[i];
            wanted[i] = b.target[i] / b.ideality[i];
            // To the right of the root: the current is no more than that, left of the maximum and right of it.
            x[i] = wanted[i] + rho[i] * (b.target[i] > b.best_v[i] ? b.best_a[i] : b.light[i]);
        }
        for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::some>(x[i]);
        for (std::size_t i = 0; i < lanes; ++i) x[i] += step(i, shunt, rho, supply, wanted, x, diode);
        for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::some>(x[i]);
        for (std::size_t i = 0; i < lanes; ++i) x[i] += step(i, shunt, rho, supply, wanted, x, diode);
        for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::all>(x[i]);
        for (std::size_t i = 0; i < lanes; ++i) {
            const double change = step(i, shunt, rho, supply, wanted, x, diode);
            const double g = diode[i] + shunt[i];
            b.voltage[i] = b.target[i];
            b.current[i] = supply[i] - diode[i] - shunt[i] * x[i] -
                           change * (g + change * diode[i] * (0.5 + change * (1.0 / 6.0)));
            b.well[i] = size_of(change) < last_step ? 1.0 : 0.0;
        }
    }
    static PLAIT_INLINE double step(std::size_t i, const Lanes& shunt, const Lanes& rho, const Lanes& supply,
                                    const Lanes& wanted, const Lanes& x, const Lanes& diode) {
        const double f = x[i] - rho[i] * (supply[i] - diode[i] - shunt[i] * x[i]) - wanted[i];
        return halley_change(f, 1.0 + rho[i] * (diode[i] + shunt[i]), rho[i] * diode[i]);
    }
};

/// V·I = P on one side of the maximum.
template <BatchSide side>
struct PowerCrossing {
    static PLAIT_INLINE void solve(Block& b) {
        Lanes shunt, rho, supply, x, x_best, diode;
        for (std::size_t i = 0; i < lanes; ++i) {
            shunt[i] = b.shunt[i] * b.ideality[i];
            rho[i] = b.series[i] / b.ideality[i];
            supply[i] = b.light[i] + b.saturation[i];
            x_best[i] = (b.best_v[i] + b.series[i] * b.best_a[i]) / b.ideality[i];
            diode[i] = supply[i] - shunt[i] * x_best[i] - b.best_a[i];
        }
        if (side == BatchSide::above) {
            for (std::size_t i = 0; i < lanes; ++i) {
                // As if the power fell like a parabola from its maximum, and no further than near open circuit.
                const Slopes at = slopes(b.best_a[i], diode[i], shunt[i], rho[i], x_best[i]);
                const double drop = b.best_v[i] * b.best_a[i] / b.ideality[i] - b.target[i] / b.ideality[i];
                const double parabola = x_best[i] + std::sqrt(drop > 0.0 ? -2.0 * drop / at.second : 0.0);
                const double open =
                    rough_logarithm(supply[i] - shunt[i] * x_best[i]) - rough_logarithm(b.saturation[i]);
                const double most = x_best[i] + 0.9 * (open - x_best[i]);
                x[i] = parabola < most ? parabola : most;
            }
        } else {
            for (std::size_t i = 0; i < lanes; ++i) {
                // Where the current is nearly that of the light, the power is a straight line.
                x[i] = b.target[i] / (b.light[i] * b.ideality[i]) + rho[i] * b.light[i];
            }
        }
        for (int round = 0; round < 3; ++round) {
            for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::some>(x[i]);
            for (std::size_t i = 0; i < lanes; ++i) {
                const double now_a = supply[i] - diode[i] - shunt[i] * x[i];
                const Slopes at = slopes(now_a, diode[i], shunt[i], rho[i], x[i]);
                const double f = now_a * (x[i] - rho[i] * now_a) - b.target[i] / b.ideality[i];
                x[i] += halley_change(f, at.first, at.second);
            }
        }
        for (std::size_t i = 0; i < lanes; ++i) diode[i] = b.saturation[i] * exponential<Digits::all>(x[i]);
        for (std::size_t i = 0; i < lanes; ++i) {
            const double now_a = supply[i] - diode[i] - shunt[i] * x[i];
            const Slopes at = slopes(now_a, diode[i], shunt[i], rho[i], x[i]);
            const double f = now_a * (x[i] - rho[i] * now_a) - b.target[i] / b.ideality[i];
            const double change = halley_change(f, at.first, at.second);
            const double end = x[i] + change;
            const double g = diode[i] + shunt[i];
            const double end_a = now_a - change * (g + change * diode[i] * (0.5 + change * (1.0 / 6.0)));
            b.current[i] = end_a;
            b.voltage[i] = end * b.ideality[i] - b.series[i] * end_a;
            double fine = size_of(change) < last_step ? 1.0 : 0.0;
            fine = end_a > 0.0 ? fine : 0.0;
            fine = b.voltage[i] > 0.0 ? fine : 0.0;
            if (side == BatchSide::above) {
                fine = end >= x_best[i] ? fine : 0.0;
            } else {
                fine = end <= x_best[i] ? fine : 0.0;
            }
            b.well[i] = fine;
        }
    }
    /// Of V·I/a by x.
    struct Slopes {
        double first;
        double second;
    };
    static PLAIT_INLINE Slopes slopes(double now_a, double diode, double shunt, double rho, double x) {
        const double g = diode + shunt;
        const double stretch = 1.0 + rho * g;
        const double v = x - rho * now_a;
        return {stretch * now_a - v * g, rho * diode * now_a - 2.0 * stretch * g - v * diode};
    }
};

BatchQuestion question_of(const BatchAsk& ask) {
    return {ask.which, ask.targets.empty() ? nullptr : ask.targets.data(), ask.target_value, ask.best_v.data(),
            ask.best_a.data()};
}

}  // namespace

void voltages_at_current(const CurveBatch& curves, const BatchAsk& ask, std::span<PowerPoint> points, BatchForm form) {
    in_blocks<VoltageAtCurrent>(
        curves, question_of(ask), form, [&](std::size_t k, PowerPoint p) { points[k] = p; },
        [&](std::size_t i, double current_a) {
            return PowerPoint{curves.at(i).voltage_v(current_a), current_a};
        });
}

void currents_at_voltage(const CurveBatch& curves, const BatchAsk& ask, std::span<PowerPoint> points, BatchForm form) {
    in_blocks<CurrentAtVoltage>(
        curves, question_of(ask), form, [&](std::size_t k, PowerPoint p) { points[k] = p; },
        [&](std::size_t i, double voltage_v) {
            return PowerPoint{voltage_v, curves.at(i).current_a(voltage_v)};
        });
}

void power_crossings(const CurveBatch& curves, const BatchAsk& ask, BatchSide side, std::span<PowerPoint> points,
                     BatchForm form) {
    const auto put = [&](std::size_t k, PowerPoint p) { points[k] = p; };
    const auto careful = [&](std::size_t i, double power_w) {
        const DiodeCurve curve = curves.at(i);
        const PowerPoint best{ask.best_v[i], ask.best_a[i]};
        return side == BatchSide::above ? curve.power_crossing(power_w, best, {curve.open_circuit_v(), 0.0})
                                        : curve.power_crossing(power_w, {0.0, curve.short_circuit_a()}, best);
    };
    if (side == BatchSide::above) {
        in_blocks<PowerCrossing<BatchSide::above>>(curves, question_of(ask), form, put, careful);
    } else {
        in_blocks<PowerCrossing<BatchSide::below>>(curves, question_of(ask), form, put, careful);
    }
}

}  // namespace plait::physics
