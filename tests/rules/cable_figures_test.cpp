#include "wired.hpp"

#include <plait/rules/array_figures.hpp>

using namespace plait;
using namespace plait::rules;

// A retailer's guide: three panels of 5.5 A each behind a controller without tracking: 16.5 A × 1.25 = 20.6 A.
TEST_CASE("what a direct-connect controller passes on") {
    Trial t;
    t.panel().isc_a = 5.5;
    t.wire(1, 3);
    t.controller().type = ControllerType::direct_connect;
    t.controller().battery = Battery{10.5, 12.0, 14.4, 15.0};
    const auto current = t.with_situation([](const Situation& s) { return battery_current(s); });
    REQUIRE(current);
    CHECK(current->unlimited_a == exactly(20.625));
    CHECK(current->charge_a == exactly(20.625));  // it holds no charge current
}

// The same guide: a 1000 W array on a 24 V battery: 41.7 A, × 1.25 = 52.1 A.
TEST_CASE("what a tracking controller puts into the battery") {
    Trial t;
    t.wire(2, 5);  // ten panels of 100 W
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{21.0, 24.0, 28.8, std::nullopt};
    const auto current = t.with_situation([](const Situation& s) { return battery_current(s); });
    REQUIRE(current);
    CHECK(current->charge_a == exactly(1000.0 / 24.0));
    CHECK(current->charge_a == Approx(41.7).margin(0.05));
    CHECK(current->fuse_least_a == Approx(52.1).margin(0.05));
    CHECK(current->fuse_a == 60.0);  // the source's "60 A class"
    t.controller().battery->max_charge_current_a = 30.0;
    const auto held = t.with_situation([](const Situation& s) { return battery_current(s); });
    CHECK(held->unlimited_a == exactly(1000.0 / 24.0));
    CHECK(held->charge_a == 30.0);
    CHECK(held->fuse_a == 40.0);  // 37.5 A
}

// A retailer's forum: five panels in parallel, 3 A each: 15 A × 1.56 = 23.4 A (exactly 1.5625: 23.44 A); 12 AWG guarded
// by 20 A is not enough.
TEST_CASE("five panels of 3 A on 12 AWG") {
    Trial t = wired(CableRun::trunk, awg(12), 5.0);
    t.panel().isc_a = 3.0;
    t.wire(1, 5);
    t.setup.cables[0].ambient = Celsius{30.0};
    const auto all = t.with_situation([](const Situation& s) { return cable_figures(s); });
    REQUIRE(all.size() == 1);
    CHECK(all[0].currents.most_a == exactly(18.75));
    CHECK(all[0].currents.continuous_a == exactly(23.4375));
    CHECK_FALSE(all[0].within_nec());  // 20 A in the 60 °C column
    CHECK(all[0].smallest_by_nec->awg == 10);
    CHECK(fuse_ceiling_a(all[0], Code::nec) == 20.0);  // 240.4(D)
}

// SAND2001-0674 appendix [from memory]: six modules in parallel, Isc 4.8 A: 4.8 → 6.0 → 7.5 A each, 28.8 → 36 → 45 A
// all.
TEST_CASE("six modules in parallel") {
    Trial t = wired(CableRun::string, awg(10), 5.0);
    t.setup.cables.push_back(t.setup.cables[0]);
    t.setup.cables[1].run = CableRun::trunk;
    t.setup.fittings.string_fuse_a = 10.0;
    t.panel().isc_a = 4.8;
    t.wire(1, 6);
    const auto all = t.with_situation([](const Situation& s) { return cable_figures(s); });
    REQUIRE(all.size() == 2);
    CHECK(all[0].currents.most_a == exactly(6.0));
    CHECK(all[0].currents.continuous_a == exactly(7.5));
    CHECK(all[1].currents.most_a == exactly(36.0));
    CHECK(all[1].currents.continuous_a == exactly(45.0));
}

// The same appendix [from memory]: Isc 3.8 A × 1.56 = 5.9 A.
TEST_CASE("one module of 3.8 A") {
    Trial t = wired(CableRun::string, awg(14), 5.0);
    t.panel().isc_a = 3.8;
    const auto all = t.with_situation([](const Situation& s) { return cable_figures(s); });
    CHECK(all.at(0).currents.continuous_a == Approx(5.9).margin(0.05));
}

TEST_CASE("a string's cable without a fuse must stand the others' current backwards") {
    Trial t = wired(CableRun::string, metric(4), 5.0);
    const auto most_a = [&] {
        return t.with_situation([](const Situation& s) { return cable_figures(s).at(0).currents.most_a; });
    };
    t.wire(2, 2);  // equal strings: as much as their own
    CHECK(most_a() == exactly(7.5));
    t.wire(2, 3);  // 12 A × 1.25 = 15 A, the panels' rating: no fuse is asked for
    CHECK(most_a() == exactly(15.0));
    t.wire(2, 4);  // now fuses are, and guard the cable
    CHECK(most_a() == exactly(7.5));
    t.wire(2, 3);
    t.setup.fittings.string_fuse_a = 10.0;
    CHECK(most_a() == exactly(7.5));
}

TEST_CASE("drop and loss by hand: 10 m of 4 mm² plain copper at 20 °C, 5 A") {
    Trial t = wired(CableRun::string, metric(4), 10.0);
    t.setup.cables[0].kind = ConductorKind::plain;
    t.setup.cables[0].conductor = Celsius{20.0};
    t.wire(2, 2);
    const auto f = t.with_situation([](const Situation& s) { return cable_figures(s); }).at(0);
    CHECK(f.loop_ohm == exactly(0.099));  // 2 × 10 m × 4.95 Ω/km (IEC 60228)
    CHECK(f.drop_v == exactly(0.495));
    CHECK(f.drop_ratio == exactly(0.495 / 40.0));
    CHECK(f.loss_w == exactly(2 * 0.099 * 25.0));  // in both strings
    t.setup.cables[0].run = CableRun::panel_leads;
    const auto leads = t.with_situation([](const Situation& s) { return cable_figures(s); }).at(0);
    CHECK(leads.drop_v == exactly(2 * 0.495));  // once a panel
    CHECK(leads.loss_w == exactly(4 * 0.099 * 25.0));
    t.setup.cables[0].run = CableRun::trunk;  // both strings' 10 A in one cable, once
    const auto trunk = t.with_situation([](const Situation& s) { return cable_figures(s); }).at(0);
    CHECK(trunk.drop_v == exactly(0.99));
    CHECK(trunk.loss_w == exactly(0.099 * 100.0));
}

TEST_CASE("the battery's cable has the charge current once, however many strings there are") {
    Trial t = wired(CableRun::battery, metric(4), 10.0);
    t.setup.cables[0].kind = ConductorKind::plain;
    t.setup.cables[0].conductor = Celsius{20.0};
    t.controller().type = ControllerType::step_down;
    t.controller().battery = Battery{22.0, 24.0, 28.8, 20.0};
    t.wire(3, 4);
    const auto found = t.with_situation([](const Situation& s) { return battery_cable_figures(s); });
    REQUIRE(found.size() == 1);
    CHECK(found[0].drop_v == exactly(0.099 * 20.0));
    CHECK(found[0].loss_w == exactly(0.099 * 400.0));
    CHECK(t.with_situation([](const Situation& s) { return cable_figures(s); }).empty());
}

TEST_CASE("the smallest size for the drop meets it, and the next thinner does not") {
    for (const CableRun run : {CableRun::string, CableRun::trunk, CableRun::panel_leads}) {
        for (const CableSize& from : {metric(1.5), metric(16), awg(14)}) {
            Trial t = wired(run, from, 12.0);
            t.wire(2, 3);
            const auto drop_ratio = [&](const CableSize& size) {
                Trial other = t;
                other.setup.cables[0].size = size;
                return other.with_situation([](const Situation& s) { return cable_figures(s); }).at(0).drop_ratio;
            };
            const auto found = t.with_situation([](const Situation& s) { return cable_figures(s); }).at(0);
            REQUIRE(found.smallest_for_drop);
            CHECK(found.smallest_for_drop->awg.has_value() == from.awg.has_value());
            CHECK(drop_ratio(*found.smallest_for_drop) <= 0.02);
            for (const CableSize& size : physics::sizes_like(from)) {
                if (size.area_mm2 < found.smallest_for_drop->area_mm2) CHECK(drop_ratio(size) > 0.02);
            }
        }
    }
}
