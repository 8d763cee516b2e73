// The wires of a plan in sentences and tables that text and page share.
#pragma once

#include <plait/study/judgement.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

inline constexpr std::string_view battery_heading = "Battery side";
/// Size, length, resistance, drop, ampacity and the smallest sizes that would do, a row for each cable.
[[nodiscard]] Table cable_table(const Setup& setup, const std::vector<rules::CableFigures>& cables);
/// What stays in an input's cables, and what must stand its voltage and break its current.
[[nodiscard]] std::string wires_sentence(const study::WireSheet& sheet);
/// Of the battery's side; only where a current is known.
[[nodiscard]] std::string battery_sentence(const study::BatterySheet& sheet);

}  // namespace plait::output
