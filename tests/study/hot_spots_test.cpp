// Which shadows over some cells are called hot spots, and that everybody who reports them says the same watts.
#include "trial.hpp"

#include <plait/study/curve_sheet.hpp>
#include <plait/study/hot_spots.hpp>
#include <plait/study/judgement.hpp>

#include <algorithm>

using namespace plait;
using namespace plait::study;

namespace {

Trial leaf(int cells, double light_ratio) {
    Trial t = roomy_trial();
    t.wire(3, 1);
    PanelPlace& place = t.plan[0].strings[0].panels[1];
    place.groups.assign(static_cast<std::size_t>(std::max(1, t.panel().bypass_diodes)), GroupState{});
    place.groups.back() = {1.0, 0.0, cells, light_ratio};
    return t;
}

std::vector<HotSpot> found(const Trial& t) { return hot_spots(SystemModel(t.setup), 0, t.plan[0]); }

}  // namespace

TEST_CASE("a leaf over a cell is a hot spot, and it is found where it is") {
    const Trial t = leaf(1, 0.2);
    const std::vector<HotSpot> spots = found(t);
    REQUIRE(spots.size() == 1);
    CHECK(spots[0].input == 0);
    CHECK(spots[0].string == 0);
    CHECK(spots[0].panel == 1);
    CHECK(spots[0].group + 1 == t.plan[0].strings[0].panels[1].groups.size());
    CHECK(spots[0].cells.cells_count == 1);
    CHECK(spots[0].cells.cell_v < -1.0);
    CHECK(spots[0].cells.cell_w > hot_spot_cell_w);
    if (spots[0].cells.most_cell_w) CHECK(*spots[0].cells.most_cell_w > spots[0].cells.cell_w);
    CHECK(spots[0].weather.has_value());
}

TEST_CASE("no hot spot without a shadow over some cells only") {
    CHECK(found(leaf(2, 1.0)).empty());
    CHECK(found(leaf(0, 0.2)).empty());
    Trial whole = leaf(0, 1.0);
    whole.plan[0].strings[0].panels[1].groups.back().light_ratio = 0.2;
    CHECK(found(whole).empty());
    CHECK(judged(whole).hot_spots.empty());
}

TEST_CASE("a judgement warns of the hot spots that a curve shows in the same weather") {
    const Trial t = leaf(2, 0.15);
    const SystemModel system(t.setup);
    const Judgement j = judged(t);
    REQUIRE(j.hot_spots.size() == 1);
    CHECK(std::any_of(j.cautions.begin(), j.cautions.end(), [](const Caution& c) { return c.id == "hot-spot"; }));
    Weather weather;
    weather.id = j.hot_spots[0].weather;
    const CurveSheet sheet{weather, {input_curve(system, 0, t.plan[0], weather, {})}};
    const std::vector<HotSpot> shown = hot_spots(sheet);
    REQUIRE(shown.size() == 1);
    CHECK(shown[0].cells.cell_w == Approx(j.hot_spots[0].cells.cell_w).epsilon(1e-9));
    CHECK(shown[0].array_v == Approx(j.hot_spots[0].array_v).epsilon(1e-9));
    // And in no other weather are they hotter.
    for (std::size_t i = 0; i < rules::condition_count; ++i) {
        weather.id = static_cast<rules::ConditionId>(i);
        for (const HotSpot& other : hot_spots(input_curve(system, 0, t.plan[0], weather, {}))) {
            CHECK(other.cells.cell_w <= j.hot_spots[0].cells.cell_w * (1.0 + 1e-9));
            REQUIRE(other.cells.most_cell_w);
            CHECK(*other.cells.most_cell_w <= *j.hot_spots[0].cells.most_cell_w * (1.0 + 1e-9));
            CHECK(*other.cells.most_cell_w >= other.cells.cell_w);
        }
    }
}
