// What a command line says of charging a battery: how full, from what on, with what from the wall; and of clocks.
// `where` names the text in messages, such as "--from".
#pragma once

#include <plait/base/result.hpp>

#include <optional>
#include <string>
#include <string_view>

namespace plait::input {

/// "20 %", 20, "full", "empty": as a ratio. A number below 1 without its % is refused.
[[nodiscard]] Result<double> read_charge_ratio(std::string_view text, const std::string& where);

/// "600 W", "1.2 kW", 600: 0.1 to 1000000 W; empty for "none" and 0.
[[nodiscard]] Result<std::optional<double>> read_wall_power_w(std::string_view text, const std::string& where);

/// "18:30", "7", "7.5": hours since midnight, below 24.
[[nodiscard]] Result<double> read_time_of_day_h(std::string_view text, const std::string& where);

/// "3 min", "-40 s", "1 h", 90 (seconds): seconds, at most a day either way.
[[nodiscard]] Result<double> read_clock_offset_s(std::string_view text, const std::string& where);

}  // namespace plait::input
