// A bench sweep with its fit.
#include <plait/measured/window_comparison.hpp>
#include <plait/output/picture.hpp>

#include "report/learn_words.hpp"
#include "plot_frame.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <string_view>

namespace plait::output {
namespace {

constexpr double width = 360.0;

/// Two readings between which something happens, and nothing tells where.
struct Gap {
    measured::SwitchVoltage at;
    std::string_view what;
};

std::vector<Gap> gaps_of(const measured::LearnedWindow& w) {
    std::vector<Gap> gaps;
    if (w.start) gaps.push_back({*w.start, "starts, voltage rising,"});
    if (w.stop) gaps.push_back({*w.stop, "stops, voltage falling,"});
    if (w.trip) gaps.push_back({*w.trip, "trips, voltage rising,"});
    if (w.recovery) gaps.push_back({*w.recovery, "recovers, voltage falling,"});
    return gaps;
}

}  // namespace

std::string sweep_svg(const measured::LearnSheet& sheet, PictureUse use) {
    const measured::LearnedWindow& w = sheet.window;
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 190.0;
    for (const measured::FittedRow& r : w.rows) {
        f.most_v = std::max(f.most_v, 1.08 * r.row.voltage_v);
        f.most_y = std::max(f.most_y, 1.15 * r.row.current_a);
    }
    const Input* printed = sheet.printed();
    const double* const maximum_v = printed != nullptr && printed->max_voltage_v ? &*printed->max_voltage_v : nullptr;
    if (maximum_v != nullptr) f.most_v = std::max(f.most_v, 1.08 * *maximum_v);
    std::string description;
    for (const std::string& s : summary_of(sheet)) description += s + " ";
    const double legend_y = f.bottom() + 40.0;
    const std::vector<Gap> gaps = gaps_of(w);
    Svg svg(width, legend_y + 13.0 * static_cast<double>(2 + gaps.size()), "sweep", "The bench sweep and what fits it",
            description);
    for (const Gap& g : gaps) {
        const double left = f.at(std::max(0.0, g.at.between_v.lower()), 0.0).x;
        svg.rect({left, f.top}, f.at(std::max(0.0, g.at.between_v.upper()), 0.0).x - left, f.height, "take");
    }
    draw_axes(svg, f, "volts", "amps");
    for (const measured::LearnedPiece& p : w.pieces) {
        std::vector<Spot> spots;
        for (double i = 0.0; i <= 24.0; i += 1.0) {
            const double v = p.from_v + (p.to_v - p.from_v) * i / 24.0;
            const double a =
                p.kind == measured::PieceKind::constant_power && v > 0.0 ? p.level.value / v : p.level.value;
            spots.push_back(f.at(v, p.kind == measured::PieceKind::nothing ? 0.0 : a));
        }
        svg.polyline(spots, p.kind == measured::PieceKind::at_least ? "curve" : "edge");
    }
    for (const measured::FittedRow& r : w.rows) {
        if (r.use == measured::RowUse::left_out) continue;
        const Spot at = f.at(std::max(0.0, r.row.voltage_v), std::max(0.0, r.row.current_a));
        if (r.use == measured::RowUse::stands_apart || r.use == measured::RowUse::beside_the_wall) {
            svg.line({at.x - 3.0, at.y - 3.0}, {at.x + 3.0, at.y + 3.0}, "cap");
            svg.line({at.x - 3.0, at.y + 3.0}, {at.x + 3.0, at.y - 3.0}, "cap");
        } else {
            svg.circle(at, 2.4, r.rising ? "joint" : "mark");
        }
    }
    if (maximum_v != nullptr) {
        const double x = f.at(*maximum_v, 0.0).x;
        svg.line({x, f.top}, {x, f.bottom()}, "never");
        svg.text({x - 3.0, f.top + 9.0}, "printed maximum " + volts(*maximum_v), "small stop", "end");
    }
    svg.text({6.0, legend_y}, "dots: rising, rings: falling, crosses: stand apart", "small");
    svg.text({6.0, legend_y + 13.0},
             gaps.empty() ? "line: the law that fits" : "line: the law that fits; tinted:", "small soft");
    double y = legend_y + 26.0;
    for (const Gap& g : gaps) {
        svg.text(
            {25.0, y},
            fmt::format("{} between {} and {}", g.what, volts(g.at.between_v.lower()), volts(g.at.between_v.upper())),
            "small soft");
        y += 13.0;
    }
    if (use == PictureUse::on_page) return svg.inner();
    svg.foot(Tone::plain, "");
    return svg.file();
}

}  // namespace plait::output
