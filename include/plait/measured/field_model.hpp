// What meters read at an array as it really stands: as planned, or with something wrong with it. The exact curves of
// physics/array_curve.hpp, in the weather of the moment.
#pragma once

#include <plait/model/measurement.hpp>
#include <plait/study/system_model.hpp>

#include <optional>
#include <span>
#include <vector>

namespace plait::measured {

struct FieldPanel {
    PanelPlace place;
    bool backward = false;           ///< its leads are swapped
    std::size_t shorted_groups = 0;  ///< bypass diodes that conduct for good, so that their cells give nothing

    friend bool operator==(const FieldPanel& a, const FieldPanel& b) {
        return a.place == b.place && a.backward == b.backward && a.shorted_groups == b.shorted_groups;
    }
};

struct FieldString {
    std::vector<FieldPanel> panels;
    bool blocking_diode = false;
    bool backward = false;                 ///< its two leads are swapped
    bool open = false;                     ///< a plug or wire does not make contact
    std::optional<std::size_t> joined_at;  ///< the input it is joined to, when not its own

    friend bool operator==(const FieldString& a, const FieldString& b) {
        return a.panels == b.panels && a.blocking_diode == b.blocking_diode && a.backward == b.backward &&
               a.open == b.open && a.joined_at == b.joined_at;
    }
};

/// How several inputs share what the controller can take: in proportion to what each would take alone [our choice, no
/// source].
struct SharedLimit {
    double limit_w = 0.0;   ///< of the controller, or what its charging current comes to
    double wanted_w = 0.0;  ///< what its inputs would take by themselves
};

/// Everything that the readings depend on, but for what was measured of the weather.
struct FieldState {
    std::vector<std::vector<FieldString>> inputs;
    double light_factor = 1.0;                ///< true irradiance over the one given
    double coefficient_shift_per_k = 0.0;     ///< true Voc coefficient minus the stated one …
    std::optional<std::size_t> shifted_kind;  ///< … of this kind
    double volts_shown_factor = 1.0;          ///< what the meter shows over the true volts: 1000 where mV are read as V
    double amps_shown_factor = 1.0;
};

[[nodiscard]] FieldState as_planned(const ArrayPlan& plan);

/// Irradiance and temperature as far as they are known.
struct FieldSky {
    double irradiance_w_per_m2 = 0.0;
    double irradiance_low_w_per_m2 = 0.0;  ///< 95 % of cases
    double irradiance_high_w_per_m2 = 0.0;
    std::optional<Celsius> air;  ///< absent when the cells' own temperature is given
    Celsius cell;                ///< of the first kind in use
    double temperature_k = 0.0;  ///< ± of the cells, 95 % of cases
    bool irradiance_given = false;
    bool temperature_given = false;

    [[nodiscard]] double dimmest_factor() const { return irradiance_low_w_per_m2 / irradiance_w_per_m2; }
    [[nodiscard]] double brightest_factor() const { return irradiance_high_w_per_m2 / irradiance_w_per_m2; }
};

/// Without an irradiance: between these, a dull day and the brightest.
inline constexpr double dullest_w_per_m2 = 200.0;
inline constexpr double brightest_w_per_m2 = 1100.0;

class FieldModel {
public:
    /// `system` must outlive the model. At least one input of the plan is used.
    FieldModel(const study::SystemModel& system, const ArrayPlan& plan, const FieldConditions& conditions);

    [[nodiscard]] const study::SystemModel& system() const { return *system_; }
    [[nodiscard]] const ArrayPlan& plan() const { return plan_; }
    [[nodiscard]] const FieldConditions& conditions() const { return given_; }
    [[nodiscard]] const FieldSky& sky() const { return sky_; }

    /// What meters at these places read, in V, A or W: a string's at its end of the string cables, the array's and the
    /// display's at the input's plug, behind all cables of the set-up. What several inputs share is shared out. Errors
    /// of the weather may be put in: true over given irradiance, and kelvins above the given temperature.
    [[nodiscard]] std::vector<double> readings(const FieldState& state, std::span<const ReadingPlace> places,
                                               double light_error_factor = 1.0, double warmer_k = 0.0) const;
    /// The open-circuit voltage of the plan's string, or of all strings of an input, with every cell at one
    /// temperature.
    [[nodiscard]] double voc_at_cell_v(ReadingPlace place, Celsius cell) const;
    /// What the input makes of its array as planned.
    [[nodiscard]] physics::OperatingPoint operating(std::size_t input) const;
    /// Where the inputs as planned want more together than the controller takes; empty where they do not.
    [[nodiscard]] std::optional<SharedLimit> shared_limit() const;
    /// Every place of one input: each string, the array, the display.
    [[nodiscard]] std::vector<ReadingPlace> places_of(std::size_t input) const;

private:
    struct Sun;    // one kind's physics and condition, as the state and the errors make it
    class Arrays;  // the arrays of a state
    [[nodiscard]] std::vector<Sun> suns(const FieldState& state, double light_error_factor, double warmer_k) const;
    [[nodiscard]] static std::vector<physics::SeriesPart> parts_of(const FieldString& string,
                                                                   const std::vector<Sun>& suns);

    const study::SystemModel* system_;
    ArrayPlan plan_;
    FieldConditions given_;
    FieldSky sky_;
};

}  // namespace plait::measured
