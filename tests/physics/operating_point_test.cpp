#include <plait/physics/operating_point.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace plait;
using namespace plait::physics;

namespace {

const DiodeCurve sixty_cells{10.0, 1e-9, 1.9, 0.3, 0.002};

bool allowed(const DiodeCurve& curve, const AcceptanceWindow& w, double v) {
    const double i = curve.current_a(v);
    return i >= 0.0 && i <= w.current_limit_a(v) && v * i <= w.power_w;
}

// The best allowed power on a dense grid: never above the exact one, and close below it.
double brute_force_w(const DiodeCurve& curve, const AcceptanceWindow& w, int points) {
    const double top_v = std::min(w.high_v, curve.open_circuit_v());
    double best_w = 0.0;
    for (int k = 0; k <= points; ++k) {
        const double v = w.low_v + (top_v - w.low_v) * k / points;
        if (allowed(curve, w, v)) best_w = std::max(best_w, v * curve.current_a(v));
    }
    for (const CurrentBand& b : w.bands) {
        for (const double v : {b.from_v, b.to_v}) {
            if (v <= top_v && allowed(curve, w, v)) best_w = std::max(best_w, v * curve.current_a(v));
        }
    }
    return best_w;
}

}  // namespace

TEST_CASE("with nothing in the way the input sits on the array's maximum") {
    const OperatingPoint p = operating_point(sixty_cells, {});
    CHECK(p.held());
    CHECK(p.binding == Binding::nothing);
    CHECK(p.lost_w() == 0.0);
}

TEST_CASE("a current cap moves the point up the curve, so the hand rule is pessimistic") {
    const PowerPoint free = sixty_cells.maximum_power();
    AcceptanceWindow w;
    w.bands = {{0.0, 100.0, 0.75 * free.current_a}};
    const OperatingPoint p = operating_point(sixty_cells, w);
    REQUIRE(p.held());
    CHECK(p.binding == Binding::current_limit);
    CHECK(p.point.current_a == Approx(0.75 * free.current_a).epsilon(1e-12));
    // Crystalline silicon capped at 75 % of Imp sits near 1.07–1.10 Vmp (common practice, no source).
    CHECK(p.point.voltage_v / free.voltage_v > 1.05);
    CHECK(p.point.voltage_v / free.voltage_v < 1.12);
    CHECK(p.point.power_w() > p.hand_rule_w);
}

TEST_CASE("under a power cap the high-voltage point counts, unless it lies beyond the window") {
    AcceptanceWindow w;
    w.power_w = 0.6 * sixty_cells.maximum_power().power_w();
    OperatingPoint p = operating_point(sixty_cells, w);
    CHECK(p.binding == Binding::power_limit);
    CHECK(p.point.power_w() == Approx(w.power_w).epsilon(1e-12));
    CHECK_FALSE(p.low_side_of_power_limit);
    w.high_v = p.point.voltage_v - 0.5;
    p = operating_point(sixty_cells, w);
    CHECK(p.point.power_w() == Approx(w.power_w).epsilon(1e-12));
    CHECK(p.low_side_of_power_limit);
}

TEST_CASE("there may be no point at all") {
    AcceptanceWindow w;
    w.low_v = 20.0;
    w.high_v = 30.0;
    w.bands = {{20.0, 30.0, 5.0}};
    CHECK(operating_point(sixty_cells, w).none == NoPoint::pushed_out);
    w.low_v = 60.0;
    w.high_v = 80.0;
    w.bands = {};
    CHECK(operating_point(sixty_cells, w).none == NoPoint::too_low);
    CHECK(operating_point({0.0, 1e-9, 1.9, 0.3, 0.002}, {}).none == NoPoint::dark);
}

TEST_CASE("at a shared band edge the more generous limit counts") {
    AcceptanceWindow w;
    const double edge_v = 34.0;
    const double edge_a = sixty_cells.current_a(edge_v);
    w.bands = {{10.0, edge_v, edge_a + 1.0}, {edge_v, 60.0, edge_a - 3.0}};
    const OperatingPoint p = operating_point(sixty_cells, w);
    REQUIRE(p.held());
    CHECK(p.point.voltage_v == edge_v);
    CHECK(p.binding == Binding::band_edge);
}

TEST_CASE("the window point is the best of a dense brute force, over random windows with bands") {
    std::mt19937 random(20240607);
    const auto uniform = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
    int held = 0;
    int limited = 0;
    for (int n = 0; n < 400; ++n) {
        const int cells = 20 + static_cast<int>(uniform(0.0, 120.0));
        const DiodeCurve curve{uniform(0.2, 20.0), std::pow(10.0, uniform(-12.0, -7.0)), 0.0257 * cells * uniform(1.0, 1.6),
                               uniform(0.0, 0.008) * cells / 2.0, std::pow(10.0, uniform(-5.0, -1.5))};
        const double voc_v = curve.open_circuit_v();
        AcceptanceWindow w;
        w.low_v = uniform(0.0, 0.9) * voc_v;
        w.high_v = w.low_v + uniform(0.05, 1.0) * voc_v;
        if (uniform(0.0, 1.0) < 0.6) w.power_w = uniform(0.3, 1.1) * curve.maximum_power().power_w();
        double from_v = w.low_v;
        while (from_v < w.high_v && w.bands.size() < 4) {
            const double to_v = from_v + uniform(0.05, 0.6) * voc_v;
            w.bands.push_back({from_v, to_v, uniform(0.2, 1.2) * curve.light_current_a});
            from_v = to_v;
        }
        const OperatingPoint p = operating_point(curve, w);
        const double brute_w = brute_force_w(curve, w, 20000);
        INFO("case " << n);
        if (!p.held()) {
            CHECK(brute_w == 0.0);
            continue;
        }
        ++held;
        if (p.binding != Binding::nothing) ++limited;
        // Nothing on the grid is better; and the grid comes within its own spacing.
        CHECK(brute_w <= p.point.power_w() * (1.0 + 1e-9));
        CHECK(brute_w >= p.point.power_w() - curve.light_current_a * 3.0 * voc_v / 2000.0);
        // The point itself is allowed, and on the curve.
        CHECK(curve.current_a(p.point.voltage_v) == Approx(p.point.current_a).epsilon(1e-10).margin(1e-10 * curve.light_current_a));
        CHECK(p.point.voltage_v >= w.low_v);
        CHECK(p.point.voltage_v <= w.high_v);
        CHECK(p.point.current_a <= w.current_limit_a(p.point.voltage_v) * (1.0 + 1e-10));
        CHECK(p.point.power_w() <= w.power_w * (1.0 + 1e-10));
    }
    CHECK(held > 200);
    CHECK(limited > 150);
}
