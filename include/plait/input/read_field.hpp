// What a person types about a measurement: the weather, how good the instruments are, and the readings.
#pragma once

#include <plait/base/result.hpp>
#include <plait/model/measurement.hpp>
#include <plait/model/setup.hpp>

#include <optional>
#include <string>
#include <vector>

namespace plait::input {

/// Texts as typed behind --air, --cell, --sun and so on.
struct FieldTexts {
    std::optional<std::string> air;                   ///< °C unless it says otherwise
    std::optional<std::string> cell;                  ///< °C
    std::optional<std::string> sun;                   ///< W/m²
    std::optional<std::string> meter_accuracy;        ///< %
    std::optional<std::string> display_accuracy;      ///< %
    std::optional<std::string> sun_accuracy;          ///< %
    std::optional<std::string> temperature_accuracy;  ///< K
};

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
