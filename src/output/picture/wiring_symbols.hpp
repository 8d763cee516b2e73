// The signs of the wiring drawing, each around its middle.
#pragma once

#include "svg.hpp"

namespace plait::output {

/// A box with the wire through it, 16 × 8, in a level wire.
void draw_fuse(Svg& svg, Spot at);
/// An arrow to the left with a bar at its tip, 9 × 10, in a level wire: current leaves a string at +.
void draw_diode(Svg& svg, Spot at);
/// Two strokes across a level or an upright wire: a run of cable.
void draw_cable_mark(Svg& svg, Spot at, bool upright);
/// An open blade in an upright wire that ends 8 above and begins again 8 below.
void draw_switch(Svg& svg, Spot at);

}  // namespace plait::output
