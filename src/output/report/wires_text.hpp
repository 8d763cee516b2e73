// The wires of a plan in words.
#pragma once

#include "render/style.hpp"

namespace plait::output {

/// One input's cables and fuses; empty if there is nothing to say.
[[nodiscard]] std::string wires_text(const Setup& setup, const study::InputJudgement& one, Colour colour);
/// The battery's side; empty without cables there.
[[nodiscard]] std::string battery_text(const Setup& setup, const study::BatterySheet& sheet, Colour colour);

}  // namespace plait::output
