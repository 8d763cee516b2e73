#include <plait/output/picture.hpp>
#include <plait/study/curve_sheet.hpp>

#include "report/curve_words.hpp"
#include "label_places.hpp"
#include "plot_frame.hpp"
#include "render/style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

/// The limit that binds, short enough to stand at the point; empty where none does.
std::string limit_words(const physics::OperatingPoint& op) {
    switch (op.binding) {
        case physics::Binding::nothing:
            return "";
        case physics::Binding::current_limit:
            return "current limit " + amps(op.binding_limit);
        case physics::Binding::power_limit:
            return "power limit " + watts(op.binding_limit);
        case physics::Binding::window_bottom:
            return "window's bottom " + volts(op.binding_limit);
        case physics::Binding::window_top:
            return "window's top " + volts(op.binding_limit);
        case physics::Binding::band_edge:
            return "band's edge " + volts(op.binding_limit);
        case physics::Binding::pinned:
            return "battery's voltage";
    }
    return "";
}

std::string nothing_words(const physics::OperatingPoint& op) {
    switch (op.none) {
        case physics::NoPoint::held:
            return "";
        case physics::NoPoint::dark:
            return "the input takes nothing: it is dark";
        case physics::NoPoint::too_low:
            return "the input takes nothing: the open-circuit voltage is below its window";
        case physics::NoPoint::pushed_out:
            return "the input holds no point: the array gives more than it takes all the way";
    }
    return "";
}

}  // namespace

std::string curve_svg(const study::SystemModel& system, const study::InputCurve& c, const study::Verdict& plan,
                      PictureUse use) {
    const Input& input = system.setup().controller.inputs[c.input];
    const physics::AcceptanceWindow& window = system.window(c.input);
    constexpr double width = 360.0;
    Frame amps_frame;
    amps_frame.width = width - amps_frame.left - 36.0;
    amps_frame.height = 190.0;
    amps_frame.most_v = std::max(1.04 * c.open_circuit_v, 1.0);
    amps_frame.most_y = std::max(1.15 * c.short_circuit_a, 0.1);
    Frame watts_frame = amps_frame;
    watts_frame.most_y = std::max(1.15 * c.extremes.best().point.power_w(), 0.1);

    std::vector<std::string> legend;
    std::size_t number = 0;
    struct Numbered {
        physics::PowerPoint point;
        std::string mark;
    };
    std::vector<Numbered> marks;
    for (const physics::PowerExtreme& e : c.extremes.points) {
        if (!e.maximum) continue;
        const bool best = &e == &c.extremes.best();
        marks.push_back({e.point, fmt::format("{}", ++number)});
        legend.push_back(fmt::format("{}  maximum at {}: {}{}", number, volts(e.point.voltage_v),
                                     watts(e.point.power_w()), best ? ", the highest" : ""));
    }
    if (c.operating.held()) {
        legend.push_back(fmt::format("◆  the input holds {} at {}", watts(c.operating.point.power_w()),
                                     volts(c.operating.point.voltage_v)));
        legend.push_back("     " + binding_words(c.operating.binding, c.operating.binding_limit));
    } else {
        legend.push_back(nothing_words(c.operating));
    }
    if (c.first_stop && c.first_stop_lost_w() > 0.05) {
        legend.push_back(fmt::format("▽  a tracker from open circuit meets {} at {} first",
                                     watts(c.first_stop->point.power_w()), volts(c.first_stop->point.voltage_v)));
    }
    std::string description =
        fmt::format("Open circuit {}, short circuit {}.", volts(c.open_circuit_v), amps(c.short_circuit_a));
    for (const std::string& l : legend) description += " " + l + ".";
    const double legend_y = amps_frame.bottom() + 40.0;
    Svg svg(width, legend_y + 13.0 * static_cast<double>(legend.size() + 1), fmt::format("curve-{}", c.input),
            fmt::format("Current and power of the wiring on {} over the voltage", input.name), description);

    draw_axes(svg, amps_frame, "volts", "amps (thin)");
    const double step_w = round_step(watts_frame.most_y, 5.0);
    for (double i = 0.0; i * step_w <= watts_frame.most_y; i += 1.0) {
        svg.text({watts_frame.right() + 4.0, watts_frame.at(0.0, i * step_w).y + 3.5}, fmt::format("{:g}", i * step_w),
                 "small soft");
    }
    svg.text({width - 4.0, watts_frame.top - 8.0}, "watts (thick)", "small soft", "end");
    const double low_x = amps_frame.at(std::min(window.low_v, amps_frame.most_v), 0.0).x;
    const double high_x = amps_frame.at(std::min(window.high_v, amps_frame.most_v), 0.0).x;
    if (high_x > low_x) {
        svg.rect({low_x, amps_frame.bottom() - 5.0}, high_x - low_x, 5.0, "take");
        svg.line({low_x, amps_frame.bottom() - 5.0}, {low_x, amps_frame.bottom()}, "edge");
        svg.line({high_x, amps_frame.bottom() - 5.0}, {high_x, amps_frame.bottom()}, "edge");
    }
    std::vector<Spot> current;
    std::vector<Spot> power;
    std::vector<physics::PowerPoint> sorted;
    for (const study::CurvePoint& p : c.points) sorted.push_back(p.point);
    std::sort(sorted.begin(), sorted.end(),
              [](const physics::PowerPoint& a, const physics::PowerPoint& b) { return a.voltage_v < b.voltage_v; });
    for (const physics::PowerPoint& p : sorted) {
        // Past open circuit the wiring only consumes; open circuit itself is zero but for rounding.
        if (p.current_a < -1e-6 * c.short_circuit_a || p.voltage_v < 0.0) continue;
        current.push_back(amps_frame.at(p.voltage_v, std::max(0.0, p.current_a)));
        power.push_back(watts_frame.at(p.voltage_v, std::max(0.0, p.power_w())));
    }
    svg.polyline(current, "current");
    svg.polyline(power, "power");
    LabelPlaces places({amps_frame.left, amps_frame.top - 8.0, amps_frame.right(), amps_frame.bottom()});
    for (const Numbered& m : marks) {
        const Spot at = watts_frame.at(m.point.voltage_v, m.point.power_w());
        svg.circle(at, 3.5, "mark");
        svg.text({at.x, at.y - 8.0}, m.mark, "strong halo", "middle");
        places.take({at.x - 6.0, at.y - 18.0, at.x + 6.0, at.y + 5.0});
    }
    if (c.first_stop && c.first_stop_lost_w() > 0.05) {
        const Spot at = watts_frame.at(c.first_stop->point.voltage_v, c.first_stop->point.power_w());
        svg.polygon({{at.x - 6.0, at.y + 7.0}, {at.x + 6.0, at.y + 7.0}, {at.x, at.y + 17.0}}, "mark");
        places.take({at.x - 7.0, at.y + 6.0, at.x + 7.0, at.y + 18.0});
    }
    if (c.operating.held()) {
        const Spot at = watts_frame.at(c.operating.point.voltage_v, c.operating.point.power_w());
        svg.polygon({{at.x - 4.5, at.y}, {at.x, at.y - 4.5}, {at.x + 4.5, at.y}, {at.x, at.y + 4.5}}, "joint");
        places.take({at.x - 5.0, at.y - 5.0, at.x + 5.0, at.y + 5.0});
        const std::string words = limit_words(c.operating);
        if (!words.empty()) svg.text(places.place(at, words, 9.5, false), words, "small halo");
    }
    double y = legend_y;
    for (const std::string& l : legend) {
        svg.text({6.0, y}, l, "small");
        y += 13.0;
    }
    svg.text({6.0, y}, "tinted foot: the voltages the input works at", "small soft");
    return finished(svg, system.setup(), plan, use);
}

}  // namespace plait::output
