// Why an array gave what a log says: row by row, and as an account from the label down to the last measured watt-hour.
//
// Each cause is a hypothesis that predicts volts and amps (or watts) with an uncertainty made of the sensors'
// accuracies and the model's; Bayes' rule weighs them, and a cause tends to last from row to row. Losses go to the
// causes by their probabilities. Nothing is decided by a threshold. The model, its priors and how well it does:
// docs/explain.md.
#pragma once

#include <plait/study/system_model.hpp>

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

namespace plait::measured {

/// One row of a log. What a column does not say is empty; volts with amps or watts, or watts alone, must be there.
struct LogRow {
    double time_s = 0.0;  ///< since any fixed moment, rising
    std::optional<double> voltage_v;
    std::optional<double> current_a;
    std::optional<double> power_w;
    std::optional<double> irradiance_w_per_m2;  ///< in the plane of the panels
    std::optional<Celsius> air;
    std::optional<Celsius> panel;  ///< of the panels' back or cells
    std::optional<double> charge_ratio;
    std::optional<double> wall_w;  ///< charging from the wall
    /// What the sun says of the light on the panels' plane at that moment, where place, plane and clock are known
    /// (measured/log_sun.hpp): that of a clear sky, 0 at night; and no more than this can have fallen.
    std::optional<double> clear_w_per_m2{};
    std::optional<double> brightest_w_per_m2{};
    bool irradiance_is_turned = false;  ///< `irradiance_w_per_m2` was measured on flat ground and turned onto the plane
};

/// Standard deviations; of the sensors, and of the model where it meets a real panel. *Common practice, no source.*
struct LogAccuracy {
    double volt_ratio = 0.005;
    double amp_ratio = 0.01;
    double watt_ratio = 0.015;
    double irradiance_ratio = 0.05;  ///< a small reference cell; a good pyranometer has 0.02
    double panel_k = 2.0;
    double air_k = 2.0;
    double display_w = 2.0;  ///< less than this may be shown, or logged, as nothing
};

/// Where energy goes between the label and the log.
enum class Cause {
    less_light,     ///< less than 1000 W/m²; as the cause of a row: limited by the array alone
    array,          ///< weak light, panels tied together, shade that the set-up file states
    heat,           ///< cells warmer than 25 °C (colder: a gain)
    cable,          ///< what the input would draw more, were the set-up's cables not there
    power_limit,    ///< the input's own
    current_limit,  ///< … of one of its bands
    below_window,   ///< voltage too low to be tracked, or to start
    above_window,   ///< … too high
    no_tracker,     ///< the battery sets the voltage
    tripped,        ///< off, the array at open circuit
    battery,        ///< full, or slowing down
    wall,           ///< the battery is being charged from the wall as well
    display,        ///< less than the display shows
    bypassed_group,
    missing_string,
    shade,          ///< less light on the panels, or on some of them, than on the sensor
    local_maximum,  ///< the tracker stays on a lower one of several maxima
    fixed_voltage,  ///< … holds one voltage, wherever the maximum is
    slow_tracker,   ///< … follows the light too late
    scatter,        ///< everything works; what the accuracies leave open
    unexplained,    ///< something else is the matter: no hypothesis fits
    untold,         ///< the columns of the log do not tell
};
inline constexpr std::size_t cause_count = 22;
inline constexpr std::size_t most_bands = 50;  ///< of one input

/// What a log lacks for telling.
enum class Teller { irradiance, voltage, charge, wall, nothing };
inline constexpr std::size_t teller_count = 5;
template <class T>
using ByCause = std::array<T, cause_count>;
[[nodiscard]] constexpr std::size_t index_of(Cause c) { return static_cast<std::size_t>(c); }

/// What is made of one row. All the `lost_w` add up to label − measured.
struct ExplainedRow {
    LogRow row;
    double hours_s = 0.0;     ///< for how long it stands, in seconds
    double label_w = 0.0;     ///< of the panels wired
    double possible_w = 0.0;  ///< the array's own maximum in this light and warmth, before any cable
    double expected_w = 0.0;  ///< what the input should have drawn of it
    double expected_v = 0.0;  ///< 0 where nothing
    double measured_w = 0.0;
    double irradiance_w_per_m2 = 0.0;  ///< measured, or as volts and amps tell
    Celsius cell;
    double possible_sd_w = 0.0;  ///< how far the light is left open where it was not measured; 0 where it was
    ByCause<double> lost_w{};
    ByCause<double> probability_ratio{};  ///< of being what decided the row; `less_light` and `heat`: the array itself
    std::size_t band = 0;  ///< whose current limit it is that `current_limit` speaks of
    Teller untold_by = Teller::nothing;  ///< the column that would tell what is `untold`
    Cause cause = Cause::unexplained;    ///< the most probable
};

/// A limit as the log shows it, against its print.
struct LearnedLimit {
    Cause cause = Cause::power_limit;  ///< or `current_limit`
    std::size_t band = 0;              ///< … of which band
    double printed_value = 0.0;        ///< W or A
    double found_value = 0.0;          ///< as the log's meters show it
    double low_value = 0.0;            ///< 95 % of cases
    double high_value = 0.0;
    double hours_h = 0.0;  ///< spent at it

    /// True where the print lies outside the interval.
    [[nodiscard]] bool differs() const { return printed_value < low_value || printed_value > high_value; }
};

/// How far the log's sensors and the panels' curves are off each other, as far as rows that work tell.
struct LogBiases {
    double light_ratio = 0.0;  ///< true light is this share more than the sensor's
    double volts_ratio = 0.0;  ///< the log's volts are this share above the curves'
    double amps_ratio = 0.0;
};

/// What one part of the log's rows gave: those with charging from the wall, and those without.
struct LogPart {
    double logged_h = 0.0;
    double possible_wh = 0.0;
    double expected_wh = 0.0;
    double measured_wh = 0.0;
};

/// Times of day at which shade costs something on more than one day.
struct ShadeHours {
    double from_h = 0.0;
    double to_h = 0.0;
    std::size_t days = 0;
    double lost_wh = 0.0;
};

/// The shade that explains most of what shade took: so many groups, in light of this share of what the others get.
struct ShadeSeen {
    std::size_t groups = 0;
    std::size_t panels = 0;  ///< 0: part of a panel
    std::size_t strings = 0;
    double light_ratio = 0.0;
    double lost_wh = 0.0;
};

/// The account. label_wh − Σ lost_wh = measured_wh, but for rounding.
struct LogAccount {
    std::size_t rows = 0;
    std::size_t gaps = 0;
    double logged_h = 0.0;
    double gap_h = 0.0;  ///< between rows too far apart; not part of any sum
    double usual_step_s = 0.0;
    double label_wh = 0.0;
    double possible_wh = 0.0;
    double expected_wh = 0.0;
    double measured_wh = 0.0;
    ByCause<double> lost_wh{};
    ByCause<double> hours_h{};
    std::array<double, most_bands> band_wh{};
    std::array<double, most_bands> band_h{};
    double open_h = 0.0;  ///< hours in which the light is known to no better than a tenth of the label
    std::array<double, teller_count> untold_wh{};  ///< of `untold`, by the column that would tell
    std::vector<LearnedLimit> limits;
    LogBiases biases;
    LogPart with_wall;
    LogPart without_wall;
    std::vector<ShadeHours> shade_hours;
    std::optional<ShadeSeen> shade_seen;
    std::optional<double> fixed_v;  ///< the voltage a tracker holds
    std::size_t days = 0;           ///< with a row
    std::size_t irradiance_rows = 0;
    std::size_t turned_rows = 0;  ///< of them: turned from flat ground onto the plane
    std::size_t sun_rows = 0;     ///< whose light the sun bounds
    double night_wh = 0.0;        ///< measured with the sun down: place or clock is off
    std::size_t air_rows = 0;
    std::size_t panel_rows = 0;
    std::size_t voltage_rows = 0;
    std::size_t charge_rows = 0;
    std::size_t wall_rows = 0;
    /// The label's mean over the time that is logged.
    [[nodiscard]] double label_w() const { return logged_h > 0.0 ? label_wh / logged_h : 0.0; }
    [[nodiscard]] double of_label_ratio(double energy_wh) const { return label_wh > 0.0 ? energy_wh / label_wh : 0.0; }
    /// More than a hundredth of what was possible.
    [[nodiscard]] bool untold_matters(Teller by) const { return untold_wh[static_cast<std::size_t>(by)] > 0.01 * possible_wh; }
    /// Whether so much can be lost in so many hours, half a minute at least. Hours too few for an energy are not its hours: a
    /// cause may be probable in many rows and the likeliest in hardly one.
    [[nodiscard]] bool could_take(double energy_wh, double over_h) const {
        return 120.0 * over_h >= 1.0 && energy_wh <= over_h * label_w();
    }
};

/// Rows in, one at a time and in bounded memory; explained rows and the account out.
class LogExplainer {
public:
    /// `system` must outlive it. The wiring must not be empty.
    LogExplainer(const study::SystemModel& system, std::size_t input, const InputWiring& wiring, const LogAccuracy& accuracy);
    ~LogExplainer();
    LogExplainer(LogExplainer&&) noexcept;
    LogExplainer& operator=(LogExplainer&&) noexcept;

    /// Takes the next row. Explained rows come out some rows later, in `ready`; whoever wants them clears it.
    void add(const LogRow& row, std::vector<ExplainedRow>* ready);
    /// The last rows, and the account.
    [[nodiscard]] LogAccount finish(std::vector<ExplainedRow>* ready);

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Two rows further apart than this many usual steps are a gap. The usual step is the median of the first ones.
inline constexpr double gap_steps_factor = 3.0;

}  // namespace plait::measured
