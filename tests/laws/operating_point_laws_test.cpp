// Laws of the meeting of an array and an input, on every panel file of the project and a grid of windows.
#include "shipped_panels.hpp"

#include <plait/physics/acceptance_window.hpp>
#include <plait/physics/datasheet_fit.hpp>
#include <plait/physics/operating_point.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>
#include <vector>

using namespace plait;
using namespace plait::physics;
using laws::shipped_panels;
using laws::ShippedPanel;

namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();

/// A window in shares of a curve's own Vmp, Imp and Pmax. Two bands, the upper one more generous, as on many inputs.
struct Shares {
    double low, edge, high, current, power;
};

AcceptanceWindow window_of(const Shares& s, const PowerPoint& best) {
    AcceptanceWindow w;
    w.low_v = s.low * best.voltage_v;
    w.high_v = s.high * best.voltage_v;
    w.power_w = s.power * best.power_w();
    const double edge_v = s.edge * best.voltage_v;
    w.bands = {{w.low_v, edge_v, 0.7 * s.current * best.current_a}, {edge_v, w.high_v, s.current * best.current_a}};
    return w;
}

/// Runs `check` on every panel's curve in sun and in haze, with windows below, around and above its maximum.
template <class Check>
void in_every_window(Check check) {
    for (const ShippedPanel& shipped : shipped_panels()) {
        const auto fit = fit_datasheet(shipped.panel, CurveMethod::prior_ideality);
        REQUIRE(fit.has_value());
        for (const Condition& condition : {Condition{1000.0, Celsius{-10.0}}, Condition{300.0, Celsius{45.0}}}) {
            const DiodeCurve curve = fit->model.at(condition);
            for (const double low : {0.1, 0.6, 0.95, 1.05}) {
                for (const double width : {0.1, 0.4, 3.0}) {
                    for (const double current : {0.3, 0.9, 1.1}) {
                        for (const double power : {0.3, 0.8, no_limit}) {
                            INFO(shipped.file << ", " << condition.irradiance_w_per_m2 << " W/m², window from " << low
                                              << " to " << low + width << " Vmp, " << current << " Imp, " << power
                                              << " Pmax");
                            check(curve, Shares{low, low + 0.5 * width, low + width, current, power});
                        }
                    }
                }
            }
        }
    }
}

double harvest_w(const DiodeCurve& curve, const AcceptanceWindow& window) {
    return operating_point(curve, window).point.power_w();
}

}  // namespace

TEST_CASE("an operating point lies on the array's curve and inside the window") {
    in_every_window([](const DiodeCurve& curve, const Shares& shares) {
        const AcceptanceWindow window = window_of(shares, curve.maximum_power());
        const OperatingPoint p = operating_point(curve, window);
        if (!p.held()) {
            CHECK(p.point.power_w() == 0.0);
            return;
        }
        const double i = p.point.current_a;
        const double v = p.point.voltage_v;
        CHECK(curve.current_a(v) == Approx(i).epsilon(1e-9).margin(1e-9 * curve.short_circuit_a()));
        CHECK(v >= window.low_v * (1.0 - 1e-12));
        CHECK(v <= window.high_v * (1.0 + 1e-12));
        CHECK(i <= window.current_limit_a(v) * (1.0 + 1e-9));
        CHECK(p.point.power_w() <= window.power_w * (1.0 + 1e-9));
        CHECK(p.lost_w() >= -1e-9 * p.free_maximum.power_w());
    });
}

TEST_CASE("no allowed point on a grid gives more than the operating point") {
    in_every_window([](const DiodeCurve& curve, const Shares& shares) {
        const AcceptanceWindow window = window_of(shares, curve.maximum_power());
        double greatest_w = 0.0;
        constexpr int steps = 60;
        for (int k = 0; k <= steps; ++k) {
            const double v = window.low_v + (window.high_v - window.low_v) * k / steps;
            const double i = curve.current_a(v);
            if (i < 0.0 || i > window.current_limit_a(v) || v * i > window.power_w) continue;
            greatest_w = std::max(greatest_w, v * i);
        }
        CHECK(greatest_w <= harvest_w(curve, window) * (1.0 + 1e-9));
    });
}

TEST_CASE("a wider window never harvests less") {
    in_every_window([](const DiodeCurve& curve, const Shares& shares) {
        const PowerPoint best = curve.maximum_power();
        const double before_w = harvest_w(curve, window_of(shares, best));
        std::vector<Shares> wider(5, shares);
        wider[0].low *= 0.9;
        wider[1].high *= 1.1;
        wider[2].current *= 1.1;
        wider[3].power *= 1.1;
        wider[4].edge = 0.5 * (shares.low + shares.edge);  // the generous band begins earlier
        for (const Shares& w : wider) CHECK(harvest_w(curve, window_of(w, best)) >= before_w * (1.0 - 1e-9));
    });
}

TEST_CASE("with no limit in the way the whole maximum is taken") {
    in_every_window([](const DiodeCurve& curve, const Shares& shares) {
        const PowerPoint best = curve.maximum_power();
        const bool in_the_way =
            shares.low > 1.0 || shares.high < 1.0 || shares.power < 1.0 || shares.current < 1.0 || shares.edge > 1.0;
        if (in_the_way) return;
        CHECK(harvest_w(curve, window_of(shares, best)) == Approx(best.power_w()).epsilon(1e-9));
    });
}
