// The shapes of an input's window: what it takes, and the line never to cross.
#pragma once

#include <plait/study/window_map.hpp>

#include "plot_frame.hpp"
#include "svg.hpp"

namespace plait::output {

/// Where the input takes something, tinted and with an edge.
void draw_regions(Svg& svg, const Frame& frame, const study::WindowMap& map);
/// The absolute maximum, hatched beyond.
void draw_never(Svg& svg, const Frame& frame, double max_voltage_v);

}  // namespace plait::output
