// What an input really takes, from a bench sweep: an adjustable supply on the input, stepped over the voltage. The
// model, the criterion and how the intervals are made stand in docs/learn.md.
#pragma once

#include <plait/base/interval.hpp>
#include <plait/base/result.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::measured {

enum class SweepState { unsaid, taking, idle, tripped };

/// One reading on the bench, in the order it was taken.
struct SweepRow {
    int line = 0;
    double voltage_v = 0.0;
    double current_a = 0.0;
    SweepState state = SweepState::unsaid;
    bool from_power = false;            ///< watts were read, and the current follows from them
    double step_value = 0.0;  ///< of the last digit written, in A or, where watts were read, W; 0: not known
    bool vague = false;       ///< a person's "about 8": `step_value` is the width of all that may be meant
    bool supply_was_the_limit = false;  ///< the supply gave all it was set to: the input might have taken more
    std::optional<double> display_w{};  ///< watts noted beside volts and amps, or shown by the input's display
    double display_step_w = 0.0;
    std::optional<double> battery_w{};  ///< arriving at the battery
    double battery_step_w = 0.0;
    std::optional<double> wall_w{};     ///< what a charger on the wall gave at the same time
    [[nodiscard]] double power_w() const { return voltage_v * current_a; }
};

/// A value and the interval that holds the true one 19 times in 20.
struct Estimate {
    double value = 0.0;
    Interval likely;
};

/// A voltage at which something changes: it lies between two neighbouring readings, and nothing tells where. `likely`
/// is the middle 95 % of the gap.
struct SwitchVoltage {
    Interval between_v;
    [[nodiscard]] double middle_v() const { return 0.5 * (between_v.lower() + between_v.upper()); }
    [[nodiscard]] Interval likely_v() const;
};

/// What a display does with the digits it has no room for: of 8.9, one of whole amps shows 9 or 8.
enum class DisplayHabit { rounds, cuts_off };

/// What is known of the meters besides their readings.
struct BenchMeters {
    double accuracy_ratio = 0.0;           ///< 0 … 0.2: the 95 % error of their scale, alike in all rows
    std::optional<double> amps_step_a{};   ///< readings come in such steps; empty: found out from their digits
    std::optional<double> watts_step_w{};
    std::optional<DisplayHabit> habit{};   ///< empty: found out, as far as the readings tell
};

enum class PieceKind {
    nothing,           ///< nothing taken
    constant_current,  ///< a band's limit
    constant_power,    ///< the power limit
    at_least,          ///< only readings at which the supply was the limit: at least this current
};

/// Neighbouring readings that one law describes.
struct LearnedPiece {
    PieceKind kind = PieceKind::nothing;
    double from_v = 0.0;  ///< the first and the last reading in it
    double to_v = 0.0;
    Estimate level;  ///< A, or W at constant power; of `at_least` only the value
    int steps = 0;   ///< voltages
    int rows = 0;
    [[nodiscard]] double middle_v() const { return 0.5 * (from_v + to_v); }
    /// In the middle, of a current or of a power.
    [[nodiscard]] double middle_a() const { return kind == PieceKind::constant_power ? level.value / middle_v() : level.value; }
};

enum class RowUse { fits, nothing_taken, stands_apart, supply_was_the_limit, beside_the_wall, left_out };

struct FittedRow {
    SweepRow row;
    bool rising = true;
    RowUse use = RowUse::left_out;
    std::optional<double> fitted_a;
    [[nodiscard]] std::optional<double> fitted_w() const;
};

struct LearnedWindow {
    std::vector<LearnedPiece> pieces;       ///< where something is taken, by rising voltage
    std::vector<SwitchVoltage> changes;     ///< between piece i and i + 1
    std::optional<SwitchVoltage> start;     ///< begins to take, voltage rising
    std::optional<SwitchVoltage> stop;      ///< ceases to take, voltage falling
    std::optional<SwitchVoltage> trip;      ///< ceases to take, voltage rising
    std::optional<SwitchVoltage> recovery;  ///< takes again, voltage falling
    std::optional<Estimate> power_w;        ///< of the longest piece of constant power
    std::optional<Estimate> takeover_v;     ///< where the power limit takes over from a band without a jump
    double lowest_working_v = 0.0;
    double highest_working_v = 0.0;
    double most_power_w = 0.0;          ///< of the readings that fit
    double noise_ratio = 0.0;           ///< scatter of one reading
    bool noise_is_digit = false;        ///< … no more than its last digit
    double amps_step_a = 0.0;           ///< readings are multiples of this; 0: none were of amps
    double watts_step_w = 0.0;          ///< … of watts
    double meter_accuracy_ratio = 0.0;  ///< as given
    DisplayHabit habit = DisplayHabit::rounds;  ///< as given, or as the readings tell
    std::optional<double> cuts_off_ratio;  ///< how probable it is that digits are cut off; empty: it matters not, or was said
    std::size_t outlier_count = 0;
    std::size_t censored_count = 0;
    bool rising = false;  ///< there is a sweep of that direction
    bool falling = false;
    bool in_order = true;  ///< false: readings jump about, so nothing is said about directions
    std::vector<FittedRow> rows;
    /// The step of a reading as a share of the smallest level that it stands for; 0 where no step is known.
    [[nodiscard]] double coarsest_step_ratio() const;
};

/// Finds the window in a sweep. The meters' own error widens the intervals of currents and powers. Fails with a sentence
/// when there are fewer than four readings above 0 V, or nothing is ever taken.
/// Sources: that an input on a stiff supply takes the smaller of its band's current and its power limit is common
/// practice, no source.
[[nodiscard]] Result<LearnedWindow, std::string> learn_window(const std::vector<SweepRow>& rows,
                                                              const BenchMeters& meters);

}  // namespace plait::measured
