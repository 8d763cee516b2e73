// The curve of a wiring in one weather, as numbers to look at: points, maxima, where an input holds it, who loses what.
#pragma once

#include <plait/physics/array_reading.hpp>
#include <plait/physics/operating_point.hpp>
#include <plait/physics/power_extremes.hpp>
#include <plait/study/system_model.hpp>

#include <cstddef>
#include <optional>
#include <vector>

namespace plait::study {

/// The weather of a sheet: one of the named ones, or light with the temperature of the air or of all cells.
struct Weather {
    std::optional<rules::ConditionId> id = rules::ConditionId::stc;
    double irradiance_w_per_m2 = stc_irradiance_w_per_m2;  ///< used when there is no `id`
    std::optional<Celsius> air;                            ///< … cells are warmer by mounting and light
    Celsius cell = stc_cell;                               ///< … used when there is no `air` either
};
[[nodiscard]] KindConditions conditions_of(const SystemModel& system, const Weather& weather);

/// The cell temperatures at which curves hold, `DiodeModel::at`.
inline constexpr Celsius coldest_cell{-60.0};
inline constexpr Celsius hottest_cell{150.0};
/// The hottest and coldest group of a wiring.
struct CellRange {
    Celsius coldest;
    Celsius hottest;
};
[[nodiscard]] CellRange cell_range(const InputWiring& wiring, const KindConditions& by_kind);

/// Why a voltage is on the sheet, where it is not only one of the even steps.
enum class Mark {
    short_circuit,
    bypass_knee,  ///< below it, a group carries more than its own light gives, and its bypass diode begins to conduct
    minimum,
    maximum,
    best,
    in_operation,
    first_stop,
    window_edge,  ///< of the input's window or of one of its current bands
    open_circuit,
};

struct CurvePoint {
    physics::PowerPoint point;
    std::vector<double> string_a;  ///< negative: driven back through the string
    std::vector<Mark> marks;
};

/// Which voltages a sheet lists.
struct PointChoice {
    std::size_t even = 101;       ///< even steps from 0 to open circuit, both ends among them; every mark besides
    std::vector<double> exact_v;  ///< if not empty: these, in this order, and nothing else
    std::size_t columns = 0;      ///< of a plot: the power in the middle of so many equal steps, beside the points
};

/// Where a tracker stops that comes down from open circuit and follows the rising power.
struct FirstStop {
    physics::PowerPoint point;
    physics::Binding binding = physics::Binding::nothing;  ///< `nothing`: at a maximum of the power
    double binding_limit = 0.0;                            ///< A, W or V by `binding`
};

/// Strings, panels and groups at one voltage, and what each panel could give alone.
struct Shares {
    physics::ArrayReading reading;
    physics::Mismatch mismatch;
};

/// One input's wiring.
struct InputCurve {
    std::size_t input = 0;
    InputWiring wiring;  ///< as given
    KindConditions by_kind;
    double open_circuit_v = 0.0;
    double short_circuit_a = 0.0;
    physics::PowerExtremes extremes;               ///< of the whole curve
    std::vector<physics::PowerExtreme> in_window;  ///< between the window's ends; empty: the curve does not reach it
    physics::OperatingPoint operating;
    std::optional<FirstStop> first_stop;  ///< empty: no tracker, or nothing to hold
    Shares at_best;
    std::optional<Shares> in_operation;
    std::vector<double> open_circuit_string_a;  ///< what the strings drive through each other with nothing plugged in
    std::vector<CurvePoint> points;             ///< by rising voltage, unless they were asked for

    std::vector<double> column_w;  ///< for a plot

    /// Watts a tracker loses that stays at its first stop.
    [[nodiscard]] double first_stop_lost_w() const;
    /// It loses more than would neither be seen nor missed.
    [[nodiscard]] bool first_stop_matters() const;
    /// The input holds the array where that gives the most.
    [[nodiscard]] bool operates_at_best() const;
};

struct CurveSheet {
    Weather weather;
    std::vector<InputCurve> inputs;
};

/// The sheet of one input's wiring, which must not be empty.
[[nodiscard]] InputCurve input_curve(const SystemModel& system, std::size_t input, const InputWiring& wiring,
                                     const Weather& weather, const PointChoice& choice);

/// True where a limit of the window lets the input sit: voltage, current and power.
[[nodiscard]] bool allows(const physics::AcceptanceWindow& window, const physics::PowerPoint& point);

}  // namespace plait::study
