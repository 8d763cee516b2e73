// The wiring drawing against the wiring, element by element: what must be drawn is worked out here from the set-up,
// what is drawn is read back from the picture.
#include "../study/trial.hpp"
#include "../support/arrays.hpp"

#include <plait/output/picture.hpp>
#include <plait/study/judgement.hpp>

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>
#include <string>

using namespace plait;
using namespace plait::output;
using study::Trial;

namespace {

struct Point {
    double x = 0.0;
    double y = 0.0;
};

/// A group of the picture: its attributes, and the first and last corner of the first line in it.
struct Element {
    std::map<std::string, std::string> attributes;
    Point first;
    Point last;
    bool has_line = false;

    [[nodiscard]] std::string at(const std::string& name) const {
        const auto found = attributes.find(name);
        return found == attributes.end() ? std::string("none") : found->second;
    }
};

std::map<std::string, std::string> attributes_of(const std::string& tag) {
    std::map<std::string, std::string> out;
    for (std::size_t at = tag.find("=\""); at != std::string::npos; at = tag.find("=\"", at)) {
        const std::size_t name = tag.rfind(' ', at) + 1;
        const std::size_t end = tag.find('"', at + 2);
        out[tag.substr(name, at - name)] = tag.substr(at + 2, end - at - 2);
        at = end + 1;
    }
    return out;
}

/// Every group; of a panel first and last are its left and right middle.
std::vector<Element> elements_of(const std::string& svg) {
    std::vector<Element> all;
    std::vector<std::size_t> open;
    for (std::size_t at = svg.find('<'); at != std::string::npos; at = svg.find('<', at + 1)) {
        const std::string tag = svg.substr(at, svg.find('>', at) - at);
        if (tag.rfind("<g ", 0) == 0) {
            open.push_back(all.size());
            all.push_back({attributes_of(tag), {}, {}, false});
        } else if (tag.rfind("</g", 0) == 0) {
            open.pop_back();
        } else if (!open.empty() && !all[open.back()].has_line) {
            Element& e = all[open.back()];
            const std::map<std::string, std::string> own = attributes_of(tag);
            const auto value = [&](const char* name) { return std::atof(own.at(name).c_str()); };
            if (tag.rfind("<polyline", 0) == 0) {
                const std::string& points = own.at("points");
                std::sscanf(points.c_str(), "%lf,%lf", &e.first.x, &e.first.y);
                std::sscanf(points.c_str() + points.rfind(' '), "%lf,%lf", &e.last.x, &e.last.y);
                e.has_line = true;
            } else if (tag.rfind("<rect", 0) == 0 && e.at("class") == "panel") {
                e.first = {value("x"), value("y") + 0.5 * value("height")};
                e.last = {value("x") + value("width"), e.first.y};
                e.has_line = true;
            }
        }
    }
    return all;
}

/// One line for each thing that must be seen, sorted.
using Things = std::multiset<std::string>;

std::string plain(double value) { return fmt::format("{:.6g}", value); }

std::string size_words(const CableSize& size) {
    return size.awg ? fmt::format("{} AWG", *size.awg) : fmt::format("{:g} mm²", size.area_mm2);
}

/// By hand from the set-up, not from the judgement's sheets. All strings' Isc are their strongest panel's; nothing here
/// is bifacial.
Things things_wanted(const Setup& setup, std::size_t input, const InputWiring& wiring) {
    Things out;
    const auto isc_a = [&](const SeriesString& s) {
        double most_a = 0.0;
        for (const PanelPlace& p : s.panels) most_a = std::max(most_a, setup.kinds[p.kind].panel.isc_a);
        return most_a;
    };
    double all_a = 0.0;
    for (const SeriesString& s : wiring.strings) all_a += isc_a(s);
    bool fused = false;
    double cold_v = 0.0;
    for (const SeriesString& s : wiring.strings) {
        double rating_a = 1e9;
        double string_cold_v = 0.0;
        for (const PanelPlace& p : s.panels) {
            const Panel& panel = setup.kinds[p.kind].panel;
            rating_a = std::min(rating_a, panel.max_series_fuse_a);
            string_cold_v += panel.voc_v * (1.0 + panel.voc_coefficient_per_k * (setup.site.coldest_air.degc - 25.0));
        }
        cold_v = std::max(cold_v, string_cold_v);
        // NEC 690.9(A) [from memory]: 1.25 × Isc of the others; IEC asks for less here.
        if (1.25 * (all_a - isc_a(s)) > rating_a * (1.0 + 1e-9)) fused = true;
    }
    const bool joined = wiring.strings.size() > 1;
    if (setup.fittings.string_fuse_a) fused = true;
    fused = fused && joined;
    for (std::size_t s = 0; s < wiring.strings.size(); ++s) {
        const SeriesString& string = wiring.strings[s];
        double voc_v = 0.0;
        for (std::size_t p = 0; p < string.panels.size(); ++p) {
            voc_v += setup.kinds[string.panels[p].kind].panel.voc_v;
            out.insert(fmt::format("panel {} {} {}", s, p, setup.kinds[string.panels[p].kind].id));
            if (p > 0) out.insert(fmt::format("link {} {} {}", s, p - 1, p));
        }
        out.insert(fmt::format("string {} {} {}", s, plain(voc_v), plain(isc_a(string))));
        if (string.blocking_diode) out.insert(fmt::format("diode {}", s));
        if (fused) out.insert(fmt::format("fuse {}", s));
        for (const char* pole : {"plus", "minus"}) {
            out.insert(fmt::format("lead {} {}", s, pole));
            if (s > 0) out.insert(fmt::format("joint {} {}", s, pole));
        }
    }
    for (std::size_t c = 0; c < setup.cables.size(); ++c) {
        const Cable& cable = setup.cables[c];
        if (cable.input && *cable.input != input) continue;
        const std::string words = fmt::format("cable {} {} {}", c, size_words(cable.size), plain(cable.length_m));
        // A trunk that is stated is judged, and so drawn, with one string too.
        if (cable.run == CableRun::trunk) {
            out.insert(words + " trunk plus");
            out.insert(words + " trunk minus");
        }
        for (std::size_t s = 0; s < wiring.strings.size(); ++s) {
            if (cable.run == CableRun::string) {
                out.insert(fmt::format("{} string {} plus", words, s));
                out.insert(fmt::format("{} string {} minus", words, s));
            } else if (cable.run == CableRun::panel_leads) {
                for (std::size_t p = 1; p < wiring.strings[s].panels.size(); ++p) {
                    out.insert(fmt::format("{} leads {} {}", words, s, p - 1));
                }
            }
        }
    }
    out.insert(fmt::format("disconnect {} {}", plain(1.25 * all_a), plain(cold_v)));
    out.insert(fmt::format("plug {} {} {}", input, plain(cold_v), plain(all_a)));
    return out;
}

Things things_drawn(const std::vector<Element>& elements) {
    Things out;
    for (const Element& e : elements) {
        const std::string kind = e.at("class");
        const std::string s = e.at("data-string");
        if (kind == "panel") out.insert(fmt::format("panel {} {} {}", s, e.at("data-panel"), e.at("data-kind")));
        if (kind == "link") out.insert(fmt::format("link {} {} {}", s, e.at("data-from"), e.at("data-to")));
        if (kind == "string") out.insert(fmt::format("string {} {} {}", s, e.at("data-voc-v"), e.at("data-isc-a")));
        if (kind == "diode-symbol") out.insert("diode " + s);
        if (kind == "fuse-symbol") out.insert("fuse " + s);
        if (kind == "lead") out.insert(fmt::format("lead {} {}", s, e.at("data-pole")));
        if (kind == "joint-symbol") out.insert(fmt::format("joint {} {}", s, e.at("data-pole")));
        if (kind == "cable") {
            const std::string words =
                fmt::format("cable {} {} {}", e.at("data-cable"), e.at("data-size"), e.at("data-length-m"));
            const std::string run = e.at("data-run");
            out.insert(run == "trunk"    ? fmt::format("{} trunk {}", words, e.at("data-pole"))
                       : run == "string" ? fmt::format("{} string {} {}", words, s, e.at("data-pole"))
                                         : fmt::format("{} leads {} {}", words, s, e.at("data-from")));
        }
        if (kind == "disconnect") {
            out.insert(fmt::format("disconnect {} {}", e.at("data-needs-a"), e.at("data-needs-v")));
        }
        if (kind == "input-plug") {
            out.insert(fmt::format("plug {} {} {}", e.at("data-input"), e.at("data-cold-v"), e.at("data-isc-a")));
        }
    }
    return out;
}

/// What is on one side only.
std::vector<std::string> differences(const Things& a, const Things& b) {
    std::vector<std::string> out;
    std::set_symmetric_difference(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(out));
    return out;
}

const Element& panel_at(const std::vector<Element>& elements, const std::string& s, const std::string& p) {
    return *std::find_if(elements.begin(), elements.end(), [&](const Element& e) {
        return e.at("class") == "panel" && e.at("data-string") == s && e.at("data-panel") == p;
    });
}

bool same(const Point& a, const Point& b) { return a.x == b.x && a.y == b.y; }

/// Wires end where the panels are: links at − of one and + of the next, leads at the ends of the string.
void check_wires_end_at_panels(const std::vector<Element>& elements, const InputWiring& wiring) {
    for (const Element& e : elements) {
        const std::string s = e.at("data-string");
        if (e.at("class") == "link") {
            CHECK(same(e.first, panel_at(elements, s, e.at("data-from")).last));
            CHECK(same(e.last, panel_at(elements, s, e.at("data-to")).first));
        } else if (e.at("class") == "lead" && e.at("data-pole") == "plus") {
            CHECK(same(e.last, panel_at(elements, s, "0").first));
        } else if (e.at("class") == "lead") {
            const std::size_t last = wiring.strings[std::stoul(s)].panels.size() - 1;
            CHECK(same(e.first, panel_at(elements, s, std::to_string(last)).last));
        }
    }
}

Cable cable(CableRun run, const CableSize& size, double length_m) {
    Cable c;
    c.name = "way " + std::to_string(static_cast<int>(run));
    c.run = run;
    c.size = size;
    c.length_m = length_m;
    return c;
}

/// Two kinds, two inputs, any cables on any run, fuses and disconnect stated or not.
Trial dealt(test::Dice& dice) {
    Trial t = study::roomy_trial();
    Panel other = rules::round_panel();
    other.isc_a = 7.0;
    other.imp_a = 6.0;
    other.pmax_w = 120.0;
    other.max_series_fuse_a = 20.0;
    t.add_kind("other", other);
    t.setup.controller.inputs.push_back(t.setup.controller.inputs.front());
    t.setup.controller.inputs.back().name = "second";
    const std::array<CableSize, 4> sizes{CableSize{4.0, {}}, CableSize{6.0, {}}, CableSize{5.26, 10},
                                         CableSize{2.5, {}}};
    for (const CableRun run : {CableRun::string, CableRun::string, CableRun::trunk, CableRun::panel_leads}) {
        if (!dice.chance(0.5)) continue;
        Cable c = cable(run, sizes[dice.below(sizes.size())], 0.5 * static_cast<double>(1 + dice.below(60)));
        if (dice.chance(0.3)) c.input = dice.below(2);
        t.setup.cables.push_back(c);
    }
    if (dice.chance(0.4)) t.setup.fittings.string_fuse_a = 12.5;
    if (dice.chance(0.4)) t.setup.fittings.disconnect_a = 50.0;
    if (dice.chance(0.4)) t.setup.fittings.disconnect_v = 500.0;
    return t;
}

InputWiring dealt_wiring(test::Dice& dice) {
    InputWiring wiring;
    wiring.strings.resize(1 + dice.below(5));
    for (SeriesString& s : wiring.strings) {
        s.blocking_diode = dice.chance(0.3);
        s.panels.resize(1 + dice.below(12));
        for (PanelPlace& p : s.panels) p.kind = dice.below(2);
    }
    return wiring;
}

std::string drawing_of(const Trial& t, const ArrayPlan& plan) {
    const study::SystemModel system(t.setup);
    const study::Judgement judged = study::judge(system, plan);
    return wiring_svg(t.setup, judged.inputs.front(), judged.verdict, PictureUse::in_file);
}

}  // namespace

TEST_CASE("wiring drawing: every panel, link, lead, fuse, diode, joint, cable, disconnect and plug, and no other") {
    test::Dice dice(4);
    std::size_t with_cables = 0;
    std::size_t with_fuses = 0;
    for (int i = 0; i < 80; ++i) {
        const Trial t = dealt(dice);
        ArrayPlan plan(2);
        const std::size_t input = dice.below(2);
        plan[input] = dealt_wiring(dice);
        CAPTURE(i);
        const std::vector<Element> elements = elements_of(drawing_of(t, plan));
        const Things drawn = things_drawn(elements);
        CHECK(differences(things_wanted(t.setup, input, plan[input]), drawn) == std::vector<std::string>{});
        check_wires_end_at_panels(elements, plan[input]);
        with_cables += std::any_of(drawn.begin(), drawn.end(), [](const auto& d) { return d.rfind("cable", 0) == 0; });
        with_fuses += std::any_of(drawn.begin(), drawn.end(), [](const auto& d) { return d.rfind("fuse", 0) == 0; });
    }
    CHECK(with_cables > 30);
    CHECK(with_fuses > 20);
    CHECK(with_fuses < 75);
}

TEST_CASE("wiring drawing: the comparison sees a drawing of something else") {
    test::Dice dice(11);
    for (int i = 0; i < 20; ++i) {
        Trial t = dealt(dice);
        t.setup.cables = {cable(CableRun::string, {6.0, {}}, 4.0), cable(CableRun::trunk, {10.0, {}}, 12.0)};
        ArrayPlan plan(2);
        plan[0] = dealt_wiring(dice);
        plan[0].strings.resize(2, plan[0].strings.front());
        const Things drawn = things_drawn(elements_of(drawing_of(t, plan)));
        REQUIRE(differences(things_wanted(t.setup, 0, plan[0]), drawn).empty());
        InputWiring other = plan[0];
        other.strings[1].panels[0].kind = 1 - other.strings[1].panels[0].kind;
        CHECK_FALSE(differences(things_wanted(t.setup, 0, other), drawn).empty());
        other = plan[0];
        other.strings[1].panels.push_back({0, {}});
        CHECK_FALSE(differences(things_wanted(t.setup, 0, other), drawn).empty());
        other = plan[0];
        other.strings[0].blocking_diode = !other.strings[0].blocking_diode;
        CHECK_FALSE(differences(things_wanted(t.setup, 0, other), drawn).empty());
        for (const std::size_t c : {std::size_t{0}, std::size_t{1}}) {
            Setup setup = t.setup;
            setup.cables[c].length_m += 1.0;
            CHECK_FALSE(differences(things_wanted(setup, 0, plan[0]), drawn).empty());
            setup.cables.erase(setup.cables.begin() + static_cast<std::ptrdiff_t>(c));
            CHECK_FALSE(differences(things_wanted(setup, 0, plan[0]), drawn).empty());
        }
    }
}

TEST_CASE("wiring drawing: a fuse and a blocking diode in one string do not touch") {
    Trial t = study::roomy_trial();
    t.setup.fittings.string_fuse_a = 12.0;
    t.plan[0] = written_out({0, 2, 2});
    for (SeriesString& s : t.plan[0].strings) s.blocking_diode = true;
    const std::string svg = drawing_of(t, t.plan);
    const auto box = [&](const std::string& of) {
        const std::size_t from = svg.find("class=\"" + of + "\"");
        const std::string inside = svg.substr(from, svg.find("</g>", from) - from);
        double left = 1e9;
        double right = -1e9;
        const auto see = [&](const std::string& name, double add) {
            for (std::size_t at = inside.find(name); at != std::string::npos; at = inside.find(name, at + 1)) {
                const double x = std::atof(inside.c_str() + at + name.size());
                left = std::min(left, x);
                right = std::max(right, x + add);
            }
        };
        see(" x1=\"", 0.0);
        see(" x2=\"", 0.0);
        see("points=\"", 9.0);
        return std::pair<double, double>(left, right);
    };
    CHECK(box("fuse-symbol").first > 0.0);
    CHECK(box("fuse-symbol").second < box("diode-symbol").first);
}
