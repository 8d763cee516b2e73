// Where on the bench to measure: the readings that would tell most after a sweep, and the plan of a first one.
#pragma once

#include <plait/measured/window_learning.hpp>
#include <plait/model/controller.hpp>

#include <optional>
#include <vector>

namespace plait::measured {

enum class ReadingReason {
    start,       ///< where it begins to take, voltage rising
    stop,        ///< where it ceases, voltage falling
    step,        ///< where one law gives way to another
    trip,        ///< where it ceases, voltage rising
    recovery,    ///< where it comes back, voltage falling
    level,       ///< one more reading of a level that few show
    unseen,      ///< inside the printed window, where nobody measured
};

struct NextReading {
    double voltage_v = 0.0;
    ReadingReason reason = ReadingReason::level;
    bool falling = false;          ///< to be approached from above
    Interval between_v;            ///< the gap it parts, or the stretch it is of
    double settled_value = 0.0;      ///< W × V: by how much the doubt about watts shrinks, over the voltage
};

/// The readings that would narrow the window most, the best first, `most` of them at most. None lies above the printed
/// maximum; where no maximum is printed, none above the highest voltage at which the input was seen working. Doubt is
/// counted as watts that are not known times the volts over which they are not.
[[nodiscard]] std::vector<NextReading> next_readings(const LearnedWindow& window, const Controller* controller,
                                                     const Input* printed, std::size_t most = 3);

enum class PlanReason { below_start, start, band, band_edge, power_takes_over, power, top, down };

struct PlannedReading {
    double voltage_v = 0.0;
    PlanReason reason = PlanReason::band;
    bool falling = false;
    std::optional<double> printed_a;  ///< what the print lets it take there; empty: the print does not say
    std::optional<double> printed_w;
};

/// A bench session before it begins.
struct BenchPlan {
    std::vector<PlannedReading> readings;  ///< in the order in which to take them
    double top_v = 0.0;                    ///< no reading lies above it
    bool maximum_printed = false;          ///< false: the top is that of tracking, as no maximum is printed
    std::optional<double> supply_a;        ///< the supply must give this much at its least voltage …
    std::optional<double> supply_w;        ///< … and so many watts; empty: the print names no limit
};

/// Which voltages to step through, from the print alone: under the start, in each band and on both sides of its edges,
/// where power takes over, and down again. Empty where neither a maximum nor the top of tracking is printed: then
/// nobody knows how high a supply may go.
[[nodiscard]] std::optional<BenchPlan> plan_bench(const Controller& controller, const Input& printed);

}  // namespace plait::measured
