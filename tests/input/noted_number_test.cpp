// Amps and watts as hands note them.
#include "read_log.hpp"

namespace plait::input::test {
namespace {

TEST_CASE("notes that are no exact figure are readings with a width") {
    struct Note {
        const char* text;
        double value, width;
    };
    for (const Note& n : {Note{"8–9", 8.5, 1.0}, Note{"8-9", 8.5, 1.0}, Note{"8 to 9", 8.5, 1.0}, Note{"about 8", 8.0, 2.0},
                          Note{"~8", 8.0, 2.0}, Note{"ca. 8 A", 8.0, 2.0}, Note{"8ish", 8.0, 2.0}, Note{"8.5ish", 8.5, 0.2},
                          Note{"<15", 7.5, 15.0}, Note{"about 120", 120.0, 20.0}}) {
        INFO(n.text);
        const ReadLog r = read_log("V,A\n40," + std::string(n.text) + "\n");
        REQUIRE(r.rows.size() == 1);
        CHECK(r.rows[0].current_a.value_or(0.0) == Approx(n.value));
        CHECK(r.rows[0].current_step_a == Approx(n.width));
        CHECK(r.rows[0].current_vague);
    }
}

TEST_CASE("plain numbers carry the step of their last digit, in the unit that is kept") {
    const ReadLog r = read_log("V,mA,W\n40,8000,320\n40,8000,320.5\n");
    REQUIRE(r.rows.size() == 2);
    CHECK(r.rows[0].current_step_a == Approx(0.001));
    CHECK(r.rows[0].power_step_w == Approx(1.0));
    CHECK(r.rows[1].power_step_w == Approx(0.1));
    CHECK_FALSE(r.rows[0].current_vague);
}

TEST_CASE("ranges of volts, and ranges that fall, are asked about") {
    for (const char* text : {"V,A\n40-41,8\n", "V,A\n40,9-8\n", "V,A\n40,8-\n"}) {
        INFO(text);
        CHECK_FALSE(read_measured(text, "x", [](const MeasuredRow&) {}));
    }
}

}  // namespace
}  // namespace plait::input::test
