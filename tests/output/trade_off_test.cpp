// The picture of the trade-offs against the table it is keyed to.
#include "../study/trial.hpp"
#include "../support/report_text.hpp"

#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/search/arrangement.hpp>

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include "report/arrange_words.hpp"

#include <algorithm>

using namespace plait;
using namespace plait::output;
using study::Trial;
using support::times;

TEST_CASE("trade-offs: each wiring once, numbered as in the table, the advised one marked") {
    Trial t = study::roomy_trial();
    t.setup.kinds[0].count = 6;
    const study::SystemModel system(t.setup);
    search::ArrangeRequest request;
    request.trade_offs = true;
    const search::Arrangement a = search::arrange(system, request);
    REQUIRE(a.trade_offs.size() > 1);
    const std::string svg = trade_off_svg(t.setup, a, {}, PictureUse::in_file);
    CHECK(svg.rfind(picture_mark, 0) == 0);
    CHECK(times(svg, "class=\"trade-off\"") == a.trade_offs.size());
    CHECK(times(svg, "data-advised=\"yes\"") == 1);
    for (std::size_t i = 0; i < a.trade_offs.size(); ++i) {
        const search::TradeOff& off = a.trade_offs[i];
        const search::RankedPlan& plan = a.plans[off.plan];
        CHECK(times(svg, fmt::format("data-number=\"{}\" data-harvest-w=\"{:.6g}\" data-shaded-w=\"{:.6g}\" "
                                     "data-worst-w=\"{:.6g}\" data-cold-v=\"{:.6g}\" data-joints=\"{}\"",
                                     off.plan + 1, plan.harvest.european_w, off.one_shaded_mean_w, off.one_shaded_worst_w,
                                     plan.cold_margin_v, plan.joints)) == 1);
    }
    // In words too, for whoever cannot see it.
    CHECK(times(svg, "(advised): PV1 ") == 1);
    const std::string drawn = page(arrange_report(system, a, nullptr, {}, {5, false}, {}));
    CHECK(times(drawn, "class=\"trade-off\"") == a.trade_offs.size());
    for (std::size_t i = 0; i < a.trade_offs.size(); ++i) {
        CHECK(times(drawn, fmt::format("{}. {}<", a.trade_offs[i].plan + 1, plan_label(t.setup, a, a.plans[a.trade_offs[i].plan]))) >= 1);
    }
    const std::string without = page(arrange_report(system, search::arrange(system), nullptr, {}, {5, false}, {}));
    CHECK(times(without, "class=\"trade-off\"") == 0);
}

// Forty plans are looked at by harvest; the advised one may stand further down.
TEST_CASE("trade-offs: the advised wiring is among them") {
    Trial t = study::roomy_trial();
    t.setup.kinds[0].count = 16;
    t.input().max_voltage_v = 400.0;
    t.input().tracking_max_v = 380.0;
    for (int i = 0; i < 3; ++i) t.add_input(t.points.front());
    for (std::size_t i = 0; i < 4; ++i) t.input(i).name = fmt::format("PV{}", i + 1);
    search::ArrangeRequest request;
    request.trade_offs = true;
    const search::Arrangement a = search::arrange(study::SystemModel(t.setup), request);
    REQUIRE(a.advised);
    CHECK(*a.advised >= 40);
    CHECK(std::any_of(a.trade_offs.begin(), a.trade_offs.end(),
                      [&](const search::TradeOff& off) { return off.plan == *a.advised; }));
}
