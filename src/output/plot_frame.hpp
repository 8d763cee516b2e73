// Axes: from quantities to places on the picture.
#pragma once

#include "svg.hpp"

#include <cstddef>

namespace plait::output {

/// A round step (1, 2 or 5 times a power of ten) that makes about `wanted` steps of `most`.
[[nodiscard]] double round_step(double most, double wanted);

/// A rectangle of a picture with volts across from 0, and something upwards from 0.
struct Frame {
    double left = 36.0;
    double top = 20.0;
    double width = 0.0;
    double height = 0.0;
    double most_v = 1.0;
    double most_y = 1.0;

    [[nodiscard]] Spot at(double voltage_v, double y) const {
        return {left + width * voltage_v / most_v, top + height * (1.0 - y / most_y)};
    }
    [[nodiscard]] double bottom() const { return top + height; }
    [[nodiscard]] double right() const { return left + width; }
};

/// Axes with round numbers, the grid, and what they count.
void draw_axes(Svg& svg, const Frame& frame, std::string_view across, std::string_view upwards);

/// Cut to so many characters, with "…" where something is missing.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most);

}  // namespace plait::output
