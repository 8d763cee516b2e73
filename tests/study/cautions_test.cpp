#include "trial.hpp"

#include <algorithm>

using namespace plait;
using namespace plait::study;

namespace {

std::vector<Caution> cautions(const Trial& t) { return cautions_for(t.setup, t.plan); }

bool has(const std::vector<Caution>& list, std::string_view id) {
    return std::any_of(list.begin(), list.end(), [&](const Caution& c) { return c.id == id; });
}

}  // namespace

// 60 V DC dry, 30 to 35 V wet, 120 V extra-low voltage: IEC 61140 and IEC 60364-4-41; 80 V: NEC 690.11 [from memory].
TEST_CASE("the first caution is scaled to the cold voltage, rounded up") {
    Trial t;
    const auto first = [&](int in_series) { return cautions(t.wire(in_series, 1)).front(); };
    CHECK(first(1).id == "low-voltage");  // 30 V
    CHECK(first(2).id == "touch-dry");    // 60 V is not above 60 V
    CHECK(first(3).id == "shock-and-arc");
    CHECK(first(4).id == "shock-and-arc");  // 120 V is not above 120 V
    CHECK(first(5).id == "hazardous-live");
    CHECK_THAT(first(5).text, Catch::Matchers::Contains("150 V DC: hazardous to life"));
    t.panel().voc_v = 25.2;  // 30.24 V a panel in the cold
    CHECK(first(2).id == "shock");
    CHECK_THAT(first(2).text, Catch::Matchers::Contains("61 V"));
    CHECK(first(4).id == "hazardous-live");
}

TEST_CASE("cautions about joints come with the joints") {
    Trial t;
    const auto one = cautions(t.wire(1, 1));
    CHECK_FALSE(has(one, "equal-strings"));
    CHECK_FALSE(has(one, "fuse-each-string"));
    CHECK_FALSE(has(one, "same-connectors"));
    CHECK(has(cautions(t.wire(2, 1)), "same-connectors"));
    const auto two = cautions(t.wire(1, 2));
    CHECK(has(two, "equal-strings"));
    CHECK_FALSE(has(two, "fuse-each-string"));
    CHECK(has(cautions(t.wire(1, 3)), "fuse-each-string"));
}

TEST_CASE("cautions about the weather and the battery come with them") {
    Trial t;
    CHECK_FALSE(has(cautions(t), "mean-not-record"));
    CHECK_FALSE(has(cautions(t), "battery-first"));
    t.site().coldest_basis = TemperatureBasis::mean_extreme;
    CHECK(has(cautions(t), "mean-not-record"));
    t.site().coldest_basis = TemperatureBasis::forecast;
    CHECK(has(cautions(t), "forecast-only"));
    t.controller().battery = Battery{};
    CHECK(has(cautions(t), "battery-first"));
}

TEST_CASE("every plan: light, meter, load, and who has the last word; each once, each with a source") {
    Trial t;
    for (const int in_parallel : {1, 2, 5}) {
        const auto list = cautions(t.wire(2, in_parallel));
        for (const char* id : {"live-when-lit", "measure-first", "never-under-load", "defer"}) CHECK(has(list, id));
        CHECK(list.back().id == "defer");
        for (const Caution& c : list) {
            CHECK(std::count_if(list.begin(), list.end(), [&](const Caution& o) { return o.id == c.id; }) == 1);
            CHECK_FALSE(c.text.empty());
            CHECK_FALSE(c.source.empty());
        }
    }
}
