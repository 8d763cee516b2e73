// Pages and pictures: whatever a file says is text and nothing else.
#include "../study/trial.hpp"

#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include <catch2/catch.hpp>

#include "svg.hpp"

#include <string>

using namespace plait;
using namespace plait::output;
using study::Trial;

namespace {

std::size_t times(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
    return n;
}

const std::string nasty = "</script>&\"'<b>";

/// A set-up whose every name is as bad as it can be, and one that is written from right to left.
Trial nasty_trial() {
    Trial t = study::roomy_trial();
    t.setup.title = nasty;
    t.setup.kinds[0].panel.name = nasty;
    t.input().name = nasty;
    t.setup.doubts.push_back(nasty);
    t.setup.assumptions.push_back({Quantity::site_mounting, {}, {}, nasty, nasty, nasty, nasty});
    Panel other = rules::round_panel();
    other.name = "לוח שמש";
    t.add_kind("other", other);
    return t;
}

}  // namespace

TEST_CASE("escaping: nothing of a text is markup, and control characters never reach it") {
    CHECK(escaped(nasty) == "&lt;/script&gt;&amp;&quot;&#39;&lt;b&gt;");
    CHECK(escaped(std::string("a\x01z\x1b")) == "a\xEF\xBF\xBDz\xEF\xBF\xBD");
    CHECK(escaped("Größe 4 mm²") == "Größe 4 mm²");
}

TEST_CASE("pages: names from files are text, not markup") {
    const Trial t = nasty_trial();
    const study::Bench bench(t.setup);
    ArrayPlan plan(1);
    plan[0].strings = {{{PanelPlace{0, {}}, PanelPlace{1, {}}}, false}, {{PanelPlace{1, {}}, PanelPlace{1, {}}}, true}};
    const study::Judgement judged = study::judge(bench, plan);
    const study::Arrangement arranged = study::arrange(bench);
    const study::CurveSheet sheet{{}, {study::input_curve(bench, 0, plan[0], {}, {})}};
    for (const std::string& page :
         {check_page(bench, judged), arrange_page(bench, arranged, {{plan, judged}}, 5), curve_page(bench, sheet)}) {
        CHECK(page.rfind(page_mark, 0) == 0);
        CHECK(times(page, nasty) == 0);
        CHECK(times(page, "<b>") == 0);
        CHECK(times(page, "<script") == 0);
        CHECK(times(page, "&lt;/script&gt;&amp;") > 0);
        // Self-contained: no address but the name of SVG's own language.
        CHECK(times(page, "http") == times(page, "http://www.w3.org/2000/svg"));
        CHECK(times(page, " src=") + times(page, "url(") + times(page, "@import") + times(page, " href=") == 0);
        CHECK(times(page, "<h1") == 1);
    }
}

TEST_CASE("window map: the region is the window, the tracks are where the input holds the wirings") {
    Trial t = study::roomy_trial();
    t.input().bands = {{0.0, 50.0, 8.0}, {50.0, 100.0, 15.0}};
    t.input().max_power_w = 600.0;
    const study::Bench bench(t.setup);
    const study::WindowMap map = study::window_map(bench, 0, {{written_out({0, 2, 2}), rules::Outcome::clips}});
    REQUIRE(map.regions.size() == 2);
    for (const study::MapRegion& region : map.regions) {
        for (const physics::PowerPoint& p : region) {
            CHECK(p.voltage_v >= map.low_v);
            CHECK(p.power_w() <= 600.0 * (1.0 + 1e-12));
            CHECK(p.current_a <= bench.window(0).current_limit_a(p.voltage_v) * (1.0 + 1e-12));
        }
    }
    for (const physics::PowerPoint& p : map.tracks.front().path) CHECK(study::allows(bench.window(0), p));
    CHECK(map.tracks.front().cold_voc_v == Approx(60.0));  // two panels of 30 V
}
