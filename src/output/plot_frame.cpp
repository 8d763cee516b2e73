#include "plot_frame.hpp"

#include "style.hpp"

#include <cmath>

namespace plait::output {

double round_step(double most, double wanted) {
    const double rough = most / wanted;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * power >= rough) return factor * power;
    }
    return 10.0 * power;
}

void draw_axes(Svg& svg, const Frame& f, std::string_view across, std::string_view upwards) {
    const double step_v = round_step(f.most_v, 6.0);
    for (double i = 0.0; i * step_v <= f.most_v * 1.0001; i += 1.0) {
        const double v = i * step_v;
        svg.line(f.at(v, 0.0), f.at(v, f.most_y), "grid");
        svg.text({f.at(v, 0.0).x, f.bottom() + 12.0}, fmt::format("{:g}", v), "small soft", "middle");
    }
    const double step_y = round_step(f.most_y, 5.0);
    for (double i = 0.0; i * step_y <= f.most_y * 1.0001; i += 1.0) {
        const double y = i * step_y;
        svg.line(f.at(0.0, y), f.at(f.most_v, y), "grid");
        svg.text({f.left - 4.0, f.at(0.0, y).y + 3.5}, fmt::format("{:g}", y), "small soft", "end");
    }
    svg.polyline({{f.left, f.top}, {f.left, f.bottom()}, {f.right(), f.bottom()}}, "axis");
    svg.text({f.right(), f.bottom() + 24.0}, across, "small soft", "end");
    svg.text({4.0, f.top - 8.0}, upwards, "small soft");
}

std::string shortened(std::string_view text, std::size_t most) {
    if (columns(text) <= most) return std::string(text);
    std::string out;
    std::size_t kept = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool starts = (static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U;
        if (starts && ++kept == most) break;
        out += text[i];
    }
    return out + "…";
}

}  // namespace plait::output
