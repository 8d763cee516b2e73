// The wires of a plan as data.
#pragma once

#include "json_parts.hpp"

#include <plait/study/wire_sheet.hpp>

namespace plait::output {

/// One input's cables, fuses, connectors and disconnect.
[[nodiscard]] Json wires_json(const Setup& setup, const study::WireSheet& sheet);
/// The battery's side; null without a battery.
[[nodiscard]] Json battery_json(const Setup& setup, const study::BatterySheet& sheet);
/// What the cables do at one operating point; null without cables.
[[nodiscard]] Json cable_effect_json(const rules::ConditionPoint& point);

}  // namespace plait::output
