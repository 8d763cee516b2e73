// What a command line says of the weather and of voltages, with the units and the complaints of the set-up file. A
// plain number is in W/m² or V; a temperature must carry its unit. `where` names the text in messages, such as "--sun".
#pragma once

#include <plait/base/result.hpp>
#include <plait/base/temperature.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::input {

/// "800", "800 W/m²", "0.8 kW/m²": 0 to 2000 W/m².
[[nodiscard]] Result<double> read_irradiance(std::string_view text, const std::string& where);

/// "-12 °C", "14 °F", "300 K": −60 to 100 °C.
[[nodiscard]] Result<Celsius> read_temperature(std::string_view text, const std::string& where);

/// "10, 20.5, 30 V", separated by commas: each 0 to 3000 V, at most 10001 of them.
[[nodiscard]] Result<std::vector<double>> read_voltages(std::string_view text, const std::string& where);

}  // namespace plait::input
