// A measured window against the printed one. Every sweep is written out, so that what a person would say of it by eye
// is the expectation; figures are invented.
#include <plait/measured/window_comparison.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <utility>
#include <vector>

namespace plait::measured::test {
namespace {

/// Volts, and what an input of these limits takes there, with 0.5 % of wobble, the same each time.
struct BenchInput {
    double start_v = 12.0;
    double trip_v = 63.0;
    double low_a = 8.0;  ///< below 24 V
    double high_a = 13.0;
    double power_w = 400.0;

    [[nodiscard]] double current_a(double v) const {
        if (v < start_v || v >= trip_v) return 0.0;
        return std::min(v < 24.0 ? low_a : high_a, power_w / v);
    }
};

std::vector<SweepRow> swept(const BenchInput& input, double from_v, double to_v, double supply_a = 1e9) {
    std::vector<SweepRow> rows;
    for (double v = from_v; v <= to_v; v += 2.0) {
        SweepRow r;
        r.line = static_cast<int>(rows.size()) + 2;
        r.voltage_v = v;
        const double wobble = rows.size() % 3 == 0 ? 0.995 : rows.size() % 3 == 1 ? 1.005 : 1.0;
        r.supply_was_the_limit = input.current_a(v) > supply_a;
        r.current_a = std::min(supply_a, input.current_a(v)) * wobble;
        rows.push_back(r);
    }
    return rows;
}

LearnedWindow learned(const std::vector<SweepRow>& rows) {
    auto window = learn_window(rows, {});
    INFO((window ? "" : window.error()));
    REQUIRE(window);
    return *std::move(window);
}

Controller printed() {
    Controller c;
    c.name = "Box";
    Input in;
    in.name = "PV1";
    in.max_voltage_v = 60.0;
    in.tracking_min_v = 11.0;
    in.tracking_max_v = 58.0;
    in.start_voltage_v = 11.0;
    in.bands = {{11.0, 24.0, 8.0}, {24.0, 60.0, 13.0}};
    in.max_power_w = 400.0;
    c.inputs.push_back(in);
    return c;
}

std::vector<Compared> compared(const std::vector<SweepRow>& rows, const Controller& c) {
    return compare_window(learned(rows), c, c.inputs[0]);
}

const Compared& the(const std::vector<Compared>& all, ComparedFigure figure, std::size_t nth = 0) {
    for (const Compared& c : all) {
        if (c.figure == figure && nth-- == 0) return c;
    }
    FAIL("no such figure");
    return all.front();
}

Controller controller_from(const std::vector<SweepRow>& rows, const std::optional<Controller>& print) {
    LearnSheet sheet;
    sheet.window = learned(rows);
    sheet.controller = print;
    return learned_controller(sheet);
}

TEST_CASE("the start is told as lower, higher, the same, or not seen") {
    // Readings at 8, 10, 12 V …: 11.0 V lies between the last without and the first with current.
    CHECK(the(compared(swept({}, 8.0, 66.0), printed()), ComparedFigure::start).agreement == Agreement::agrees);
    BenchInput late;
    late.start_v = 16.0;  // between 14 and 16 V
    const auto later = compared(swept(late, 8.0, 66.0), printed());
    CHECK(the(later, ComparedFigure::start).agreement == Agreement::more);
    CHECK(the(later, ComparedFigure::start).likely->lower() == 14.0);
    CHECK(the(later, ComparedFigure::start).likely->upper() == 16.0);
    Controller prints_15 = printed();
    prints_15.inputs[0].start_voltage_v = 15.0;
    CHECK(the(compared(swept({}, 8.0, 66.0), prints_15), ComparedFigure::start).agreement == Agreement::less);
    CHECK(the(compared(swept({}, 14.0, 66.0), printed()), ComparedFigure::start).agreement == Agreement::not_seen);
    Controller silent = printed();
    silent.inputs[0].start_voltage_v.reset();
    CHECK(the(compared(swept({}, 8.0, 66.0), silent), ComparedFigure::start).agreement == Agreement::not_printed);
}

TEST_CASE("each band is held against the printed band it lies in") {
    BenchInput b;
    b.power_w = 1e9;
    Controller c = printed();
    c.inputs[0].max_power_w.reset();
    const auto same = compared(swept(b, 8.0, 66.0), c);
    CHECK(the(same, ComparedFigure::band, 0).agreement == Agreement::agrees);
    CHECK(the(same, ComparedFigure::band, 0).printed_value == 8.0);
    CHECK(the(same, ComparedFigure::band, 1).agreement == Agreement::agrees);
    CHECK(the(same, ComparedFigure::band, 1).printed_value == 13.0);
    b.low_a = 7.0;
    b.high_a = 14.5;
    const auto off = compared(swept(b, 8.0, 66.0), c);
    CHECK(the(off, ComparedFigure::band, 0).agreement == Agreement::less);
    CHECK(*the(off, ComparedFigure::band, 0).value == Approx(7.0).epsilon(0.005));
    CHECK(the(off, ComparedFigure::band, 1).agreement == Agreement::more);
    CHECK(*the(off, ComparedFigure::band, 1).value == Approx(14.5).epsilon(0.005));
    c.inputs[0].bands.clear();
    CHECK(the(compared(swept(b, 8.0, 66.0), c), ComparedFigure::band).agreement == Agreement::not_printed);
}

TEST_CASE("one measured band over two printed ones is told of each") {
    BenchInput b;
    b.low_a = 8.0;
    b.high_a = 8.0;
    b.power_w = 1e9;
    const auto all = compared(swept(b, 8.0, 66.0), printed());
    const Compared& low = the(all, ComparedFigure::band, 0);
    const Compared& high = the(all, ComparedFigure::band, 1);
    CHECK(low.agreement == Agreement::agrees);
    CHECK(low.at_to_v == 24.0);
    CHECK(high.agreement == Agreement::less);
    CHECK(high.printed_value == 13.0);
    CHECK(high.at_from_v == 24.0);
}

TEST_CASE("a printed current that was never reached is not seen; more than it is told even when the supply gave out") {
    BenchInput strong;
    strong.power_w = 200.0;  // 8.3 A at 24 V: nowhere near 13 A
    const auto all = compared(swept(strong, 8.0, 66.0), printed());
    const Compared& high = the(all, ComparedFigure::band, 1);
    CHECK(high.printed_value == 13.0);
    CHECK(high.agreement == Agreement::not_seen);
    CHECK_FALSE(high.value);
    BenchInput wide;
    wide.power_w = 1e9;
    wide.low_a = wide.high_a = 20.0;
    const auto clipped = compared(swept(wide, 8.0, 66.0, 10.0), printed());  // the supply gives 10 A everywhere
    CHECK(the(clipped, ComparedFigure::band, 0).agreement == Agreement::more);
    CHECK(*the(clipped, ComparedFigure::band, 0).value == Approx(10.0).epsilon(0.006));
    CHECK_FALSE(the(clipped, ComparedFigure::band, 0).likely);
    CHECK(the(clipped, ComparedFigure::band, 1).agreement == Agreement::not_seen);
}

TEST_CASE("power is told as lower, higher, the same, not reached, or not printed") {
    CHECK(the(compared(swept({}, 8.0, 66.0), printed()), ComparedFigure::power).agreement == Agreement::agrees);
    BenchInput b;
    b.power_w = 370.0;
    CHECK(the(compared(swept(b, 8.0, 66.0), printed()), ComparedFigure::power).agreement == Agreement::less);
    b.power_w = 440.0;
    CHECK(the(compared(swept(b, 8.0, 66.0), printed()), ComparedFigure::power).agreement == Agreement::more);
    Controller big = printed();
    big.inputs[0].max_power_w = 2000.0;
    b.power_w = 1e9;
    CHECK(the(compared(swept(b, 8.0, 66.0), big), ComparedFigure::power).agreement == Agreement::not_seen);
    // 13 A at 62 V are 800 W, and never was there a limit: more than the printed 400 W all the same.
    const auto beyond = compared(swept(b, 8.0, 66.0), printed());
    CHECK(the(beyond, ComparedFigure::power).agreement == Agreement::more);
    CHECK_FALSE(the(beyond, ComparedFigure::power).likely);
    Controller silent = printed();
    silent.inputs[0].max_power_w.reset();
    CHECK(the(compared(swept({}, 8.0, 66.0), silent), ComparedFigure::power).agreement == Agreement::not_printed);
}

TEST_CASE("the charging current of the battery side is a printed power too") {
    Controller c = printed();
    c.type = ControllerType::step_down;
    c.inputs[0].max_power_w.reset();
    c.battery = Battery{10.0, 12.5, 14.0, 32.0};  // 32 A · 12.5 V = 400 W
    const Compared power = the(compared(swept({}, 8.0, 66.0), c), ComparedFigure::power);
    CHECK(power.printed_value == 400.0);
    CHECK(power.agreement == Agreement::agrees);
}

TEST_CASE("a trip is told against the printed maximum, and is never a permission") {
    BenchInput b;
    b.trip_v = 55.0;  // 54 V works, 56 V does not
    const auto early = compared(swept(b, 8.0, 66.0), printed());
    CHECK(the(early, ComparedFigure::maximum).agreement == Agreement::less);
    CHECK(the(early, ComparedFigure::maximum).likely->lower() == 54.0);
    CHECK(the(early, ComparedFigure::maximum).likely->upper() == 56.0);
    b.trip_v = 61.0;  // 60 V works: the printed figure is an end of the gap
    CHECK(the(compared(swept(b, 8.0, 66.0), printed()), ComparedFigure::maximum).agreement == Agreement::agrees);
    CHECK(the(compared(swept(b, 8.0, 56.0), printed()), ComparedFigure::maximum).agreement == Agreement::not_seen);
    CHECK(the(compared(swept(b, 8.0, 60.0), printed()), ComparedFigure::maximum).agreement == Agreement::not_seen);
    BenchInput late;
    late.trip_v = 67.0;
    const auto rows = swept(late, 8.0, 74.0);
    CHECK(the(compared(rows, printed()), ComparedFigure::maximum).agreement == Agreement::more);
    const auto no_trip = compared(swept(late, 8.0, 64.0), printed());  // still at work at 64 V
    CHECK(the(no_trip, ComparedFigure::maximum).agreement == Agreement::more);
    CHECK(*the(no_trip, ComparedFigure::maximum).value == 64.0);

    const Controller c = controller_from(rows, printed());
    CHECK(c.inputs[0].max_voltage_v == 60.0);
    CHECK(c.inputs[0].tracking_max_v == 60.0);
    REQUIRE_FALSE(c.inputs[0].bands.empty());
    for (const CurrentBand& band : c.inputs[0].bands) CHECK(band.to_v <= 60.0);
    // Without a print nobody knows the maximum: what was seen at work is a window, no permission.
    const Controller alone = controller_from(swept(b, 8.0, 66.0), std::nullopt);
    CHECK_FALSE(alone.inputs[0].max_voltage_v);
    CHECK(alone.inputs[0].tracking_max_v == 60.0);
}

TEST_CASE("a sweep in which power limits everything leaves the printed currents standing") {
    BenchInput b;
    b.low_a = b.high_a = 1e9;  // 100 W from 12 V on: 8.3 A at most
    b.power_w = 100.0;
    const LearnedWindow w = learned(swept(b, 8.0, 66.0));
    REQUIRE(w.pieces.size() == 1);
    REQUIRE(w.pieces[0].kind == PieceKind::constant_power);
    Controller c = printed();
    for (const OverCurrent over : {OverCurrent::not_permitted, OverCurrent::only_clips, OverCurrent::unsaid}) {
        c.inputs[0].over_current = over;
        const Controller out = controller_from(swept(b, 8.0, 66.0), c);
        REQUIRE_FALSE(out.inputs[0].bands.empty());
        REQUIRE(out.inputs[0].bands.size() == 2);
        CHECK(out.inputs[0].bands[0].limit_a == 8.0);
        CHECK(out.inputs[0].bands[1].limit_a == 13.0);
        CHECK(*out.inputs[0].max_power_w == Approx(100.0).epsilon(0.005));
    }
    CHECK(controller_from(swept(b, 8.0, 66.0), std::nullopt).inputs[0].bands.empty());
}

TEST_CASE("a current that must not be exceeded is raised nowhere, band by band") {
    BenchInput b;
    b.low_a = 10.0;
    b.high_a = 10.0;
    b.power_w = 1e9;
    Controller c = printed();
    c.inputs[0].over_current = OverCurrent::not_permitted;
    const Controller out = controller_from(swept(b, 8.0, 66.0), c);
    REQUIRE(out.inputs[0].bands.size() == 2);
    CHECK(out.inputs[0].bands[0].limit_a == 8.0);  // printed below 24 V
    CHECK(out.inputs[0].bands[0].to_v == 24.0);
    CHECK(out.inputs[0].bands[1].limit_a == Approx(10.0).epsilon(0.005));  // measured above
    c.inputs[0].over_current = OverCurrent::only_clips;
    const Controller clips = controller_from(swept(b, 8.0, 66.0), c);
    REQUIRE(clips.inputs[0].bands.size() == 1);
    CHECK(clips.inputs[0].bands[0].limit_a == Approx(10.0).epsilon(0.005));
}

TEST_CASE("where the sweep did not go the printed limits stand") {
    BenchInput b;
    b.power_w = 1e9;
    b.low_a = 7.0;
    // A 32 V supply: from 16 V, where it works already, to 22 V. Nothing above 24 V was seen.
    const Controller out = controller_from(swept(b, 14.0, 22.0), printed());
    CHECK(out.inputs[0].tracking_min_v == 11.0);
    CHECK(out.inputs[0].tracking_max_v == 58.0);
    CHECK(out.inputs[0].start_voltage_v == 11.0);
    REQUIRE(out.inputs[0].bands.size() == 2);
    CHECK(out.inputs[0].bands[0].from_v == 11.0);
    CHECK(out.inputs[0].bands[0].to_v == 24.0);
    CHECK(out.inputs[0].bands[0].limit_a == Approx(7.0).epsilon(0.005));
    CHECK(out.inputs[0].bands[1].to_v == 58.0);
    CHECK(out.inputs[0].bands[1].limit_a == 13.0);
    // Seen whole: nothing of the print is left but the maximum.
    const Controller whole = controller_from(swept(b, 8.0, 66.0), printed());
    CHECK(whole.inputs[0].tracking_min_v == 12.0);
    CHECK(whole.inputs[0].start_voltage_v == 12.0);
    CHECK(whole.inputs[0].tracking_max_v == 60.0);
}

}  // namespace
}  // namespace plait::measured::test
