#include "trial.hpp"

using namespace plait;
using namespace plait::study;
using rules::ConditionId;

namespace {

LevelPowers only(std::size_t level) {
    LevelPowers w{};
    w[level] = 1.0;
    return w;
}

const rules::ConditionPoint& at(const rules::ConditionPoints& points, ConditionId id) {
    return points[static_cast<std::size_t>(id)];
}

}  // namespace

// The weights of the European and CEC efficiencies (EN 50530, annex; CEC protocol of 2004) [from memory].
TEST_CASE("harvest: the published weights, at the published levels") {
    const std::vector<double> levels{0.05, 0.10, 0.20, 0.30, 0.50, 0.75, 1.00};
    const std::vector<double> european{0.03, 0.06, 0.13, 0.10, 0.48, 0.00, 0.20};
    const std::vector<double> cec{0.00, 0.04, 0.05, 0.12, 0.21, 0.53, 0.05};
    REQUIRE(harvest_levels.size() == levels.size());
    for (std::size_t l = 0; l < levels.size(); ++l) {
        CAPTURE(levels[l]);
        CHECK(harvest_levels[l] == levels[l]);
        CHECK(weighted(only(l)).european_w == european[l]);
        CHECK(weighted(only(l)).cec_w == cec[l]);
    }
}

TEST_CASE("harvest: the weights sum to one, and watts add up") {
    LevelPowers flat{};
    flat.fill(1.0);
    CHECK(weighted(flat).european_w == exactly(1.0));
    CHECK(weighted(flat).cec_w == exactly(1.0));
    LevelPowers rising{};
    for (std::size_t l = 0; l < rising.size(); ++l) rising[l] = 100.0 * harvest_levels[l];
    // By hand: 0.15 + 0.6 + 2.6 + 3 + 24 + 20 = 50.35; 0.4 + 1 + 3.6 + 10.5 + 39.75 + 5 = 60.25.
    CHECK(weighted(rising).european_w == exactly(50.35));
    CHECK(weighted(rising).cec_w == exactly(60.25));
}

TEST_CASE("conditions: light, air and cells by hand") {
    Trial t = roomy_trial();
    t.site().warm_air = Celsius{25.0};
    t.site().peak_irradiance_w_per_m2 = 1100.0;
    t.wire(2, 1);
    struct Expected {
        ConditionId id;
        double light_w_per_m2;
        double air_degc;
        double cell_degc;
    };
    const auto check = [&](const std::vector<Expected>& all) {
        const rules::ConditionPoints points = SystemModel(t.setup).points(0, t.plan[0]);
        for (const Expected& e : all) {
            const rules::ConditionPoint& p = at(points, e.id);
            CAPTURE(name_of(e.id));
            CHECK(p.id == e.id);
            CHECK(p.condition.irradiance_w_per_m2 == e.light_w_per_m2);
            CHECK(p.air.degc == e.air_degc);
            CHECK(p.condition.cell.degc == exactly(e.cell_degc));
        }
    };
    SECTION("propped up: 35 K over the air in full light; frost finds the cells unheated") {
        t.site().mounting = Mounting::propped_up;
        check({{ConditionId::cold_bright, 1100.0, -25.0, -25.0},
               {ConditionId::stc, 1000.0, 25.0, 25.0},
               {ConditionId::warm_bright, 1000.0, 25.0, 60.0},
               {ConditionId::hot_bright, 1100.0, 40.0, 78.5},
               {ConditionId::weak_light, 200.0, 25.0, 32.0}});
    }
    SECTION("open rack: (47 − 20) K at 800 W/m², IEC 61215") {
        t.site().mounting = Mounting::open_rack;
        check({{ConditionId::cold_bright, 1100.0, -25.0, -25.0},
               {ConditionId::stc, 1000.0, 25.0, 25.0},
               {ConditionId::warm_bright, 1000.0, 25.0, 58.75},
               {ConditionId::hot_bright, 1100.0, 40.0, 77.125},
               {ConditionId::weak_light, 200.0, 25.0, 31.75}});
    }
}

TEST_CASE("points: the datasheet at STC, times the panels") {
    Trial t = roomy_trial();
    t.wire(3, 2);
    const rules::ConditionPoint p = at(SystemModel(t.setup).points(0, t.plan[0]), ConditionId::stc);
    CHECK(p.open_circuit_v == Approx(75.0).epsilon(1e-9));
    CHECK(p.short_circuit_a == Approx(12.0).epsilon(1e-9));
    REQUIRE(p.operating.held());
    CHECK(p.operating.point.voltage_v == Approx(60.0).epsilon(1e-6));
    CHECK(p.operating.point.power_w() == Approx(600.0).epsilon(1e-9));
}

TEST_CASE("levels: an input without limits takes what the panels give one by one; no input takes more") {
    Trial t = roomy_trial();
    t.input().tracking_min_v = 0.0;
    t.panel().pmax_coefficient_per_k = -0.005;  // steeper than Voc's, as measured panels are
    t.wire(3, 2);
    const SystemModel system(t.setup);
    const LevelPowers taken = system.level_powers(0, t.plan[0]);
    const LevelPowers free = system.free_powers(t.plan[0]);
    t.input().max_power_w = 250.0;
    const LevelPowers cut = SystemModel(t.setup).level_powers(0, t.plan[0]);
    for (std::size_t l = 0; l < taken.size(); ++l) {
        CAPTURE(harvest_levels[l]);
        CHECK(taken[l] == Approx(free[l]).epsilon(1e-9));
        CHECK(cut[l] == Approx(std::min(free[l], 250.0)).epsilon(1e-9));
    }
    // The last level is the warm day in full light: cells at 60 °C, 35 K × 0.5 %/K below 600 W.
    CHECK(free.back() == Approx(600.0 * 0.825).epsilon(0.005));
    CHECK(free[1] < free[2]);
}

TEST_CASE("a direct-connect controller sets the voltage: battery plus drop") {
    Trial t = roomy_trial();
    t.controller().type = ControllerType::direct_connect;
    t.controller().battery = Battery{10.8, 12.4, 14.7, {}};
    t.controller().direct_connect_drop_v = 0.6;
    t.wire(1, 2);
    for (const rules::ConditionPoint& p : SystemModel(t.setup).points(0, t.plan[0])) {
        REQUIRE(p.operating.held());
        CHECK(p.operating.point.voltage_v == exactly(13.0));
        CHECK(p.operating.binding == physics::Binding::pinned);
    }
}

TEST_CASE("a window that begins exactly at open circuit gives an answer, and it is nothing") {
    Trial t = roomy_trial();
    // Thin film, no shunt: the search once ran for ever where rounding put open circuit just below the window's start.
    for (const Technology technology : {Technology::mono_silicon, Technology::cigs}) {
        t.panel().technology = technology;
        t.wire(1, 1);
        for (const rules::ConditionPoint& p : SystemModel(t.setup).points(0, t.plan[0])) {
            t.input().tracking_min_v = p.open_circuit_v;
            for (const rules::ConditionPoint& q : SystemModel(t.setup).points(0, t.plan[0])) {
                if (q.id != p.id) continue;
                CHECK(q.operating.point.power_w() == Approx(0.0).margin(1e-9));
                CHECK(q.operating.none != physics::NoPoint::pushed_out);
            }
        }
    }
}
