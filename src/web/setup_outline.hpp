// What the page draws and lets drag: the set-up as it was read, the map of every input and the verdict, as data.
#pragma once

#include <plait/input/read_setup.hpp>

#include <string>

namespace plait::web {

/// JSON. `{"complaints":[{file,line,column,message}]}` of a set-up that cannot be read; else
/// `{"setup":…,"maps":[…],"answer":…}` with volts, amps, watts and °C. A map has its input's window and, where the plan uses
/// the input, the wiring's track. The answer is `output::answer`; null without a wiring, and where `check` would refuse.
/// The plan is the file's own [wiring]; without one every input is empty.
[[nodiscard]] std::string setup_outline(const std::string& file, const input::ReadFile& read_file);

}  // namespace plait::web
