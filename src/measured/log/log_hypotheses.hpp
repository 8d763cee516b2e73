// One row of a log against every hypothesis: what it predicts, how probable the row is under it, what it costs.
#pragma once

#include "card/condition_table.hpp"
#include "log_calibration.hpp"

#include <unordered_map>
#include <vector>

namespace plait::measured {

/// How far a temperature that nobody measured is from the one the site's warm day and mounting would give.
inline constexpr double unknown_temperature_sd_k = 12.0;

class RowModel {
public:
    RowModel(const study::SystemModel& system, std::size_t input, const InputWiring& wiring, const LogAccuracy& accuracy);

    /// Fills everything but `hours_s`. `step_s`: since the row before; infinite at the start.
    void explain(const LogRow& row, double step_s, ExplainedRow& out);

    /// Irradiance and cell temperature at which the array's own maximum is at these volts and amps: two equations, two
    /// unknowns. Empty where there is no such weather.
    [[nodiscard]] std::optional<physics::Condition> weather_of_maximum(double voltage_v, double current_a);

private:
    // Beside these, one hypothesis for each faulty variant.
    enum Hypothesis : std::size_t {
        works,
        waiting,
        tripped,
        battery,  // slows down
        stopped,  // … or takes nothing any more
        wall,
        display,
        shaded,
        unexplained,
        faults,
    };
    static constexpr std::size_t hypothesis_count = faults + most_variants - 1;
    using Weights = std::array<double, hypothesis_count>;

    /// What the meters say, less what is known of their biases.
    struct Seen {
        double voltage_v = 0.0;
        double current_a = 0.0;
        double power_w = 0.0;
        bool volts = false;
        double volt_var = 0.0;  // of the meters, without what lasts
        double amp_var = 0.0;
        double watt_var = 0.0;
    };
    struct Predicted {
        Spot voltage_v;
        Spot current_a;
        // How far they may be off, the meters' own noise aside.
        double var_v = 0.0;
        double var_a = 0.0;
        double covariance = 0.0;

        [[nodiscard]] double power_w() const { return voltage_v.value * current_a.value; }
        [[nodiscard]] Slope volt_slope() const { return {voltage_v.per_w_m2, voltage_v.per_k, voltage_v.value, 0.0}; }
        [[nodiscard]] Slope amp_slope() const { return {current_a.per_w_m2, current_a.per_k, 0.0, current_a.value}; }
        [[nodiscard]] double watt_var() const {
            const double v = voltage_v.value;
            const double i = current_a.value;
            return i * i * var_v + v * v * var_a + 2.0 * v * i * covariance;
        }
    };
    /// What a row would lose, and where, in one weather.
    struct Yield {
        double irradiance_w_per_m2 = 0.0;
        Celsius cell;
        double free_w = 0.0;
        double cool_w = 0.0;
        double cableless_w = 0.0;
        double held_w = 0.0;
        double held_v = 0.0;
        Cause limit = Cause::less_light;
        Cause end = Cause::less_light;
        std::size_t band = 0;
    };
    /// The array and the input in one weather, with how far that is known.
    struct Local {
        Yield yield;
        BiasCovariance covariance;
        double prior_ratio = 1.0;  // of this weather among those that may be
        Spot open_v;
        double open_var = 0.0;
        std::array<Predicted, most_variants> held{};
        std::array<double, locus_points> locus_v{};
        bool drawing = false;
    };
    struct Entry {  // a hypothesis in one weather
        std::size_t hypothesis = 0;
        const Local* local = nullptr;
        double density = 0.0;
    };

    [[nodiscard]] Seen seen_in(const LogRow& row, bool light_known) const;
    [[nodiscard]] Local local_at(double irradiance_w_per_m2, Celsius cell, const BiasCovariance& covariance);
    [[nodiscard]] static Yield yield_at(const ConditionTable::Place& place, double irradiance_w_per_m2, Celsius cell);
    [[nodiscard]] Local measured_weather(const LogRow& row);
    /// The share of time spent in each, for all that one row says.
    [[nodiscard]] Weights priors(const LogRow& row, bool light_known) const;
    [[nodiscard]] double mean_rise_k(double irradiance_w_per_m2) const;

    [[nodiscard]] static double held_density(const Predicted& p, const Seen& s);
    [[nodiscard]] static double off_density(const Local& l, const Seen& s);
    [[nodiscard]] static double battery_density(const Local& l, const Seen& s);
    [[nodiscard]] double wall_density(const Local& l, const Seen& s, double wall_w) const;
    [[nodiscard]] double shade_density(const Local& l, const Seen& s);
    [[nodiscard]] double display_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double waiting_density(const Local& l, const Seen& s) const;
    [[nodiscard]] static double locus_density(const Local& l, const Seen& s);

    void weigh_in(const Local& l, const Seen& s, const LogRow& row, bool light_known);
    const std::vector<Local>& weathers(const LogRow& row);
    [[nodiscard]] Weights expected_weights(const Weights& prior, double step_s);
    [[nodiscard]] Cause decided_by(const Yield& y) const;
    [[nodiscard]] Cause cause_of(std::size_t hypothesis) const;
    [[nodiscard]] static Surprise surprise_at(const Predicted& p, const Seen& s);
    /// The weather that a row makes probable, given that the array is in this state.
    [[nodiscard]] Yield learned_yield(const Local& l, const Predicted& p, const Seen& s);
    /// Bayes' rule over the entries.
    [[nodiscard]] Weights posterior(const Weights& before);
    void attribute(const Seen& s, bool light_known, ExplainedRow& out);
    void refine(const Seen& s, ExplainedRow& out);

    const study::SystemModel* system_;
    std::size_t input_;
    LogAccuracy accuracy_;
    ConditionTable table_;
    double label_w_ = 0.0;
    double label_v_ = 0.0;
    double label_a_ = 0.0;
    std::vector<double> kind_share_;
    LogCalibration calibration_;
    Weights last_{};     // of the row before
    Weights like_{};     // of this row under each
    Weights staying_{};  // over the last step
    double staying_step_s_ = -1.0;
    std::vector<Entry> entries_;
    Local here_;
    std::unordered_map<int, std::vector<Local>> weathers_;  // by temperature, where the light is not measured
};

}  // namespace plait::measured
