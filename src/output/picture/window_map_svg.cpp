#include <plait/output/picture.hpp>
#include <plait/study/window_map.hpp>

#include "label_places.hpp"
#include "plot_frame.hpp"
#include "render/style.hpp"
#include "render/tone.hpp"
#include "report/verdict_words.hpp"
#include "window_shapes.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

constexpr double width = 360.0;

/// The verdict as a shape: dot, ring with a cross, flat-topped box, triangle on its tip, diamond, cross.
void draw_verdict(Svg& svg, Spot at, Tone tone) {
    constexpr double r = 4.5;
    const std::string_view css = css_of(tone);
    switch (tone) {
        case Tone::plain:
        case Tone::good:
            svg.circle(at, r, css);
            break;
        case Tone::needs:
            svg.circle(at, r, css);
            svg.line({at.x - r, at.y}, {at.x + r, at.y}, css);
            svg.line({at.x, at.y - r}, {at.x, at.y + r}, css);
            break;
        case Tone::clips:
            svg.rect({at.x - r, at.y - r + 1.0}, 2.0 * r, 2.0 * r - 1.0, css);
            svg.line({at.x - r - 3.0, at.y - r + 1.0}, {at.x + r + 3.0, at.y - r + 1.0}, css);
            break;
        case Tone::falls_short:
            svg.polygon({{at.x - r, at.y - r}, {at.x + r, at.y - r}, {at.x, at.y + r}}, css);
            break;
        case Tone::doubtful:
            svg.polygon({{at.x - r, at.y}, {at.x, at.y - r - 1.0}, {at.x + r, at.y}, {at.x, at.y + r + 1.0}}, css);
            break;
        case Tone::exceeds:
            svg.line({at.x - r, at.y - r}, {at.x + r, at.y + r}, css);
            svg.line({at.x - r, at.y + r}, {at.x + r, at.y - r}, css);
            break;
    }
}

/// Where a wiring's verdict stands: where the input holds it in full sun on a warm day; without such a point at the
/// voltage it reaches open on the coldest morning.
Spot mark_of(const Frame& f, const study::MapTrack& t) {
    if (t.path.empty()) return f.at(t.cold_voc_v, 0.0);
    const physics::PowerPoint& p = t.path[t.path.size() > 1 ? t.path.size() - 2 : 0];
    return f.at(p.voltage_v, p.current_a);
}

void draw_track(Svg& svg, const Frame& f, const study::MapTrack& t, std::size_t i,
                const std::optional<double>& max_voltage_v) {
    svg.open(fmt::format("class=\"track\" data-track=\"{}\" data-verdict=\"{}\" data-cold-v=\"{:.6g}\"", i,
                         name_of(t.verdict), t.cold_voc_v));
    std::vector<Spot> curve;
    for (const physics::PowerPoint& p : t.curve) curve.push_back(f.at(p.voltage_v, p.current_a));
    svg.polyline(curve, "curve");
    std::vector<Spot> path;
    for (const physics::PowerPoint& p : t.path) path.push_back(f.at(p.voltage_v, p.current_a));
    if (path.size() > 1) svg.polyline(path, "path");
    const Spot mark = mark_of(f, t);
    const Spot end = f.at(t.cold_voc_v, 0.0);
    std::vector<Spot> whisker{path.empty() ? f.at(t.curve.back().voltage_v, 0.0) : mark};
    if (t.cold_point.power_w() > 0.0) whisker.push_back(f.at(t.cold_point.voltage_v, t.cold_point.current_a));
    whisker.push_back(end);
    svg.polyline(whisker, "whisker");
    if (max_voltage_v && t.cold_voc_v > *max_voltage_v) {
        // Beyond the line: the whisker ends in a cross of its own.
        const Spot at{end.x, end.y - 5.0};
        draw_verdict(svg, at, Tone::exceeds);
    } else {
        svg.line({end.x, end.y - 8.0}, {end.x, end.y}, "cap");
    }
    draw_verdict(svg, mark, tone_of(t.verdict));
    svg.close();
}

/// Letter and verdict beside each mark, none on another.
void draw_labels(Svg& svg, const Frame& f, const study::WindowMap& map) {
    LabelPlaces places({f.left + 1.0, f.top + 12.0, width - 2.0, f.bottom() - 1.0});
    for (const study::MapTrack& t : map.tracks) {
        const Spot m = mark_of(f, t);
        places.take({m.x - 7.0, m.y - 6.0, m.x + 7.0, m.y + 6.0});
    }
    if (map.max_voltage_v) {
        const double never_x = f.at(*map.max_voltage_v, 0.0).x;
        places.take({never_x - 3.0, f.top, never_x + 3.0, f.bottom()});
    }
    if (!map.current_is_limited) places.take({f.left, f.top, f.left + 140.0, f.top + 24.0});
    for (std::size_t i = 0; i < map.tracks.size(); ++i) {
        const study::MapTrack& t = map.tracks[i];
        const std::string words = t.name.empty() ? word_of(t.verdict) : t.name + " " + word_of(t.verdict);
        svg.text(places.place(mark_of(f, map.tracks[i]), words, 11.0, true), words, "strong halo");
    }
}

}  // namespace

std::string window_map_svg(const Setup& setup, const study::WindowMap& map, const study::Verdict& plan, PictureUse use) {
    const Input& input = setup.controller.inputs[map.input];
    const std::vector<std::string> ids = kind_ids(setup);
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 210.0;
    f.most_v = map.top_v;
    f.most_y = map.top_a;
    constexpr double line_height = 13.0;
    const double legend_y = f.bottom() + 40.0;
    std::string description =
        fmt::format("The input takes current between {} and {}", volts(map.low_v), volts(map.high_v));
    for (const CurrentBand& b : input.bands) {
        description += fmt::format(", at most {} from {} to {}", amps(b.limit_a), volts(b.from_v), volts(b.to_v));
    }
    if (input.max_power_w) description += fmt::format(", at most {}", watts(*input.max_power_w));
    description += map.max_voltage_v ? fmt::format(". It must never see more than {}.", volts(*map.max_voltage_v))
                                     : ". Nobody knows how much voltage it bears.";
    std::vector<std::string> legend;
    for (std::size_t i = 0; i < map.tracks.size(); ++i) {
        const study::MapTrack& t = map.tracks[i];
        legend.push_back(fmt::format("{}{}: {}, {} on the coldest morning", t.name.empty() ? "" : t.name + "  ",
                                     fitting(label(t.wiring, ids), 118.0), word_of(t.verdict), volts(t.cold_voc_v)));
        description += " " + legend.back() + ".";
    }
    Svg svg(width, legend_y + line_height * static_cast<double>(legend.size() + 1), fmt::format("map-{}", map.input),
            fmt::format("What input {} takes, and where the wirings sit", input.name), description);
    draw_axes(svg, f, "volts", "amps");
    draw_regions(svg, f, map);
    if (!map.current_is_limited) svg.text({f.left + 4.0, f.top + 20.0}, "no current limit stated", "small soft");
    if (map.max_voltage_v) draw_never(svg, f, *map.max_voltage_v);
    for (std::size_t i = 0; i < map.tracks.size(); ++i) draw_track(svg, f, map.tracks[i], i, map.max_voltage_v);
    draw_labels(svg, f, map);
    double y = legend_y;
    for (const std::string& l : legend) {
        svg.text({6.0, y}, l, "small");
        y += line_height;
    }
    svg.text({6.0, y}, "thick: weak light to bright heat; dotted: out to the coldest morning, open", "small soft");
    if (map.tracks.size() == 1 && plan.connection == study::Connection::forbidden) svg.across("EXCEEDS");
    return finished(svg, setup, plan, use);
}

}  // namespace plait::output
