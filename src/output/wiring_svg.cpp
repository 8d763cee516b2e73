// Strings run left to right, + first; a string longer than a line goes on in the next one, like text. What is drawn is
// what was judged: one box a panel, in order, each with its place in the wiring as data attributes.
#include <plait/output/picture.hpp>

#include "plot_frame.hpp"
#include "style.hpp"

#include <algorithm>
#include <map>

namespace plait::output {
namespace {

constexpr double width = 360.0;
constexpr std::size_t panels_a_line = 5;
constexpr double panel_width = 44.0;
constexpr double panel_height = 30.0;
constexpr double pitch = 54.0;
constexpr double first_x = 52.0;
constexpr double plus_bus_x = 14.0;
constexpr double minus_bus_x = 346.0;
constexpr double line_pitch = 50.0;

/// A letter for each kind in use, in the order of the set-up.
std::map<std::size_t, char> letters(const InputWiring& wiring, std::size_t kinds) {
    std::map<std::size_t, char> out;
    for (std::size_t k = 0; k < kinds; ++k) {
        if (wiring.panel_count(k) > 0) out[k] = static_cast<char>('A' + static_cast<int>(out.size() % 26));
    }
    return out;
}

bool wants_fuses(const study::InputJudgement& judged) {
    return std::any_of(judged.verdicts.begin(), judged.verdicts.end(), [](const study::RuleVerdict& v) {
        return v.rule->id == "string-fuses" && v.finding.decides && v.finding.outcome == rules::Outcome::needs;
    });
}

class Drawing {
public:
    Drawing(const Setup& setup, const study::InputJudgement& judged)
        : setup_(setup),
          judged_(judged),
          letters_(letters(judged.wiring, setup.kinds.size())),
          fused_(wants_fuses(judged)) {}

    [[nodiscard]] std::string svg(PictureUse use) {
        const Input& input = setup_.controller.inputs[judged_.input];
        double height = 24.0;
        for (const SeriesString& s : judged_.wiring.strings)
            height += line_pitch * static_cast<double>(lines_of(s)) + 14.0;
        height += 74.0 + 13.0 * static_cast<double>(letters_.size());
        Svg svg(width, height, fmt::format("wiring-{}", judged_.input),
                fmt::format("How input {} is wired", input.name), description());
        double y = 40.0;
        std::vector<double> tops;
        for (std::size_t s = 0; s < judged_.wiring.strings.size(); ++s) {
            tops.push_back(y);
            y = draw_string(svg, s, y);
        }
        draw_joints(svg, tops, y);
        draw_plug(svg, y);
        double legend_y = y + 52.0;
        for (const auto& [kind, letter] : letters_) {
            const Panel& p = setup_.kinds[kind].panel;
            svg.text({6.0, legend_y},
                     fmt::format("{} = {} × {}", letter, judged_.wiring.panel_count(kind), shortened(p.name, 44)),
                     "small");
            legend_y += 13.0;
        }
        return use == PictureUse::on_page ? svg.inner() : svg.file();
    }

private:
    [[nodiscard]] static std::size_t lines_of(const SeriesString& s) {
        return (s.panels.size() + panels_a_line - 1) / panels_a_line;
    }
    [[nodiscard]] bool joined() const { return judged_.wiring.strings.size() > 1; }

    struct StringFigures {
        double voc_v = 0.0;
        double isc_a = 0.0;
    };
    [[nodiscard]] StringFigures figures(const SeriesString& s) const {
        StringFigures f;
        for (const PanelPlace& p : s.panels) {
            f.voc_v += setup_.kinds[p.kind].panel.voc_v;
            f.isc_a = std::max(f.isc_a, setup_.kinds[p.kind].panel.isc_a);
        }
        return f;
    }

    [[nodiscard]] std::string description() const {
        std::string d = fmt::format("{} in parallel. ", judged_.wiring.strings.size() == 1
                                                            ? "One string, nothing"
                                                            : fmt::format("{} strings", judged_.wiring.strings.size()));
        for (std::size_t s = 0; s < judged_.wiring.strings.size(); ++s) {
            const SeriesString& string = judged_.wiring.strings[s];
            d += fmt::format("String {}, from + to −:", s + 1);
            for (const PanelPlace& p : string.panels) d += " " + setup_.kinds[p.kind].id + ",";
            d.back() = ';';
            d += fmt::format(" {} open at test conditions, {} short{}{}. ", volts(figures(string).voc_v),
                             amps(figures(string).isc_a), string.blocking_diode ? ", with a blocking diode" : "",
                             fused_ ? ", with a fuse" : "");
        }
        d += fmt::format("At the plug: up to {} on the coldest morning, {} short.", volts(cold_v()),
                         amps(judged_.facts.isc_a));
        return d;
    }

    [[nodiscard]] double cold_v() const {
        return judged_.facts.cold_voc_v[static_cast<std::size_t>(setup_.site.cold_method)];
    }

    void draw_panel(Svg& svg, Spot corner, std::size_t s, std::size_t p) {
        const PanelPlace& place = judged_.wiring.strings[s].panels[p];
        svg.open(fmt::format("class=\"panel\" data-input=\"{}\" data-string=\"{}\" data-panel=\"{}\" data-kind=\"{}\"",
                             judged_.input, s, p, escaped(setup_.kinds[place.kind].id)));
        svg.tip(setup_.kinds[place.kind].panel.name);
        svg.rect(corner, panel_width, panel_height, "cell");
        for (int i = 1; i < 4; ++i) {
            const double x = corner.x + panel_width * i / 4.0;
            svg.line({x, corner.y}, {x, corner.y + panel_height}, "cellline");
        }
        svg.line({corner.x, corner.y + panel_height / 2.0}, {corner.x + panel_width, corner.y + panel_height / 2.0},
                 "cellline");
        const auto groups = static_cast<double>(std::max<std::size_t>(place.groups.size(), 1));
        for (std::size_t g = 0; g < place.groups.size(); ++g) {
            if (place.groups[g].light_ratio >= 1.0) continue;
            const double w = panel_width / groups;
            svg.rect({corner.x + w * static_cast<double>(g), corner.y}, w, panel_height, "shade");
        }
        svg.text({corner.x + panel_width / 2.0, corner.y + panel_height / 2.0 + 4.0},
                 std::string(1, letters_.at(place.kind)), "strong", "middle");
        svg.text({corner.x + 3.0, corner.y - 2.0}, "+", "plus");
        svg.text({corner.x + panel_width - 3.0, corner.y - 2.0}, "−", "minus", "end");
        svg.close();
    }

    /// Where the next string begins.
    double draw_string(Svg& svg, std::size_t s, double y) {
        const SeriesString& string = judged_.wiring.strings[s];
        const std::size_t lines = lines_of(string);
        svg.open(fmt::format("class=\"string\" data-string=\"{}\"", s));
        double x_end = first_x;
        for (std::size_t p = 0; p < string.panels.size(); ++p) {
            const std::size_t line = p / panels_a_line;
            const double x = first_x + pitch * static_cast<double>(p % panels_a_line);
            const double top = y + line_pitch * static_cast<double>(line);
            const double mid = top + panel_height / 2.0;
            if (p % panels_a_line > 0) {
                svg.line({x - (pitch - panel_width), mid}, {x, mid}, "wire");
            } else if (line > 0) {
                // From the end of the line above, back to the left.
                const double above = mid - line_pitch;
                const double right = x_end + 6.0;
                const double between = top - 13.0;
                svg.polyline({{x_end, above},
                              {right, above},
                              {right, between},
                              {first_x - 6.0, between},
                              {first_x - 6.0, mid},
                              {x, mid}},
                             "wire");
            }
            draw_panel(svg, {x, top}, s, p);
            x_end = x + panel_width;
        }
        const double first_mid = y + panel_height / 2.0;
        const double last_mid = first_mid + line_pitch * static_cast<double>(lines - 1);
        svg.line({plus_bus_x, first_mid}, {first_x, first_mid}, "wire");
        if (fused_) {
            svg.open("class=\"fuse-symbol\"");
            svg.tip("string fuse");
            svg.rect({plus_bus_x + 10.0, first_mid - 4.0}, 20.0, 8.0, "fuse");
            svg.line({plus_bus_x + 10.0, first_mid}, {plus_bus_x + 30.0, first_mid}, "wire");
            svg.close();
        }
        svg.line({x_end, last_mid}, {minus_bus_x, last_mid}, "wire");
        if (string.blocking_diode) {
            svg.open("class=\"diode-symbol\"");
            svg.tip("blocking diode");
            // Current leaves the string at +: the arrow points towards the bus.
            const double x = first_x - 8.0;
            svg.polygon({{x, first_mid - 5.0}, {x, first_mid + 5.0}, {x - 8.0, first_mid}}, "joint");
            svg.line({x - 8.0, first_mid - 5.0}, {x - 8.0, first_mid + 5.0}, "wire");
            svg.close();
        }
        const StringFigures f = figures(string);
        const double below = y + line_pitch * static_cast<double>(lines) - 8.0;
        svg.text({first_x, below},
                 fmt::format("string {}: {} open (25 °C), {} short", s + 1, volts(f.voc_v), amps(f.isc_a)),
                 "small soft");
        svg.close();
        return y + line_pitch * static_cast<double>(lines) + 14.0;
    }

    void draw_joints(Svg& svg, const std::vector<double>& tops, double y) const {
        const double plug_y = y + 8.0;
        svg.line({plus_bus_x, tops.front() + panel_height / 2.0}, {plus_bus_x, plug_y}, "wire");
        const SeriesString& first = judged_.wiring.strings.front();
        svg.line(
            {minus_bus_x, tops.front() + panel_height / 2.0 + line_pitch * static_cast<double>(lines_of(first) - 1)},
            {minus_bus_x, plug_y}, "wire");
        if (!joined()) return;
        for (std::size_t s = 1; s < tops.size(); ++s) {
            const double mid = tops[s] + panel_height / 2.0;
            const double last = mid + line_pitch * static_cast<double>(lines_of(judged_.wiring.strings[s]) - 1);
            svg.circle({plus_bus_x, mid}, 3.2, "joint");
            svg.circle({minus_bus_x, last}, 3.2, "joint");
        }
    }

    void draw_plug(Svg& svg, double y) const {
        const double plug_y = y + 8.0;
        constexpr double plug_left = 112.0;
        constexpr double plug_width = 136.0;
        svg.line({plus_bus_x, plug_y}, {plug_left, plug_y}, "wire");
        svg.line({plug_left + plug_width, plug_y}, {minus_bus_x, plug_y}, "wire");
        svg.rect({plug_left, plug_y - 12.0}, plug_width, 24.0, "plug");
        svg.text({plug_left + 7.0, plug_y + 4.0}, "+", "plus");
        svg.text({plug_left + plug_width - 7.0, plug_y + 4.0}, "−", "minus", "end");
        svg.text({plug_left + plug_width / 2.0, plug_y + 4.0},
                 shortened(setup_.controller.inputs[judged_.input].name, 12), "strong", "middle");
        svg.text({width / 2.0, plug_y + 26.0},
                 fmt::format("up to {} on the coldest morning, {} short", volts(cold_v()), amps(judged_.facts.isc_a)),
                 "small", "middle");
    }

    const Setup& setup_;
    const study::InputJudgement& judged_;
    std::map<std::size_t, char> letters_;
    bool fused_;
};

}  // namespace

std::string wiring_svg(const Setup& setup, const study::InputJudgement& judged, PictureUse use) {
    return Drawing(setup, judged).svg(use);
}

}  // namespace plait::output
