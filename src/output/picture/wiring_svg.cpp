// Strings run left to right, + first; a string longer than a line goes on in the next one, like text. Below them both
// conductors go down to the input: joint, trunk, disconnect, plug. What is drawn is what was judged: every panel, link,
// lead, fuse, diode, joint, cable and the disconnect is one group, with its place and figures as data attributes.
#include <plait/output/picture.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/study/judgement.hpp>

#include "plot_frame.hpp"
#include "render/style.hpp"
#include "wiring_symbols.hpp"

#include <algorithm>
#include <map>

namespace plait::output {
namespace {

constexpr double width = 360.0;
constexpr std::size_t panels_a_line = 5;
constexpr double panel_width = 42.0;
constexpr double panel_height = 30.0;
constexpr double pitch = 51.0;
constexpr double line_pitch = 50.0;
constexpr double text_pitch = 12.0;
// Across, from the + bus: fuse, cable, diode, first panel … last panel, cable, − bus.
constexpr double plus_bus_x = 10.0;
constexpr double fuse_x = 23.0;
constexpr double plus_cable_x = 40.0;
constexpr double diode_x = 52.0;
constexpr double first_x = 64.0;
constexpr double minus_cable_x = 326.0;
constexpr double minus_bus_x = 350.0;
// The two conductors down to the input.
constexpr double plus_x = 56.0;
constexpr double minus_x = 304.0;
constexpr double middle_x = width / 2.0;
constexpr double between_width = minus_x - plus_x - 28.0;

/// A letter for each kind in use, in the order of the set-up.
std::map<std::size_t, char> letters(const InputWiring& wiring, std::size_t kinds) {
    std::map<std::size_t, char> out;
    for (std::size_t k = 0; k < kinds; ++k) {
        if (wiring.panel_count(k) > 0) out[k] = static_cast<char>('A' + static_cast<int>(out.size() % 26));
    }
    return out;
}

/// A name from a file, cut to fit, as a run of its own: one written from right to left leaves the figures beside it in
/// their order (Unicode's first strong isolate).
std::string isolated(std::string_view name, double most_wide) { return "\u2068" + fitting(name, most_wide) + "\u2069"; }

struct StringFigures {
    double voc_v = 0.0;
    double isc_a = 0.0;
    double vmp_v = 0.0;
    double imp_a = 0.0;
};

class Drawing {
public:
    Drawing(const Setup& setup, const study::InputJudgement& judged)
        : setup_(setup),
          judged_(judged),
          letters_(letters(judged.wiring, setup.kinds.size())),
          fused_(study::fuses_wanted(setup, judged.wires)) {
        for (const rules::CableFigures& f : judged.wires.cables) {
            std::vector<std::size_t>& run = runs_[setup.cables[f.cable].run];
            run.push_back(f.cable);
            tags_[f.cable] = fmt::format("w{}", tags_.size() + 1);
        }
    }

    [[nodiscard]] std::string svg(const study::Verdict& plan, PictureUse use) {
        const std::vector<std::string> legend = legend_lines();
        double height = 40.0;
        for (std::size_t s = 0; s < strings().size(); ++s) height += string_height(s);
        const double way_y = height;
        height += 16.0 + (joined() ? 2.0 * text_pitch : 0.0) + 24.0 * static_cast<double>(run(CableRun::trunk).size()) +
                  36.0 + 32.0 + 3.0 * text_pitch;
        const double legend_y = height;
        height += 13.0 * static_cast<double>(legend.size());
        Svg svg(width, height, fmt::format("wiring-{}", judged_.input),
                fmt::format("How input {} is wired", input().name), description());
        double y = 40.0;
        std::vector<double> tops;
        for (std::size_t s = 0; s < strings().size(); ++s) {
            tops.push_back(y);
            draw_string(svg, s, y);
            y += string_height(s);
        }
        draw_buses(svg, tops, way_y);
        draw_way_down(svg, way_y);
        double line_y = legend_y;
        for (const std::string& l : legend) {
            svg.text({6.0, line_y}, l, "small");
            line_y += 13.0;
        }
        if (plan.connection == study::Connection::forbidden) svg.across("EXCEEDS");
        return finished(svg, setup_, plan, use);
    }

private:
    [[nodiscard]] const std::vector<SeriesString>& strings() const { return judged_.wiring.strings; }
    [[nodiscard]] const Input& input() const { return setup_.controller.inputs[judged_.input]; }
    [[nodiscard]] static std::size_t lines_of(const SeriesString& s) {
        return (s.panels.size() + panels_a_line - 1) / panels_a_line;
    }
    [[nodiscard]] bool joined() const { return strings().size() > 1; }
    [[nodiscard]] std::vector<std::size_t> run(CableRun r) const {
        const auto found = runs_.find(r);
        return found == runs_.end() ? std::vector<std::size_t>{} : found->second;
    }
    [[nodiscard]] const rules::ConditionPoint& point(rules::ConditionId id) const {
        return judged_.points[static_cast<std::size_t>(id)];
    }

    [[nodiscard]] StringFigures figures(const SeriesString& s) const {
        StringFigures f;
        for (const PanelPlace& place : s.panels) {
            const Panel& p = setup_.kinds[place.kind].panel;
            // In series the weakest decides at work; in a short the strongest may, through the others' bypass diodes.
            f.imp_a = f.vmp_v > 0.0 ? std::min(f.imp_a, p.imp_a) : p.imp_a;
            f.isc_a = std::max(f.isc_a, p.isc_a);
            f.voc_v += p.voc_v;
            f.vmp_v += p.vmp_v;
        }
        return f;
    }

    /// The first string that is panel for panel like this one; itself where it is the first of its kind.
    [[nodiscard]] std::size_t first_like(std::size_t s) const {
        const auto same = std::find_if(strings().begin(), strings().end(), [&](const SeriesString& other) {
            return other.panels.size() == strings()[s].panels.size() &&
                   std::equal(other.panels.begin(), other.panels.end(), strings()[s].panels.begin(),
                              [](const PanelPlace& a, const PanelPlace& b) { return a.kind == b.kind; });
        });
        return static_cast<std::size_t>(same - strings().begin());
    }

    /// True where the words about a string fit on its wire, right of its last panel.
    [[nodiscard]] bool words_on_wire(std::size_t s) const {
        const std::size_t last = (strings()[s].panels.size() - 1) % panels_a_line;
        return first_like(s) != s && last < 2;
    }
    [[nodiscard]] double string_height(std::size_t s) const {
        const double words = words_on_wire(s) ? 0.0 : first_like(s) == s ? 2.0 * text_pitch : text_pitch;
        return line_pitch * static_cast<double>(lines_of(strings()[s])) + words;
    }

    /// The fuse of a string.
    [[nodiscard]] std::optional<double> fuse_a(std::size_t s) const {
        for (const rules::StringFuse& f : judged_.wires.fuses) {
            if (std::find(f.strings.begin(), f.strings.end(), s) != f.strings.end()) return study::chosen_fuse_a(setup_, f);
        }
        return std::nullopt;
    }

    [[nodiscard]] std::string cable_words(std::size_t c) const {
        const Cable& cable = setup_.cables[c];
        const std::string words =
            fmt::format("{} {}, {:g} m", size_text(cable.size), plait::name_of(cable.kind), cable.length_m);
        switch (cable.run) {
            case CableRun::panel_leads:
                return words + " at both ends of a panel";
            case CableRun::string:
                return words + (joined()                       ? ", each string to the joint"
                                : run(CableRun::trunk).empty() ? ", string to input"
                                                               : ", from the string");
            case CableRun::trunk:
                return words + (joined() ? ", joint to input" : ", to the input");
            case CableRun::battery:
                break;
        }
        return words;
    }

    [[nodiscard]] std::string disconnect_words() const {
        const std::optional<double>& a = setup_.fittings.disconnect_a;
        const std::optional<double>& v = setup_.fittings.disconnect_v;
        if (a && v) return fmt::format("{:g} A, {:g} V", *a, *v);
        return fmt::format("{}, {}{}", a ? fmt::format("{:g} A", *a) : amps(judged_.wires.bright_isc_a),
                           v ? fmt::format("{:g} V", *v) : volts(judged_.wires.stand_v), " or more");
    }

    [[nodiscard]] std::vector<std::string> legend_lines() const {
        std::vector<std::string> lines;
        for (const auto& [kind, letter] : letters_) {
            const std::string before = fmt::format("{} = {} × ", letter, judged_.wiring.panel_count(kind));
            lines.push_back(before + isolated(setup_.kinds[kind].panel.name, width - 12.0 - wide(before, 9.5)));
        }
        for (const auto& [cable, tag] : tags_) {
            const std::string before = tag + " = ";
            const std::string words = ": " + cable_words(cable);
            lines.push_back(before + isolated(setup_.cables[cable].name, width - 12.0 - wide(before + words, 9.5)) +
                            words);
        }
        if (fused_) lines.emplace_back("box with a line: string fuse, in the + pole");
        if (std::any_of(strings().begin(), strings().end(), [](const SeriesString& s) { return s.blocking_diode; })) {
            lines.emplace_back("arrow with a bar: blocking diode, pointing where the current goes");
        }
        if (!tags_.empty()) lines.emplace_back("metres one way: there and back is twice that");
        return lines;
    }

    [[nodiscard]] std::string description() const {
        std::string d = joined() ? fmt::format("{} strings in parallel. ", strings().size())
                                 : std::string("One string, nothing in parallel. ");
        for (std::size_t s = 0; s < strings().size(); ++s) {
            const SeriesString& string = strings()[s];
            if (first_like(s) != s && string.blocking_diode == strings()[first_like(s)].blocking_diode) {
                d += fmt::format("String {}: as string {}. ", s + 1, first_like(s) + 1);
                continue;
            }
            d += fmt::format("String {}, from + to −:", s + 1);
            for (const PanelPlace& p : string.panels) d += " " + setup_.kinds[p.kind].id + ",";
            d.back() = ';';
            const StringFigures f = figures(string);
            d += fmt::format(" {} open at test conditions, {} short{}", volts(f.voc_v), amps(f.isc_a),
                             string.blocking_diode ? ", with a blocking diode" : "");
            if (fused_) d += ", with a fuse" + (fuse_a(s) ? fmt::format(" of {:g} A", *fuse_a(s)) : std::string());
            d += ". ";
        }
        for (const auto& [cable, tag] : tags_) {
            d += fmt::format("{}: {}. ", setup_.cables[cable].name, cable_words(cable));
        }
        d += fmt::format("A disconnect for both poles, {}. At the plug: up to {} on the coldest morning, {} short.",
                         disconnect_words(), volts(judged_.wires.stand_v), amps(judged_.facts.isc_a));
        return d;
    }

    void draw_panel(Svg& svg, Spot corner, std::size_t s, std::size_t p) {
        const PanelPlace& place = strings()[s].panels[p];
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
            const GroupState& group = place.groups[g];
            if (group.light_ratio >= 1.0 && !group.part_shaded()) continue;
            const double w = panel_width / groups;
            // Of a group that is shaded in part, the share of its cells.
            const double cells = setup_.kinds[place.kind].panel.cells_of_a_group();
            const double share = group.light_ratio < 1.0 ? 1.0 : std::clamp(group.shaded_cells / cells, 0.1, 1.0);
            svg.rect({corner.x + w * static_cast<double>(g), corner.y}, w, panel_height * share, "shade");
        }
        svg.text({corner.x + panel_width / 2.0, corner.y + panel_height / 2.0 + 4.0},
                 std::string(1, letters_.at(place.kind)), "strong", "middle");
        svg.text({corner.x + 2.0, corner.y - 2.0}, "+", "plus");
        svg.text({corner.x + panel_width - 2.0, corner.y - 2.0}, "−", "minus", "end");
        svg.close();
    }

    /// Marks of all cables of a run on one level conductor; `place`: its data attributes.
    void draw_cables(Svg& svg, CableRun r, Spot at, const std::string& place) const {
        const std::vector<std::size_t> cables = run(r);
        double x = at.x - 2.0 * static_cast<double>(cables.size()) + 2.0;
        for (const std::size_t c : cables) {
            open_cable(svg, c, place);
            draw_cable_mark(svg, {x, at.y}, false);
            svg.close();
            x += 4.0;
        }
        // The jumpers stand too close for words; the legend has them.
        if (cables.empty() || r == CableRun::panel_leads) return;
        std::string words = tags_.at(cables.front());
        if (cables.size() > 1) words += (cables.size() > 2 ? "…" : "+") + tags_.at(cables.back());
        svg.text({at.x, at.y - 7.0}, words, "tag", "middle");
    }

    void open_cable(Svg& svg, std::size_t c, const std::string& place) const {
        const Cable& cable = setup_.cables[c];
        svg.open(fmt::format(
            "class=\"cable\" data-cable=\"{}\" data-run=\"{}\" data-size=\"{}\" data-length-m=\"{:.6g}\" {}", c,
            plait::name_of(cable.run), size_text(cable.size), cable.length_m, place));
        svg.tip(fmt::format("{}: {}", cable.name, cable_words(c)));
    }

    void draw_string(Svg& svg, std::size_t s, double y) {
        const SeriesString& string = strings()[s];
        const std::size_t lines = lines_of(string);
        const StringFigures f = figures(string);
        svg.open(fmt::format("class=\"string\" data-string=\"{}\" data-voc-v=\"{:.6g}\" data-isc-a=\"{:.6g}\"", s,
                             f.voc_v, f.isc_a));
        double x_end = first_x;
        for (std::size_t p = 0; p < string.panels.size(); ++p) {
            const std::size_t line = p / panels_a_line;
            const double x = first_x + pitch * static_cast<double>(p % panels_a_line);
            const double top = y + line_pitch * static_cast<double>(line);
            const double mid = top + panel_height / 2.0;
            if (p > 0) {
                svg.open(fmt::format("class=\"link\" data-string=\"{}\" data-from=\"{}\" data-to=\"{}\"", s, p - 1, p));
                Spot jumper{0.5 * (x_end + x), mid};
                if (p % panels_a_line > 0) {
                    svg.polyline({{x_end, mid}, {x, mid}}, "wire");
                } else {
                    // From the end of the line above, back to the left.
                    const double above = mid - line_pitch;
                    const double right = x_end + 5.0;
                    const double between = top - 13.0;
                    jumper = {middle_x, between};
                    svg.polyline({{x_end, above},
                                  {right, above},
                                  {right, between},
                                  {first_x - 6.0, between},
                                  {first_x - 6.0, mid},
                                  {x, mid}},
                                 "wire");
                }
                draw_cables(svg, CableRun::panel_leads, jumper,
                            fmt::format("data-string=\"{}\" data-from=\"{}\"", s, p - 1));
                svg.close();
            }
            draw_panel(svg, {x, top}, s, p);
            x_end = x + panel_width;
        }
        const double first_mid = y + panel_height / 2.0;
        const double last_mid = first_mid + line_pitch * static_cast<double>(lines - 1);
        const auto pole = [s](const char* name) { return fmt::format("data-string=\"{}\" data-pole=\"{}\"", s, name); };
        svg.open("class=\"lead\" " + pole("plus"));
        svg.polyline({{plus_bus_x, first_mid}, {first_x, first_mid}}, "wire");
        svg.close();
        svg.open("class=\"lead\" " + pole("minus"));
        svg.polyline({{x_end, last_mid}, {minus_bus_x, last_mid}}, "wire");
        svg.close();
        if (fused_) {
            const std::optional<double> fuse = fuse_a(s);
            svg.open(fmt::format("class=\"fuse-symbol\" data-string=\"{}\" data-amps=\"{}\"", s,
                                 fuse ? fmt::format("{:.6g}", *fuse) : std::string()));
            svg.tip("string fuse");
            draw_fuse(svg, {fuse_x, first_mid});
            svg.text({plus_bus_x + 4.0, first_mid + 15.0}, fuse ? fmt::format("{:g} A", *fuse) : std::string("no size"),
                     "tag");
            svg.close();
        }
        if (string.blocking_diode) {
            svg.open(fmt::format("class=\"diode-symbol\" data-string=\"{}\"", s));
            svg.tip("blocking diode");
            draw_diode(svg, {diode_x, first_mid});
            svg.close();
        }
        draw_cables(svg, CableRun::string, {plus_cable_x, first_mid}, pole("plus"));
        draw_cables(svg, CableRun::string, {minus_cable_x, last_mid}, pole("minus"));
        const double below = y + line_pitch * static_cast<double>(lines) - 8.0;
        const std::string alike = fmt::format("string {}: as string {}", s + 1, first_like(s) + 1);
        if (words_on_wire(s)) {
            svg.text({minus_cable_x - 16.0, last_mid - 5.0}, alike, "small soft", "end");
        } else if (first_like(s) != s) {
            svg.text({first_x, below}, alike, "small soft");
        } else {
            svg.text({first_x, below},
                     fmt::format("string {}: {} open, {} short", s + 1, volts(f.voc_v), amps(f.isc_a)), "small soft");
            svg.text({first_x, below + text_pitch},
                     fmt::format("at work {}, {} (25 °C, full sun)", volts(f.vmp_v), amps(f.imp_a)), "small soft");
        }
        svg.close();
    }

    void draw_buses(Svg& svg, const std::vector<double>& tops, double way_y) const {
        const auto minus_y = [&](std::size_t s) {
            return tops[s] + panel_height / 2.0 + line_pitch * static_cast<double>(lines_of(strings()[s]) - 1);
        };
        const double plus_y = tops.front() + panel_height / 2.0;
        svg.polyline({{plus_bus_x, plus_y}, {plus_bus_x, way_y}, {plus_x, way_y}}, "wire");
        svg.polyline({{minus_bus_x, minus_y(0)}, {minus_bus_x, way_y}, {minus_x, way_y}}, "wire");
        svg.text({plus_bus_x, plus_y - 7.0}, "+", "plus", "middle");
        svg.text({minus_bus_x + 1.0, minus_y(0) - 7.0}, "−", "minus", "middle");
        for (std::size_t s = 1; s < tops.size(); ++s) {
            svg.open(fmt::format("class=\"joint-symbol\" data-string=\"{}\" data-pole=\"plus\"", s));
            svg.circle({plus_bus_x, tops[s] + panel_height / 2.0}, 3.2, "joint");
            svg.close();
            svg.open(fmt::format("class=\"joint-symbol\" data-string=\"{}\" data-pole=\"minus\"", s));
            svg.circle({minus_bus_x, minus_y(s)}, 3.2, "joint");
            svg.close();
        }
    }

    /// Joint, trunk, disconnect and plug.
    void draw_way_down(Svg& svg, double way_y) const {
        double y = way_y + 16.0;
        const auto between = [&](double at_y, const std::string& words, std::string_view css) {
            svg.text({middle_x, at_y}, fitting(words, between_width), css, "middle");
        };
        if (joined()) {
            const rules::ConditionPoint& stc = point(rules::ConditionId::stc);
            between(y - 4.0, fmt::format("joint: {} to 1 in + and in −", strings().size()), "small");
            between(y + text_pitch - 4.0,
                    fmt::format("{} open, {} short (25 °C)", volts(stc.open_circuit_v), amps(stc.short_circuit_a)),
                    "small soft");
            y += 2.0 * text_pitch;
        }
        const double trunk_y = y;
        y += 24.0 * static_cast<double>(run(CableRun::trunk).size());
        const double disconnect_y = y + 16.0;
        y += 36.0;
        for (const double x : {plus_x, minus_x}) {
            svg.line({x, way_y}, {x, disconnect_y - 8.0}, "wire");
            svg.line({x, disconnect_y + 8.0}, {x, y}, "wire");
        }
        double row_y = trunk_y + 8.0;
        for (const std::size_t c : run(CableRun::trunk)) {
            const Cable& cable = setup_.cables[c];
            for (const char* pole : {"plus", "minus"}) {
                open_cable(svg, c, fmt::format("data-pole=\"{}\"", pole));
                draw_cable_mark(svg, {pole[0] == 'p' ? plus_x : minus_x, row_y}, true);
                svg.close();
            }
            const std::string words = fmt::format(": {}, {:g} m", size_text(cable.size), cable.length_m);
            const std::string tag = tags_.at(c) + " ";
            svg.text({middle_x, row_y + 3.5},
                     tag + isolated(cable.name, between_width - wide(tag + words, 9.5)) + words, "small", "middle");
            row_y += 24.0;
        }
        svg.open(fmt::format("class=\"disconnect\" data-needs-a=\"{:.6g}\" data-needs-v=\"{:.6g}\"",
                             judged_.wires.bright_isc_a, judged_.wires.stand_v));
        svg.tip("disconnect, both poles");
        draw_switch(svg, {plus_x, disconnect_y});
        draw_switch(svg, {minus_x, disconnect_y});
        svg.line({plus_x + 4.0, disconnect_y}, {minus_x + 4.0, disconnect_y}, "coupled");
        between(disconnect_y - 4.0, "disconnect, both poles at once", "small");
        between(disconnect_y + 11.0, disconnect_words(), "small");
        svg.close();
        draw_plug(svg, y);
    }

    void draw_plug(Svg& svg, double y) const {
        const double left = plus_x - 12.0;
        svg.open(fmt::format("class=\"input-plug\" data-input=\"{}\" data-cold-v=\"{:.6g}\" data-isc-a=\"{:.6g}\"",
                             judged_.input, judged_.wires.stand_v, judged_.facts.isc_a));
        svg.rect({left, y}, width - 2.0 * left, 24.0, "plug");
        svg.text({left + 7.0, y + 16.0}, "+", "plus");
        svg.text({width - left - 7.0, y + 16.0}, "−", "minus", "end");
        svg.text({middle_x, y + 16.0}, fitting(input().name, minus_x - plus_x - 20.0, 11.0, true), "strong", "middle");
        svg.text({middle_x, y + 37.0},
                 fmt::format("coldest morning: up to {} open; {} short", volts(judged_.wires.stand_v),
                             amps(judged_.facts.isc_a)),
                 "small", "middle");
        const physics::OperatingPoint& op = point(rules::ConditionId::warm_bright).operating;
        svg.text({middle_x, y + 37.0 + text_pitch},
                 op.held() ? fmt::format("warm and bright: {}, {}, {}", volts(op.point.voltage_v),
                                         amps(op.point.current_a), watts(op.point.power_w()))
                           : std::string("warm and bright: the input takes nothing"),
                 "small soft", "middle");
        svg.close();
    }

    const Setup& setup_;
    const study::InputJudgement& judged_;
    std::map<std::size_t, char> letters_;
    std::map<CableRun, std::vector<std::size_t>> runs_;
    std::map<std::size_t, std::string> tags_;  ///< by cable of the set-up
    bool fused_;
};

}  // namespace

std::string wiring_svg(const Setup& setup, const study::InputJudgement& judged, const study::Verdict& plan,
                       PictureUse use) {
    return Drawing(setup, judged).svg(plan, use);
}

}  // namespace plait::output
