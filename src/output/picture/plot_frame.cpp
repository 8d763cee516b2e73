#include "plot_frame.hpp"

#include "render/display_width.hpp"
#include "report/verdict_words.hpp"

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

double first_step(double least, double step) {
    const double first = std::ceil(least / step - 1e-9);
    return first == 0.0 ? 0.0 : first;  // no "-0"
}

void draw_axes(Svg& svg, const Frame& f, std::string_view across, std::string_view upwards) {
    // Counted in steps, so that no rounding adds up.
    const double step_v = round_step(f.most_v - f.least_v, 6.0);
    for (double i = first_step(f.least_v, step_v); i * step_v <= f.most_v + 1e-4 * step_v; i += 1.0) {
        const double v = i * step_v;
        svg.line(f.at(v, f.least_y), f.at(v, f.most_y), "grid");
        svg.text({f.at(v, f.least_y).x, f.bottom() + 12.0}, fmt::format("{:g}", v), "small soft", "middle");
    }
    const double step_y = round_step(f.most_y - f.least_y, 5.0);
    for (double i = first_step(f.least_y, step_y); i * step_y <= f.most_y + 1e-4 * step_y; i += 1.0) {
        const double y = i * step_y;
        svg.line(f.at(f.least_v, y), f.at(f.most_v, y), "grid");
        svg.text({f.left - 4.0, f.at(f.least_v, y).y + 3.5}, fmt::format("{:g}", y), "small soft", "end");
    }
    svg.polyline({{f.left, f.top}, {f.left, f.bottom()}, {f.right(), f.bottom()}}, "axis");
    svg.text({f.right(), f.bottom() + 24.0}, across, "small soft", "end");
    svg.text({4.0, f.top - 8.0}, upwards, "small soft");
}

double wide(std::string_view text, double size, bool bold) {
    constexpr std::string_view narrow = "ijlIJ|'";
    constexpr std::string_view slim = " .,:;!()[]/-ftr\"";
    constexpr std::string_view broad = "mwMW%@";
    constexpr std::string_view sign = "+=<>~^#";
    double ems = 0.0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        const auto byte = static_cast<unsigned char>(c);
        if ((byte & 0xC0U) == 0x80U) continue;  // goes with the byte before it
        if (byte >= 0xE1U && text.substr(i, 2) != "\xE2\x80") {
            ems += 1.05;
        } else if (byte >= 0x80U) {
            ems += 0.75;
        } else if (narrow.find(c) != std::string_view::npos) {
            ems += 0.34;
        } else if (slim.find(c) != std::string_view::npos) {
            ems += 0.42;
        } else if (broad.find(c) != std::string_view::npos) {
            ems += 1.0;
        } else if (sign.find(c) != std::string_view::npos) {
            ems += 0.84;
        } else {
            ems += c >= 'A' && c <= 'Z' ? 0.76 : 0.635;
        }
    }
    return ems * size * (bold ? 1.12 : 1.0);
}

std::string fitting(std::string_view text, double most_wide, double size, bool bold) {
    if (wide(text, size, bold) <= most_wide) return std::string(text);
    const double room = most_wide - wide("…", size, bold);
    std::size_t kept = 0;
    for (std::size_t end = 1; end <= text.size(); ++end) {
        const bool whole = end == text.size() || (static_cast<unsigned char>(text[end]) & 0xC0U) != 0x80U;
        if (!whole) continue;
        if (wide(text.substr(0, end), size, bold) > room) break;
        kept = end;
    }
    return std::string(text.substr(0, kept)) + "…";
}

std::string shortened(std::string_view text, std::size_t most) {
    if (display_width(text) <= most) return std::string(text);
    std::string out;
    std::size_t kept = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool starts = (static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U;
        if (starts && ++kept == most) break;
        out += text[i];
    }
    return out + "…";
}

std::string finished(Svg& svg, const Setup& setup, const study::Verdict& plan, PictureUse use) {
    if (use == PictureUse::on_page) return svg.inner();
    svg.foot(tone_of(plan), headline_of(setup, plan));
    return svg.file();
}

}  // namespace plait::output
