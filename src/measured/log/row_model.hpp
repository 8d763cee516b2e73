// One row of a log against every hypothesis: what it predicts, how probable the row is under it, what it would cost.
#pragma once

#include "condition_table.hpp"
#include "log_calibration.hpp"
#include "row_states.hpp"
#include "shade_table.hpp"

#include <memory>
#include <unordered_map>
#include <vector>

namespace plait::measured {

class RowModel {
public:
    RowModel(const study::SystemModel& system, std::size_t input, const InputWiring& wiring,
             const LogAccuracy& accuracy);

    /// Fills `out` but for `ahead`, and adds to `accounts` what its hypotheses would cost. `out` has its row and steps.
    void explain(RowEvidence& out, std::vector<StateAccount>& accounts);
    /// The same, thereafter to learn from the row in as far as everything works in it.
    void learn(const RowEvidence& row, double works_ratio);
    /// Rows before are not the rows before any more.
    void forget_rows();
    /// Time goes by.
    void forget(double step_s);

    /// Solves the window anew where limits were learned that are not those it was solved with. True where it did.
    bool take_in_limits();

    /// What the sensors and limits are taken to be off, to be put back.
    struct Learned {
        LogCalibration calibration;
        LimitFactor power;
        LimitFactor low_v;   // where the window begins
        LimitFactor high_v;  // … and ends
        std::vector<LimitFactor> bands;

        /// Where the limits lie, though not how sure that is.
        void keep_limits_of(const Learned& other);
    };
    [[nodiscard]] const Learned& learned() const { return learned_; }
    void put_back(const Learned& learned) { learned_ = learned; }

    [[nodiscard]] double label_w() const { return label_w_; }
    [[nodiscard]] const std::vector<ShadeFamily>& families();
    [[nodiscard]] Cause cause_of(RowState state) const;
    [[nodiscard]] const physics::AcceptanceWindow& printed() const { return printed_; }
    /// The voltage that the rows before held, where they held one.
    [[nodiscard]] double steady_v() const { return steady_.mean_v; }

    /// Irradiance and cell temperature at which the array's own maximum is at these volts and amps: two equations, two
    /// unknowns. Empty where there is no such weather.
    [[nodiscard]] std::optional<physics::Condition> weather_of_maximum(double voltage_v, double current_a);
    /// The account of a row whose weather is known.
    [[nodiscard]] StateAccount account_at(double irradiance_w_per_m2, Celsius cell);

private:
    /// What the meters say, less what is known of their biases.
    struct Seen {
        double voltage_v = 0.0;
        double current_a = 0.0;
        double power_w = 0.0;
        bool volts = false;
        bool nothing = false;  ///< no current to speak of
        double volt_var = 0.0;  // of the meters, without what lasts
        double amp_var = 0.0;
        double watt_var = 0.0;
    };
    struct Predicted {
        double voltage_v = 0.0;
        double current_a = 0.0;
        Slope volt_slope = Slope::Zero();
        Slope amp_slope = Slope::Zero();
        // How far they may be off, the meters' own noise aside.
        double var_v = 0.0;
        double var_a = 0.0;
        double covariance = 0.0;

        [[nodiscard]] double power_w() const { return voltage_v * current_a; }
        [[nodiscard]] double watt_var() const {
            return current_a * current_a * var_v + voltage_v * voltage_v * var_a +
                   2.0 * voltage_v * current_a * covariance;
        }
    };
    /// The array and the input in one weather, with how far that is known.
    struct Local {
        StateAccount account;
        Cause limit = Cause::less_light;
        Cause end = Cause::less_light;
        std::size_t end_band = 0;
        double sd_k = 1.0;
        BiasCovariance covariance;
        double prior_ratio = 1.0;  // of this weather among those that may be
        double open_v = 0.0;
        double open_var = 0.0;
        Predicted held;
        Predicted top;
        std::array<double, right_points> right_v{};
        std::array<double, left_points> left_a{};
        bool drawing = false;
    };
    /// What rows before say of this one.
    struct Before {
        bool known = false;
        double power_w = 0.0;
        double drawing_w = 0.0;  // what could be drawn then
        // By family: the most probable degree then, and how sure it was of that family; where the input is at the best
        // of its maxima, and where it is at the other.
        std::vector<float> degree;
        std::vector<float> sure;
        std::vector<float> local_degree;
        std::vector<float> local_sure;

        void clear() {
            known = false;
            for (std::vector<float>* of : {&degree, &sure, &local_degree, &local_sure}) of->clear();
        }
    };
    struct Steady {  // volts that stay
        double mean_v = 0.0;
        double lasted_s = 0.0;
        bool known = false;
    };
    static constexpr std::size_t lag_count = 5;
    /// One cause's density, as it is summed up.
    using Density = ByState<double>;

    [[nodiscard]] Seen seen_in(const LogRow& row, double irradiance_w_per_m2, bool light_known) const;
    [[nodiscard]] Local local_at(double irradiance_w_per_m2, Celsius cell, double sd_k, BiasCovariance covariance);
    void fill_account(const ConditionTable::Place& place, double irradiance_w_per_m2, Celsius cell, StateAccount& to);
    [[nodiscard]] Predicted predicted(const ConditionTable::Place& place, HeldAt Solved::* at, const Local& l) const;
    void loosen_limit(const ConditionTable::Place& place, Local& l) const;
    /// The factor of the limit that holds the array, and that which the table was solved with; null: none does.
    [[nodiscard]] const LimitFactor* factor_of(Cause end, std::size_t band) const;
    [[nodiscard]] LimitFactor* factor_of(Cause end, std::size_t band);
    [[nodiscard]] double solved_with(Cause end, std::size_t band) const;
    [[nodiscard]] RowPriors priors_of(const LogRow& row) const;
    [[nodiscard]] double mean_rise_k(double irradiance_w_per_m2) const;
    [[nodiscard]] Cause decided_by(const StateAccount& a, Cause limit, Cause end) const;

    // Densities of readings, per volt and ampere, or per watt where volts are not there.
    [[nodiscard]] static double held_density(const Predicted& p, const Seen& s);
    /// How sure it is that what is to be had is less than the display shows.
    [[nodiscard]] double hidden_ratio(const Local& l) const;
    [[nodiscard]] double off_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double slowing_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double wall_density(const Local& l, const Seen& s, double wall_w, bool& holds) const;
    [[nodiscard]] double display_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double waiting_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double right_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double right_volts(const Local& l, double share) const;
    [[nodiscard]] double share_at(const Local& l, double voltage_v) const;
    [[nodiscard]] double fixed_density(const Local& l, const Seen& s) const;
    [[nodiscard]] double asked_density(const Local& l, const Seen& s, double asked_a) const;
    [[nodiscard]] double slow_density(const Local& l, const Seen& s, double step_s, bool& lags);
    void shade_densities(const Local& l, const Seen& s, Density& to, RowEvidence& out);
    [[nodiscard]] double unexplained_density(const Seen& s) const;

    void measured_light(RowEvidence& out, std::vector<StateAccount>& accounts);
    void unmeasured_light(RowEvidence& out, std::vector<StateAccount>& accounts);
    [[nodiscard]] const std::vector<Local>& weathers(const LogRow& row);
    void remember(const Local& l, const Seen& s, double step_s);
    static void temper(const Density& density, double step_s, double trust_ratio, RowEvidence& out);
    [[nodiscard]] static Surprise surprise_at(const Predicted& p, const Seen& s);

    const study::SystemModel* system_;
    std::size_t input_;
    LogAccuracy accuracy_;
    physics::AcceptanceWindow printed_;
    WiredInput wired_;
    std::unique_ptr<ConditionTable> table_;
    std::unique_ptr<ShadeTable> shades_;
    ShadeRoom shade_room_;
    Learned learned_;
    double power_factor_ = 1.0;  // of the limits the table was solved with
    double low_factor_ = 1.0;
    double high_factor_ = 1.0;
    std::vector<double> band_factor_;
    double label_w_ = 0.0;
    double label_v_ = 0.0;
    double label_a_ = 0.0;
    std::vector<double> kind_share_;
    // Of the last row explained.
    Local here_;
    Seen seen_;
    bool here_known_ = false;
    Before before_;
    Before after_;  // what this row will be to the next
    Steady steady_;
    Steady floor_;  // volts to which a slow tracker falls
    std::array<double, lag_count> lagging_a_{};
    std::array<double, lag_count> lag_weight_{};
    bool lagging_known_ = false;
    std::unordered_map<int, std::vector<Local>> weathers_;  // by temperature, where the light is not measured
};

}  // namespace plait::measured
