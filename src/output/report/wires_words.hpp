// The wires of a plan in sentences and tables that text and page share.
#pragma once

#include <plait/study/judgement.hpp>

#include "render/table_words.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

inline constexpr std::string_view wires_heading = "The wires";
inline constexpr std::string_view battery_heading = "Battery side";
/// Size, length, resistance, drop and ampacity, a row for each cable.
[[nodiscard]] TableWords cable_table(const Setup& setup, const std::vector<rules::CableFigures>& cables);
/// The smallest sizes that would do for one of them.
[[nodiscard]] std::string smallest_sentence(const rules::CableFigures& cable);
/// What stays in an input's cables, and what must stand its voltage and break its current.
[[nodiscard]] std::string wires_sentence(const study::WireSheet& sheet);
/// Of the battery's side; only where a current is known.
[[nodiscard]] std::string battery_sentence(const study::BatterySheet& sheet);

}  // namespace plait::output
