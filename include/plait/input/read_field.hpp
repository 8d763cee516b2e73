// What a person types about a measurement: the weather, how good the instruments are, and the readings.
#pragma once

#include <plait/base/result.hpp>
#include <plait/model/measurement.hpp>
#include <plait/model/setup.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

/// Texts as typed behind --air, --cell, --sun and so on.
struct FieldTexts {
    std::optional<std::string> air;                   ///< with its unit
    std::optional<std::string> cell;                  ///< with its unit
    std::optional<std::string> sun;                   ///< W/m²
    std::optional<std::string> meter_accuracy;        ///< %
    std::optional<std::string> display_accuracy;      ///< %
    std::optional<std::string> sun_accuracy;          ///< %
    std::optional<std::string> temperature_accuracy;  ///< K
};

/// What a number behind an option means, and how far it may go.
enum class OptionNumber {
    accuracy,                 ///< 0 … 20 %
    deviation,                ///< a standard deviation, 0.01 … 50 %
    temperature_deviation_k,  ///< 0.01 … 30 K
    least_shown_w,            ///< 0.01 … 1000 W
    supply_limit_a,           ///< 0.001 … 1000 A
    amps_step_a,              ///< 0.0001 … 10 A
    watts_step_w,             ///< 0.001 … 1000 W
};

/// A number behind an option, with its unit or without: shares as ratios, the rest in K, W and A. A share below 1
/// without its % is refused, as it could be meant either way; so is what is no number or out of range.
[[nodiscard]] Result<double> read_option_number(std::string_view text, const std::string& option, OptionNumber meaning);

/// Weather and accuracies: air and cells −60 … 60 °C and −60 … 100 °C, irradiance 20 … 1500 W/m², accuracies 0 … 20 %
/// and 0 … 20 K. Fails with every complaint at once; the "file" of each is the option.
[[nodiscard]] Result<FieldConditions> read_field_conditions(const FieldTexts& texts);

/// Readings such as "string 1 voc 61.2 V", "PV2 array isc 9.1 A", "PV1 display 58 V", one a text: at a place of the
/// plan, each place once. The input's name may be left out where only one is used. Fails with every complaint at once;
/// line n of the file `where` is the n-th text.
[[nodiscard]] Result<std::vector<MeterReading>> read_readings(const std::vector<std::string>& texts,
                                                              const std::string& where, const Setup& setup,
                                                              const ArrayPlan& plan);

}  // namespace plait::input
