// A battery's day: what the sun offers, what is taken, how full the battery is, and what sets the pace.
#include <plait/output/picture.hpp>
#include <plait/study/charge_sheet.hpp>

#include "report/charge_words.hpp"
#include "plot_frame.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using study::ChargeLimit;

constexpr double width = 360.0;

/// One interval of the run as it is drawn.
struct Slice {
    double from_h = 0.0;
    double to_h = 0.0;
    double offered_w = 0.0;
    study::BatteryStep step;
};

/// The whole days up to the one on which the wanted charge is reached, a week at most; the first day if it never is.
double drawn_h(const study::ChargeSheet& s) { return 24.0 * (s.target_h() ? std::min(s.days_later(), 6) + 1 : 1); }

std::vector<Slice> slices_of(const study::ChargeSheet& s) {
    std::vector<Slice> slices;
    const double end_h = drawn_h(s);
    // What comes before it begins is shown too, as on offer only.
    double at_h = s.light.hours.front().local_h;
    for (std::size_t i = 0; i < s.offered_w.size() && at_h < end_h - 1e-9; ++i) {
        if (i < s.first) {
            slices.push_back({at_h, at_h + s.light.step_h, s.offered_w[i], {}});
            at_h += s.light.step_h;
            continue;
        }
        if (i == s.first && s.start_h > at_h) slices.push_back({at_h, s.start_h, s.offered_w[i], {}});
        const study::BatteryStep& step = s.run.steps[i - s.first];
        at_h = s.clock_h(step.to_h());
        slices.push_back({s.clock_h(step.from_h), at_h, s.offered_w[i], step});
    }
    return slices;
}

/// The limits that occur, in the order of their first time.
std::vector<ChargeLimit> limits_of(const std::vector<Slice>& slices) {
    std::vector<ChargeLimit> limits;
    for (const Slice& s : slices) {
        if (s.step.limit == ChargeLimit::idle) continue;
        if (std::find(limits.begin(), limits.end(), s.step.limit) == limits.end()) limits.push_back(s.step.limit);
    }
    return limits;
}

/// A stair: level over each interval, upright between two.
template <class Value>
std::vector<Spot> stair(const Frame& f, const std::vector<Slice>& slices, const Value& value) {
    std::vector<Spot> spots;
    for (const Slice& s : slices) {
        spots.push_back(f.at(s.from_h, value(s)));
        spots.push_back(f.at(s.to_h, value(s)));
    }
    return spots;
}

void draw_hours(Svg& svg, const Frame& f, bool labelled) {
    const double step_h = f.most_v > 100.0 ? 24.0 : f.most_v > 24.0 ? 12.0 : 3.0;
    for (double h = 0.0; h <= f.most_v + 1e-6; h += step_h) {
        svg.line(f.at(h, 0.0), f.at(h, f.most_y), "grid");
        if (labelled) svg.text({f.at(h, 0.0).x, f.bottom() + 12.0}, fmt::format("{:g}", h), "small soft", "middle");
    }
    const double step_y = round_step(f.most_y, f.height > 100.0 ? 5.0 : 2.0);
    for (double i = 0.0; i * step_y <= f.most_y + 1e-6; i += 1.0) {
        svg.line(f.at(0.0, i * step_y), f.at(f.most_v, i * step_y), "grid");
        svg.text({f.left - 4.0, f.at(0.0, i * step_y).y + 3.5}, fmt::format("{:g}", i * step_y), "small soft", "end");
    }
    svg.polyline({{f.left, f.top}, {f.left, f.bottom()}, {f.right(), f.bottom()}}, "axis");
}

void draw_watts(Svg& svg, const Frame& f, const std::vector<Slice>& slices, bool wall) {
    std::vector<Spot> area = stair(f, slices, [](const Slice& s) { return s.offered_w; });
    area.push_back(f.at(slices.back().to_h, 0.0));
    area.push_back(f.at(slices.front().from_h, 0.0));
    svg.polygon(area, "take");
    draw_hours(svg, f, false);
    svg.text({4.0, f.top - 8.0}, "watts", "small soft");
    if (wall) svg.polyline(stair(f, slices, [](const Slice& s) { return s.step.wall_w; }), "curve");
    svg.polyline(stair(f, slices, [](const Slice& s) { return s.step.solar_used_w; }), "power");
}

void draw_charge(Svg& svg, const Frame& f, const study::ChargeSheet& s, const std::vector<Slice>& slices) {
    draw_hours(svg, f, true);
    svg.text({4.0, f.top - 7.0}, "charge of the battery, %", "small soft");
    svg.text({f.right(), f.bottom() + 24.0}, "standard time, hours since midnight", "small soft", "end");
    svg.line(f.at(0.0, 100.0 * s.ask.to_ratio), f.at(f.most_v, 100.0 * s.ask.to_ratio), "curve");
    std::vector<Spot> line{f.at(s.start_h, 100.0 * s.run.start_ratio)};
    for (const Slice& slice : slices) {
        if (slice.to_h > s.start_h + 1e-9) line.push_back(f.at(slice.to_h, 100.0 * slice.step.charge_ratio));
    }
    svg.polyline(line, "path");
    if (!s.target_h() || s.start_h + *s.target_h() > f.most_v) return;
    svg.circle(f.at(s.start_h + *s.target_h(), 100.0 * s.ask.to_ratio), 3.2, "mark");
}

/// One box for each stretch with the same limit, with its letter.
void draw_band(Svg& svg, const Frame& f, double band_y, const std::vector<Slice>& slices,
               const std::vector<ChargeLimit>& limits) {
    for (std::size_t i = 0; i < slices.size();) {
        std::size_t end = i;
        while (end < slices.size() && slices[end].step.limit == slices[i].step.limit) ++end;
        const double left = f.at(slices[i].from_h, 0.0).x;
        const double right = f.at(slices[end - 1].to_h, 0.0).x;
        const auto known = std::find(limits.begin(), limits.end(), slices[i].step.limit);
        if (known == limits.end()) {
            svg.line({left, band_y + 7.0}, {right, band_y + 7.0}, "grid");
        } else {
            svg.rect({left, band_y}, right - left, 14.0, fmt::format("band c{}", known - limits.begin()));
            if (right - left > 9.0) {
                svg.text({0.5 * (left + right), band_y + 24.0},
                         std::string(1, static_cast<char>('a' + static_cast<char>(known - limits.begin()))), "small",
                         "middle");
            }
        }
        i = end;
    }
}

}  // namespace

std::string charge_svg(const Setup& setup, const study::ChargeSheet& sheet, const study::Verdict& plan, PictureUse use) {
    const std::vector<Slice> slices = slices_of(sheet);
    const std::vector<ChargeLimit> limits = limits_of(slices);
    double most_w = 1.0;
    for (const Slice& s : slices) most_w = std::max({most_w, s.offered_w, s.step.wall_w});
    Frame watts_frame;
    watts_frame.width = width - watts_frame.left - 10.0;
    watts_frame.height = 140.0;
    watts_frame.most_v = drawn_h(sheet);
    watts_frame.most_y = 1.08 * most_w;
    Frame charge_frame = watts_frame;
    charge_frame.top = watts_frame.bottom() + 24.0;
    charge_frame.height = 78.0;
    charge_frame.most_y = 100.0;
    const double band_y = charge_frame.bottom() + 34.0;
    const double legend_y = band_y + 44.0;
    const std::string answer = charge_answer(sheet);
    std::string description = answer;
    for (const study::ChargeSpan& span : sheet.spans) {
        description += fmt::format(" {} to {}: {}.", time_of_day(span.from_h), time_of_day(span.to_h),
                                   limit_words(sheet, span.limit));
    }
    const bool wall = sheet.storage.wall.has_value();
    Svg svg(width, legend_y + 13.0 * static_cast<double>(limits.size()) + 18.0, "charge",
            "What the sun offers, what is taken, how full the battery is", description);
    draw_watts(svg, watts_frame, slices, wall);
    draw_charge(svg, charge_frame, sheet, slices);
    draw_band(svg, watts_frame, band_y, slices, limits);
    double y = legend_y;
    for (std::size_t i = 0; i < limits.size(); ++i) {
        svg.rect({6.0, y - 8.0}, 14.0, 9.0, fmt::format("band c{}", i));
        svg.text({25.0, y}, fmt::format("{}  {}", static_cast<char>('a' + static_cast<char>(i)), limit_words(sheet, limits[i])),
                 "small");
        y += 13.0;
    }
    svg.text({6.0, y}, wall ? "tinted: the sun offers; line: taken of it; dashed: the wall" : "tinted: the sun offers; line: taken of it",
             "small soft");
    return finished(svg, setup, plan, use);
}

}  // namespace plait::output
