#include "window_shapes.hpp"

#include "render/style.hpp"

#include <plait/study/window_map.hpp>

#include <algorithm>
#include <vector>

namespace plait::output {

void draw_regions(Svg& svg, const Frame& f, const study::WindowMap& map) {
    for (const study::MapRegion& region : map.regions) {
        std::vector<Spot> shape;
        for (const physics::PowerPoint& p : region) shape.push_back(f.at(p.voltage_v, p.current_a));
        std::vector<Spot> edge = shape;
        shape.push_back(f.at(region.back().voltage_v, 0.0));
        shape.push_back(f.at(region.front().voltage_v, 0.0));
        svg.polygon(shape, "take");
        edge.insert(edge.begin(), f.at(region.front().voltage_v, 0.0));
        edge.push_back(f.at(region.back().voltage_v, 0.0));
        svg.polyline(edge, "edge");
    }
}

void draw_never(Svg& svg, const Frame& f, double max_voltage_v) {
    const double x = f.at(max_voltage_v, 0.0).x;
    for (double y = f.top; y < f.bottom(); y += 7.0) {
        const double reach = std::min({f.right() - x, f.bottom() - y});
        svg.line({x, y}, {x + reach, y + reach}, "hatch");
    }
    svg.line({x, f.top}, {x, f.bottom()}, "never");
    svg.text({x - 3.0, f.top + 9.0}, "never beyond " + volts(max_voltage_v), "small stop halo", "end");
}

}  // namespace plait::output
