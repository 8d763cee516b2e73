// Axes: from quantities to places on the picture.
#pragma once

#include <plait/output/picture.hpp>

#include "svg.hpp"

#include <cstddef>

namespace plait::output {

/// A round step (1, 2 or 5 times a power of ten) that makes about `wanted` steps of `most`.
[[nodiscard]] double round_step(double most, double wanted);

/// The first multiple of `step` from `least` on, counted in steps.
[[nodiscard]] double first_step(double least, double step);

/// A rectangle of a picture with volts (or what `draw_axes` is told) across, and something upwards; both from 0 unless
/// said.
struct Frame {
    double left = 36.0;
    double top = 20.0;
    double width = 0.0;
    double height = 0.0;
    double most_v = 1.0;
    double most_y = 1.0;
    double least_v = 0.0;
    double least_y = 0.0;

    [[nodiscard]] Spot at(double voltage_v, double y) const {
        return {left + width * (voltage_v - least_v) / (most_v - least_v),
                top + height * (1.0 - (y - least_y) / (most_y - least_y))};
    }
    [[nodiscard]] double bottom() const { return top + height; }
    [[nodiscard]] double right() const { return left + width; }
};

/// Axes with round numbers, the grid, and what they count.
void draw_axes(Svg& svg, const Frame& frame, std::string_view across, std::string_view upwards);

/// How wide words are, in the picture's units: a guess on the wide side, by the widest font the style names.
[[nodiscard]] double wide(std::string_view text, double size, bool bold = false);

/// Cut to what fits, with "…" where something is missing. Sizes: 9.5 small, 11 otherwise.
[[nodiscard]] std::string fitting(std::string_view text, double most_wide, double size = 9.5, bool bold = false);

/// Cut to so many characters, with "…" where something is missing.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most);

/// The picture for its use; one that goes its own way carries the plan's verdict.
[[nodiscard]] std::string finished(Svg& svg, const Setup& setup, const study::Verdict& plan, PictureUse use);

}  // namespace plait::output
