#include "wiring_symbols.hpp"

namespace plait::output {

void draw_fuse(Svg& svg, Spot at) {
    svg.rect({at.x - 8.0, at.y - 4.0}, 16.0, 8.0, "fuse");
    svg.line({at.x - 8.0, at.y}, {at.x + 8.0, at.y}, "wire");
}

void draw_diode(Svg& svg, Spot at) {
    svg.polygon({{at.x + 4.5, at.y - 5.0}, {at.x + 4.5, at.y + 5.0}, {at.x - 4.5, at.y}}, "joint");
    svg.line({at.x - 4.5, at.y - 5.0}, {at.x - 4.5, at.y + 5.0}, "wire");
}

void draw_cable_mark(Svg& svg, Spot at, bool upright) {
    for (const double shift : {-1.5, 1.5}) {
        if (upright) {
            svg.line({at.x - 4.0, at.y + shift + 2.0}, {at.x + 4.0, at.y + shift - 2.0}, "wire");
        } else {
            svg.line({at.x + shift - 2.0, at.y + 4.0}, {at.x + shift + 2.0, at.y - 4.0}, "wire");
        }
    }
}

void draw_switch(Svg& svg, Spot at) {
    svg.circle({at.x, at.y - 8.0}, 2.0, "joint");
    svg.circle({at.x, at.y + 8.0}, 2.0, "joint");
    svg.line({at.x, at.y + 8.0}, {at.x + 8.0, at.y - 7.0}, "wire");
}

}  // namespace plait::output
