#include "svg.hpp"

#include <plait/output/picture.hpp>

#include "render/display_width.hpp"
#include "render/tone.hpp"

#include <cmath>

namespace plait::output {
namespace {

std::string points(const std::vector<Spot>& spots) {
    std::string out;
    for (const Spot& s : spots) out += fmt::format("{}{:.2f},{:.2f}", out.empty() ? "" : " ", s.x, s.y);
    return out;
}

}  // namespace

std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            default:
                if (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t') {
                    out += "\xEF\xBF\xBD";
                } else {
                    out += c;
                }
        }
    }
    return out;
}

Svg::Svg(double width, double height, std::string_view id, std::string_view title, std::string_view description)
    : width_(width), height_(height), id_(escaped(id)), title_(escaped(title)), description_(escaped(description)) {}

void Svg::line(Spot a, Spot b, std::string_view css) {
    body_ += fmt::format("<line x1=\"{:.2f}\" y1=\"{:.2f}\" x2=\"{:.2f}\" y2=\"{:.2f}\" class=\"{}\"/>\n", a.x, a.y,
                         b.x, b.y, css);
}
void Svg::polyline(const std::vector<Spot>& spots, std::string_view css) {
    body_ += fmt::format("<polyline points=\"{}\" class=\"{}\"/>\n", points(spots), css);
}
void Svg::polygon(const std::vector<Spot>& spots, std::string_view css) {
    body_ += fmt::format("<polygon points=\"{}\" class=\"{}\"/>\n", points(spots), css);
}
void Svg::rect(Spot corner, double width, double height, std::string_view css) {
    body_ += fmt::format("<rect x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:.2f}\" class=\"{}\"/>\n",
                         corner.x, corner.y, width, height, css);
}
void Svg::circle(Spot centre, double radius, std::string_view css) {
    body_ += fmt::format("<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"{:.2f}\" class=\"{}\"/>\n", centre.x, centre.y,
                         radius, css);
}
void Svg::text(Spot at, std::string_view words, std::string_view css, std::string_view anchor) {
    body_ += fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" class=\"{}\" text-anchor=\"{}\">{}</text>\n", at.x, at.y, css,
                         anchor, escaped(words));
}
void Svg::open(std::string_view attributes) { body_ += fmt::format("<g {}>\n", attributes); }
void Svg::foot(Tone tone, std::string_view verdict) {
    constexpr double line_height = 14.0;
    constexpr double glyph = 6.2;  // of the strong text, a little more than in the mean
    height_ += 6.0;
    body_ += fmt::format("<line x1=\"6\" y1=\"{0:.2f}\" x2=\"{1:.2f}\" y2=\"{0:.2f}\" class=\"grid\"/>\n", height_, width_ - 6.0);
    const auto fits = static_cast<std::size_t>((width_ - 12.0) / glyph);
    if (!verdict.empty()) {
        for (const std::string& line : broken(fmt::format("{} {}", shape_of(tone), verdict), fits)) {
            height_ += line_height;
            text({6.0, height_ - 4.0}, line, "strong");
        }
    }
    height_ += line_height;
    text({6.0, height_ - 4.0}, "Arithmetic on stated values, not an approval.", "small soft");
}
void Svg::across(std::string_view word) {
    body_ += fmt::format(
        "<text x=\"{0:.2f}\" y=\"{1:.2f}\" class=\"across\" text-anchor=\"middle\" transform=\"rotate(-24 {0:.2f} "
        "{1:.2f})\">{2}</text>\n",
        width_ / 2.0, height_ / 2.0, escaped(word));
}
void Svg::close() { body_ += "</g>\n"; }
void Svg::tip(std::string_view words) { body_ += fmt::format("<title>{}</title>\n", escaped(words)); }

std::string Svg::head(std::string_view extra) const {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {:.0f} {:.0f}\" role=\"img\" aria-labelledby=\"{}-t "
        "{}-d\"{}>\n"
        "<title id=\"{}-t\">{}</title>\n<desc id=\"{}-d\">{}</desc>\n",
        width_, height_, id_, id_, extra, id_, title_, id_, description_);
}

std::string Svg::inner() const { return head(" class=\"picture\"") + body_ + "</svg>\n"; }

std::string Svg::file() const {
    const std::string size = fmt::format(" class=\"picture alone\" width=\"{:.0f}\" height=\"{:.0f}\"", 2.0 * width_, 2.0 * height_);
    return fmt::format(
        "{}\n{}<style>{}</style>\n<rect x=\"0\" y=\"0\" width=\"{:.0f}\" height=\"{:.0f}\" class=\"paper\"/>\n{}</svg>\n",
        picture_mark, head(size), picture_style(), width_, height_, body_);
}

// Verdicts differ by shape first (dot, ring, triangle, cross); the colours only repeat it. The region the input takes
// is tinted and edged, the one never to enter is hatched by lines: both survive black-and-white print.
std::string_view picture_style() {
    return R"css(
.picture{--paper:#fff;--ink:#1d2430;--soft:#566073;--rule:#c9d0da;--take:#dcebf7;--edge:#2f6f9f;--stop:#a3122f;
--within:#0b6b4f;--needs:#6a4a00;--clips:#8a5200;--short:#5b3a9e;--doubtful:#7a2a6a;--over:#a3122f;--plus:#a3122f;--minus:#22406e;
font-family:system-ui,"Segoe UI",Roboto,"DejaVu Sans",sans-serif;font-size:11px;fill:var(--ink)}
@media (prefers-color-scheme:dark){.picture{--paper:#14181f;--ink:#e8ecf2;--soft:#a9b4c4;--rule:#3b4554;--take:#1d3346;
--edge:#7db8e0;--stop:#ff8b9a;--within:#6fd6b0;--needs:#e6c26a;--clips:#f0b35e;--short:#bda6ff;--doubtful:#f0a6dc;--over:#ff8b9a;
--plus:#ff8b9a;--minus:#9dc0ff}}
@media print{.picture{--paper:#fff;--ink:#000;--soft:#333;--rule:#999;--take:#eee;--edge:#000;--stop:#000;--within:#000;
--needs:#000;--clips:#000;--short:#000;--doubtful:#000;--over:#000;--plus:#000;--minus:#000}}
.picture .paper{fill:var(--paper)}.picture text{fill:var(--ink)}.picture text.soft{fill:var(--soft)}
.picture text.small{font-size:9.5px}.picture text.tag{font-size:8.5px}.picture text.strong{font-weight:700}.picture text.stop{fill:var(--stop);font-weight:700}
.picture text.across{font-size:46px;font-weight:800;letter-spacing:3px;fill:var(--over);fill-opacity:.34}
.picture text.halo{paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round}
.picture .axis{stroke:var(--ink);stroke-width:1;fill:none}.picture .grid{stroke:var(--rule);stroke-width:.5;fill:none}
.picture .take{fill:var(--take);stroke:none}.picture .edge{fill:none;stroke:var(--edge);stroke-width:1.4}
.picture .never{stroke:var(--stop);stroke-width:2.2}.picture .hatch{stroke:var(--stop);stroke-width:.7;opacity:.65}
.picture .curve{fill:none;stroke:var(--soft);stroke-width:.9;stroke-dasharray:3 2}
.picture .power{fill:none;stroke:var(--edge);stroke-width:2.1}.picture .current{fill:none;stroke:var(--ink);stroke-width:1}
.picture .path{fill:none;stroke-width:2;stroke:var(--ink)}.picture .whisker{fill:none;stroke-width:1.4;stroke:var(--ink);stroke-dasharray:1.5 2.5}
.picture .cap{stroke-width:1.6;stroke:var(--ink)}
.picture .within{stroke:var(--within);fill:var(--within)}.picture .needs{stroke:var(--needs);fill:none;stroke-width:1.8}
.picture .clips{stroke:var(--clips);fill:var(--paper);stroke-width:2}.picture .short{stroke:var(--short);fill:var(--paper);stroke-width:2}
.picture .doubtful{stroke:var(--doubtful);fill:var(--paper);stroke-width:2}
.picture .over{stroke:var(--over);fill:none;stroke-width:2.4}
.picture .mark{stroke:var(--ink);fill:var(--paper);stroke-width:1.3}
.picture .cell{fill:var(--paper);stroke:var(--ink);stroke-width:1.1}.picture .cellline{stroke:var(--rule);stroke-width:.6}
.picture .shade{fill:var(--ink);opacity:.28;stroke:none}
.picture .wire{fill:none;stroke:var(--ink);stroke-width:1.4}.picture .joint{fill:var(--ink);stroke:none}
.picture .plus{fill:var(--plus);font-weight:700}.picture .minus{fill:var(--minus);font-weight:700}
.picture .coupled{stroke:var(--ink);stroke-width:.9;stroke-dasharray:3 3}.picture .band{stroke:var(--ink);stroke-width:.6;fill:var(--ink)}.picture .c0{fill-opacity:0}.picture .c1{fill-opacity:.75}
.picture .c2{fill-opacity:.25}.picture .c3{fill-opacity:.5}.picture .c4{fill-opacity:.12}.picture .c5{fill-opacity:1}
.picture .tile{stroke:none;fill:var(--ink)}.picture .t1{fill-opacity:.1}.picture .t2{fill-opacity:.8}.picture .t3{fill-opacity:.45}
.picture .t4{fill-opacity:.25}.picture .t5{fill-opacity:.62}
.picture .noon{stroke:var(--ink);stroke-width:.6;stroke-dasharray:2 3}
.picture .fuse{fill:var(--paper);stroke:var(--ink);stroke-width:1.1}.picture .plug{fill:var(--take);stroke:var(--ink);stroke-width:1.2}
)css";
}

}  // namespace plait::output
