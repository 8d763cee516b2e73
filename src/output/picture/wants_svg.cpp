// An input's window before any panel is chosen.
#include <plait/output/match.hpp>
#include <plait/study/window_map.hpp>

#include "plot_frame.hpp"
#include "render/style.hpp"
#include "window_shapes.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace plait::output {
namespace {

constexpr double width = 360.0;

/// From one voltage to another, below the axis.
void draw_span(Svg& svg, const Frame& f, double from_v, double to_v, double y, std::string_view words) {
    const double left = f.at(from_v, 0.0).x;
    const double right = f.at(std::min(to_v, f.most_v), 0.0).x;
    svg.line({left, y}, {right, y}, "path");
    svg.line({left, y - 4.0}, {left, y + 4.0}, "cap");
    if (to_v <= f.most_v) svg.line({right, y - 4.0}, {right, y + 4.0}, "cap");
    svg.text({f.left, y + 13.0}, words, "small");
}

}  // namespace

std::string wants_svg(const Setup& bare, const study::InputWants& wants, PictureUse use) {
    const Input& input = bare.controller.inputs[wants.input];
    const study::SystemModel system(bare);
    const study::WindowMap map = study::window_map(system, wants.input, {});
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 170.0;
    f.most_v = map.top_v > 0.0 ? map.top_v : 1.0;
    f.most_y = map.top_a;
    const std::optional<double> room_v = wants.silicon_voc_v();
    const study::BandVolts* band = wants.best_band ? &wants.bands[*wants.best_band] : nullptr;
    const std::string of_voc = !room_v ? std::string("label Voc of a string: the maximum is not known")
                                               : fmt::format("label Voc of a string: {} to {}, any usual silicon", volts(wants.start_voc_v), volts(*room_v));
    std::string of_vmp;
    if (band != nullptr) {
        of_vmp = fmt::format("label Vmp of a string: {} to {}, for {}", volts(band->from_v), std::isfinite(band->to_v) ? volts(band->to_v) : "any",
                             std::isfinite(band->band.limit_a) ? amps(band->band.limit_a) : "all its current");
    }
    const double spans_y = f.bottom() + 40.0;
    Svg svg(width, spans_y + 66.0, fmt::format("wants-{}", wants.input), fmt::format("What input {} wants", input.name),
            of_voc + ". " + of_vmp + (of_vmp.empty() ? "" : ".") +
                (map.max_voltage_v ? fmt::format(" It must never see more than {}.", volts(*map.max_voltage_v)) : " Nobody knows how much voltage it bears."));
    draw_axes(svg, f, "volts", "amps");
    draw_regions(svg, f, map);
    if (!map.current_is_limited) svg.text({f.left + 4.0, f.top + 20.0}, "no current limit stated", "small soft");
    if (map.max_voltage_v) draw_never(svg, f, *map.max_voltage_v);
    if (room_v && *room_v >= wants.start_voc_v) draw_span(svg, f, wants.start_voc_v, *room_v, spans_y, of_voc);
    if (!room_v) svg.text({f.left, spans_y + 13.0}, of_voc, "small");
    if (band != nullptr) draw_span(svg, f, band->from_v, band->to_v, spans_y + 26.0, of_vmp);
    svg.text({6.0, spans_y + 56.0}, "label: as the datasheet has it, at 25 °C; tinted: what it takes", "small soft");
    if (use == PictureUse::on_page) return svg.inner();
    svg.foot(Tone::plain, "");
    return svg.file();
}

}  // namespace plait::output
