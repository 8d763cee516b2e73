// Operating points of many single-diode curves in one window: the hours of a year behind one input. The same answers as
// `operating_point` of operating_point.hpp, several times as fast.
#pragma once

#include <plait/physics/acceptance_window.hpp>
#include <plait/physics/operating_point.hpp>
#include <plait/physics/power_batch.hpp>

#include <cstddef>
#include <span>

namespace plait::physics {

struct BatchPoint {
    PowerPoint point;  ///< zero when none
    Binding binding = Binding::nothing;
    NoPoint none = NoPoint::dark;
};

/// `best_v` and `best_a` are the curves' maximum-power points. All lists are as long as the batch.
void operating_points(const CurveBatch& curves, std::span<const double> best_v, std::span<const double> best_a,
                      const AcceptanceWindow& window, std::span<BatchPoint> points, BatchForm form);

/// The points at one voltage, as `pinned_point` has them.
void pinned_points(const CurveBatch& curves, std::span<const double> best_v, std::span<const double> best_a,
                   double voltage_v, std::span<BatchPoint> points, BatchForm form);

/// What is asked of which curves of a batch.
struct BatchAsk {
    std::span<const std::size_t> which;  ///< places in the batch, in the order of the answers; empty: all
    std::span<const double> targets;     ///< A, V or W, in that order; empty: `target_value` for all
    double target_value = 0.0;
    std::span<const double> best_v;  ///< the maximum-power points of the whole batch
    std::span<const double> best_a;
};
/// One equation a curve; answers to 1e-11 of Voc and Isc. The voltage at a current below that of the maximum-power
/// point.
void voltages_at_current(const CurveBatch& curves, const BatchAsk& ask, std::span<PowerPoint> points, BatchForm form);
/// The current at a voltage.
void currents_at_voltage(const CurveBatch& curves, const BatchAsk& ask, std::span<PowerPoint> points, BatchForm form);
/// The point of a power below the maximum, at a higher voltage than it or a lower one.
enum class BatchSide { above, below };
void power_crossings(const CurveBatch& curves, const BatchAsk& ask, BatchSide side, std::span<PowerPoint> points,
                     BatchForm form);

}  // namespace plait::physics
