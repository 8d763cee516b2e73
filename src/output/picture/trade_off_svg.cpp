// The wirings none of which is better in everything, one a row, numbered as in the table. Left the harvest as a point
// with a whisker down to what is left when one panel is shaded; right the room in the cold, from the line never to
// cross. Rows, not a cloud: wirings of the same parts share their figures, and points would lie on each other.
#include <plait/output/picture.hpp>
#include <plait/search/arrangement.hpp>

#include "report/arrange_words.hpp"
#include "plot_frame.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::output {
namespace {

constexpr double width = 360.0;
constexpr double row_height = 32.0;
constexpr double words_height = 14.0;
constexpr double top = 34.0;

/// A shape for the number of joints: circle, square, triangle.
void draw_point(Svg& svg, Spot at, int joints, bool advised) {
    const std::string_view css = advised ? "joint" : "mark";
    if (joints == 0) {
        svg.circle(at, 4.5, css);
    } else if (joints == 1) {
        svg.rect({at.x - 4.2, at.y - 4.2}, 8.4, 8.4, css);
    } else {
        svg.polygon({{at.x, at.y - 5.2}, {at.x + 5.2, at.y + 4.2}, {at.x - 5.2, at.y + 4.2}}, css);
    }
}

void draw_scale(Svg& svg, const Frame& f, double wanted, std::string_view title) {
    const double step = round_step(f.most_v - f.least_v, wanted);
    for (double i = first_step(f.least_v, step); i * step <= f.most_v + 1e-4 * step; i += 1.0) {
        const double x = f.at(i * step, 0.0).x;
        // Beside the words of each row, not through them.
        for (double y = f.top; y < f.bottom() - 1.0; y += row_height) {
            svg.line({x, y + words_height}, {x, y + row_height}, "grid");
        }
        svg.text({x, f.bottom() + 12.0}, fmt::format("{:g}", i * step), "small soft", "middle");
    }
    svg.line({f.left, f.bottom()}, {f.right(), f.bottom()}, "axis");
    svg.text({f.left, f.top - 8.0}, title, "small");
}

std::string counted(int n, const char* one, const char* more) {
    return n == 0 ? fmt::format("no {}", more) : fmt::format("{} {}", n, n == 1 ? one : more);
}

}  // namespace

std::string trade_off_svg(const Setup& setup, const search::Arrangement& a, const study::Verdict& advised_verdict,
                          PictureUse use) {
    const auto plan = [&](const search::TradeOff& t) -> const search::RankedPlan& { return a.plans[t.plan]; };
    Frame watts_frame;
    watts_frame.left = 24.0;
    watts_frame.top = top;
    watts_frame.width = 206.0;
    watts_frame.height = row_height * static_cast<double>(a.trade_offs.size());
    Frame volts_frame = watts_frame;
    volts_frame.left = 258.0;
    volts_frame.width = 90.0;
    double least_w = std::numeric_limits<double>::infinity();
    double most_w = 0.0;
    double most_v = 1.0;
    std::string description = "Wirings none of which is better than another in everything.";
    for (std::size_t i = 0; i < a.trade_offs.size(); ++i) {
        const search::TradeOff& t = a.trade_offs[i];
        const search::RankedPlan& p = plan(t);
        least_w = std::min(least_w, t.one_shaded_worst_w);
        most_w = std::max(most_w, p.harvest.european_w);
        most_v = std::max(most_v, p.cold_margin_v);
        description += fmt::format(
            " {}{}: {}: takes {}, {} with one panel shaded ({} at worst); {} of room in the cold; {}, {}.", t.plan + 1,
            a.advised && *a.advised == t.plan ? " (advised)" : "", plan_label(setup, a, p), watts(p.harvest.european_w),
            watts(t.one_shaded_mean_w), watts(t.one_shaded_worst_w), room_in_volts(p.cold_margin_v),
            counted(p.joints, "joint", "joints"), counted(p.fuses, "fuse", "fuses"));
    }
    // Points are compared with each other, so the scale of the watts begins near the least of them.
    const double spread_w = std::max(most_w - least_w, 0.02 * most_w);
    watts_frame.least_v = std::max(0.0, least_w - 0.1 * spread_w);
    watts_frame.most_v = std::max(most_w + 0.1 * spread_w, watts_frame.least_v + 1e-6);
    volts_frame.most_v = 1.1 * most_v;

    const double legend_y = watts_frame.bottom() + 32.0;
    Svg svg(width, legend_y + 34.0, "trade-offs", "What the wirings trade against each other", description);
    for (std::size_t i = 0; i < a.trade_offs.size(); ++i) {
        if (a.advised && *a.advised == a.trade_offs[i].plan) {
            svg.rect({2.0, top + row_height * static_cast<double>(i)}, width - 4.0, row_height, "take");
        }
    }
    draw_scale(svg, watts_frame, 4.0, "takes, mean watts");
    draw_scale(svg, volts_frame, 2.5, "cold room, volts");
    for (std::size_t i = 0; i < a.trade_offs.size(); ++i) {
        const search::TradeOff& t = a.trade_offs[i];
        const search::RankedPlan& p = plan(t);
        const bool advised = a.advised && *a.advised == t.plan;
        const double row_y = top + row_height * static_cast<double>(i);
        const double y = row_y + 22.0;
        svg.open(
            fmt::format("class=\"trade-off\" data-number=\"{}\" data-harvest-w=\"{:.6g}\" data-shaded-w=\"{:.6g}\" "
                        "data-worst-w=\"{:.6g}\"{} data-joints=\"{}\"{}",
                        t.plan + 1, p.harvest.european_w, t.one_shaded_mean_w, t.one_shaded_worst_w,
                        std::isfinite(p.cold_margin_v) ? fmt::format(" data-cold-v=\"{:.6g}\"", p.cold_margin_v) : "",
                        p.joints, advised ? " data-advised=\"yes\"" : ""));
        svg.text({5.0, row_y + 10.0}, fmt::format("{}", t.plan + 1), "strong");
        const std::string parts = (advised ? "advised; " : "") + counted(p.joints, "joint", "joints") + ", " +
                                  counted(p.fuses, "fuse", "fuses");
        svg.text({width - 6.0, row_y + 10.0}, parts, "small soft", "end");
        const double label_x = 12.0 + wide(fmt::format("{}", t.plan + 1), 11.0, true);
        svg.text({label_x, row_y + 10.0}, fitting(plan_label(setup, a, p), width - label_x - 14.0 - wide(parts, 9.5)), "small");
        const double harvest_x = watts_frame.at(p.harvest.european_w, 0.0).x;
        const double mean_x = watts_frame.at(t.one_shaded_mean_w, 0.0).x;
        const double worst_x = watts_frame.at(t.one_shaded_worst_w, 0.0).x;
        svg.line({worst_x, y}, {mean_x, y}, "whisker");
        svg.line({mean_x, y}, {harvest_x, y}, "wire");
        svg.line({mean_x, y - 4.0}, {mean_x, y + 4.0}, "cap");
        svg.line({worst_x, y - 2.5}, {worst_x, y + 2.5}, "cap");
        draw_point(svg, {harvest_x, y}, p.joints, advised);
        const double room_x = volts_frame.at(std::max(0.0, p.cold_margin_v), 0.0).x;
        svg.line({volts_frame.left, y}, {room_x, y}, "wire");
        svg.line({volts_frame.left, row_y + words_height}, {volts_frame.left, row_y + row_height}, "never");
        draw_point(svg, {room_x, y}, p.joints, advised);
        svg.close();
    }
    draw_point(svg, {10.0, legend_y - 3.5}, 0, false);
    svg.text({18.0, legend_y}, "no joint", "small");
    draw_point(svg, {76.0, legend_y - 3.5}, 1, false);
    svg.text({84.0, legend_y}, "one", "small");
    draw_point(svg, {122.0, legend_y - 3.5}, 2, false);
    svg.text({130.0, legend_y}, "more", "small");
    const bool shown = a.advised && std::any_of(a.trade_offs.begin(), a.trade_offs.end(),
                                                [&](const search::TradeOff& t) { return t.plan == *a.advised; });
    if (shown) {
        draw_point(svg, {172.0, legend_y - 3.5}, 0, true);
        svg.text({180.0, legend_y}, "filled: the advised one", "small");
    }
    svg.text({6.0, legend_y + 13.0}, "line: with one panel at 20 % light, on average and (dotted) at worst",
             "small soft");
    svg.text({6.0, legend_y + 26.0}, "cold room: volts left before the line never to cross", "small soft");
    return finished(svg, setup, advised_verdict, use);
}

}  // namespace plait::output
