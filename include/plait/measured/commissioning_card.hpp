// The commissioning card: what every meter should read in the weather of the moment, and what a fault would make of it.
#pragma once

#include <plait/measured/fault.hpp>
#include <plait/measured/field_model.hpp>
#include <plait/study/judgement.hpp>

#include <cmath>
#include <vector>

namespace plait::measured {

/// One reading to come, with the four accuracies it hangs on, each as its own half width. They are independent, so the
/// band is their root sum of squares (JCGM 100:2008, 5.1.2).
struct Expectation {
    ReadingPlace place;
    double value = 0.0;               ///< V, A or W by the place
    double from_array_value = 0.0;    ///< the array against its datasheet
    double from_meter_value = 0.0;    ///< the meter, or the display
    double light_shift_value = 0.0;   ///< with more light by what the irradiance may be off, on the curve
    double warmth_shift_value = 0.0;  ///< with cells warmer by what their temperature may be off

    [[nodiscard]] double from_light_value() const { return std::abs(light_shift_value); }
    [[nodiscard]] double from_warmth_value() const { return std::abs(warmth_shift_value); }
    [[nodiscard]] double half_width_value() const;
    [[nodiscard]] double low_value() const { return value - half_width_value(); }
    [[nodiscard]] double high_value() const { return value + half_width_value(); }
    [[nodiscard]] bool holds(double reading_value) const {
        return reading_value >= low_value() && reading_value <= high_value();
    }
};

/// What the string and its input would read with one fault, in the order of `FieldModel::places_of` cut to that string.
struct FaultRow {
    const Fault* fault = nullptr;
    FaultPlace place;
    double amount_factor = 0.0;  ///< of a fault that comes in degrees: the one shown
    std::vector<double> values;
};

struct InputCard {
    std::size_t input = 0;
    std::vector<Expectation> expected;  ///< at `FieldModel::places_of`
    physics::OperatingPoint operating;
    std::vector<ReadingPlace> row_places;  ///< of the fault rows: the first string, the array, the display
    std::vector<FaultRow> rows;
    double cold_voc_v = 0.0;      ///< on the coldest morning, at the top of the tolerance: what the meter must stand
    double highest_isc_a = 0.0;   ///< of all strings under the brightest sky
    double string_v_per_k = 0.0;  ///< of the first string's open-circuit voltage
    int insulation_test_v = 0;    ///< IEC 62446-1: by Voc × 1.25
    double insulation_least_ohm = 0.0;
};

struct CommissioningCard {
    FieldConditions conditions;
    FieldSky sky;
    std::vector<InputCard> inputs;                            ///< used inputs
    std::optional<SharedLimit> shared;                        ///< where it holds them back
    study::Verdict plan_verdict;                             ///< what judging the plan says
    std::vector<study::Caution> cautions;
};

/// IEC 62446-1 practice [from memory]: too little light for a short-circuit test below this.
inline constexpr double least_isc_test_w_per_m2 = 400.0;

/// The card of a plan; at least one input must be used.
[[nodiscard]] CommissioningCard commissioning_card(const FieldModel& model);

/// One place's expectation.
[[nodiscard]] std::vector<Expectation> expectations(const FieldModel& model, const std::vector<ReadingPlace>& places);

/// Test voltage of an insulation test, V: 250 below 120 V, 500 up to 500 V, 1000 above, by Voc(STC) × 1.25. IEC 62446-1
/// [seen in public text].
[[nodiscard]] int insulation_test_v(double voc_stc_v);
/// The least resistance it must find, Ω: 0.5 MΩ below 120 V, else 1 MΩ. IEC 62446-1 [from memory].
[[nodiscard]] double insulation_least_ohm(double voc_stc_v);

}  // namespace plait::measured
