// What meters should read, against figures worked out by hand.
#include "field.hpp"

#include "../support/arrays.hpp"

#include <cmath>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

const Expectation& expected_at(const CommissioningCard& card, ReadingPlace place) {
    for (const InputCard& one : card.inputs) {
        for (const Expectation& e : one.expected) {
            if (e.place == place) return e;
        }
    }
    FAIL("no such place");
    return card.inputs.front().expected.front();
}

}  // namespace

TEST_CASE("a string of four at 45 °C: the simple formula's figures and the 5 % band of IEC 62446-1") {
    // 4·24.3·(1 − 0.0033·20) = 90.78 V; 5 % of these rounded: 86.24 to 95.32 V [computed by hand; formula and 5 % as in
    // common use with IEC 62446-1, seen in public text].
    Trial t = field_trial();
    t.wire(4, 1);
    const Field f(t, with_perfect_instruments(in_weather(1000.0, 45.0)));
    const CommissioningCard card = commissioning_card(f.model);
    const Expectation& voc = expected_at(card, string_voc(0));
    CHECK(voc.value == Approx(90.78).margin(0.005));
    CHECK(voc.low_value() == Approx(86.24).margin(0.01));
    CHECK(voc.high_value() == Approx(95.32).margin(0.01));
    CHECK(expected_at(card, at_input(MeterPoint::array_voc)).value == Approx(voc.value).epsilon(1e-9));

    // One panel missing 68.1 V, one reversed 45.4 V [computed by hand: −1/4 and −2/4].
    for (const FaultRow& row : card.inputs.front().rows) {
        if (row.fault->id == "panel-missing") {
            CHECK(row.values[0] == Approx(68.085).margin(0.005));
            CHECK_FALSE(voc.holds(row.values[0]));
        }
        if (row.fault->id == "panel-reversed") CHECK(row.values[0] == Approx(45.39).margin(0.005));
        // A bypass diode that is shorted takes one group of two: an eighth.
        if (row.fault->id == "group-bypassed") CHECK(row.values[0] == Approx(90.78 * 7.0 / 8.0).margin(0.005));
        if (row.fault->id == "string-reversed") CHECK(row.values[0] == Approx(-90.78).margin(0.005));
    }
}

TEST_CASE("short-circuit current at 820 W/m² and 45 °C") {
    // 10·0.82·(1 + 0.0005·20) = 8.282 A [computed by hand]; the curve's shunt and series resistance may shift the last
    // digit, as light and short-circuit current differ by their product.
    Trial t = field_trial();
    t.wire(4, 2);
    const Field f(t, with_perfect_instruments(in_weather(820.0, 45.0)));
    const CommissioningCard card = commissioning_card(f.model);
    CHECK(expected_at(card, string_isc(1)).value == Approx(8.282).epsilon(1e-3));
    CHECK(expected_at(card, at_input(MeterPoint::array_isc)).value == Approx(16.564).epsilon(1e-3));
    // Voc falls with the logarithm of the light, by a few per cent at most.
    const double voc = expected_at(card, string_voc(0)).value;
    CHECK(voc < 90.78);
    CHECK(voc > 0.98 * 90.78);
    const double display_w = expected_at(card, at_input(MeterPoint::display_w)).value;
    CHECK(display_w == Approx(expected_at(card, at_input(MeterPoint::display_v)).value *
                              expected_at(card, at_input(MeterPoint::display_a)).value));
    CHECK(display_w == Approx(8 * 190.0 * 0.82 * (1.0 - 0.004 * 20.0)).epsilon(0.02));
}

TEST_CASE("the display of an input that clips shows what the input takes") {
    Trial t = field_trial();
    t.wire(4, 2);
    t.input().bands = {{0.0, 400.0, 12.0}};
    const Field f(t, in_weather(1000.0, 25.0));
    const CommissioningCard card = commissioning_card(f.model);
    CHECK(card.inputs.front().operating.binding == physics::Binding::current_limit);
    CHECK(expected_at(card, at_input(MeterPoint::display_a)).value == Approx(12.0).epsilon(1e-9));
}

TEST_CASE("the band is the root of the sum of squares, each part carried through the curve") {
    Trial t = field_trial();
    t.wire(4, 1);
    FieldConditions c = in_weather(1000.0, 45.0);
    c.accuracies.meter_ratio = 0.01;
    c.accuracies.temperature_k = 3.0;
    c.accuracies.irradiance_ratio = 0.05;
    const Field f(t, c);
    const CommissioningCard card = commissioning_card(f.model);
    const Expectation& voc = expected_at(card, string_voc(0));
    CHECK(voc.from_array_value == Approx(0.05 * voc.value));
    CHECK(voc.from_meter_value == Approx(0.01 * voc.value));
    // 3 K · 0.33 %/K · 97.2 V
    CHECK(voc.from_warmth_value() == Approx(3.0 * 0.0033 * 97.2).epsilon(1e-6));
    CHECK(voc.from_light_value() < 0.005 * voc.value);
    CHECK(voc.half_width_value() ==
          Approx(std::sqrt(voc.from_array_value * voc.from_array_value + voc.from_meter_value * voc.from_meter_value +
                           voc.from_light_value() * voc.from_light_value() +
                           voc.from_warmth_value() * voc.from_warmth_value())));
    const Expectation& isc = expected_at(card, string_isc(0));
    CHECK(isc.from_light_value() == Approx(0.05 * isc.value).epsilon(2e-3));
    CHECK(isc.from_warmth_value() == Approx(3.0 * 0.0005 * 10.0).epsilon(1e-2));
    CHECK(expected_at(card, at_input(MeterPoint::display_w)).from_meter_value ==
          Approx(0.03 * expected_at(card, at_input(MeterPoint::display_w)).value));
}

TEST_CASE("95 of 100 readings with random errors fall into the band") {
    Trial t = field_trial();
    t.wire(3, 1);
    const Field f(t, in_weather(800.0, 50.0));
    const Expectation e = expectations(f.model, {string_isc(0)}).front();
    const Expectation v = expectations(f.model, {string_voc(0)}).front();
    const Accuracies& by = f.model.conditions().accuracies;
    test::Dice dice(5);
    // A normal deviate from twelve equal ones: variance 12·1/12.
    const auto normal = [&] {
        double sum = -6.0;
        for (int k = 0; k < 12; ++k) sum += dice.between(0.0, 1.0);
        return sum;
    };
    int isc_inside = 0;
    int voc_inside = 0;
    constexpr int samples = 1500;
    const std::vector<ReadingPlace> places{string_isc(0), string_voc(0)};
    for (int i = 0; i < samples; ++i) {
        const double light = 1.0 + 0.5 * by.irradiance_ratio * normal();
        const double warmer_k = 0.5 * by.temperature_k * normal();
        const std::vector<double> true_values = f.model.readings(f.planned(), places, light, warmer_k);
        const double isc = true_values[0] * (1.0 + 0.025 * normal()) * (1.0 + 0.5 * by.meter_ratio * normal());
        const double voc = true_values[1] * (1.0 + 0.025 * normal()) * (1.0 + 0.5 * by.meter_ratio * normal());
        if (e.holds(isc)) ++isc_inside;
        if (v.holds(voc)) ++voc_inside;
    }
    // Two standard deviations hold 95.45 %; three standard errors of 1500 samples are 1.6 %.
    CHECK(isc_inside / double(samples) == Approx(0.9545).margin(0.017));
    CHECK(voc_inside / double(samples) == Approx(0.9545).margin(0.017));
}

TEST_CASE("less known, wider band: without light or temperature") {
    Trial t = field_trial();
    t.wire(4, 1);
    const auto half_of = [&](const FieldConditions& c) {
        const Field f(t, c);
        return expectations(f.model, {string_voc(0)}).front().half_width_value();
    };
    const double all = half_of(in_weather(600.0, 45.0));
    FieldConditions no_sun = in_weather(600.0, 45.0);
    no_sun.weather.irradiance_w_per_m2.reset();
    FieldConditions nothing;
    CHECK(half_of(no_sun) > all);
    CHECK(half_of(nothing) > half_of(no_sun));
    // The light between dullest and brightest is worth a few per cent of Voc, no more.
    CHECK(half_of(no_sun) < 0.10 * 90.78);

    const Field f(t, no_sun);
    CHECK_FALSE(f.model.sky().irradiance_given);
    const Expectation voc = expectations(f.model, {string_voc(0)}).front();
    for (const double irradiance : {200.0, 500.0, 1000.0, 1100.0}) {
        const Field at(t, in_weather(irradiance, 45.0));
        CHECK(voc.holds(expectations(at.model, {string_voc(0)}).front().value));
    }
}

TEST_CASE("air instead of cells: as the mounting heats them, and less sure") {
    Trial t = field_trial();
    t.wire(2, 1);
    FieldConditions c;
    c.weather.air = Celsius{30.0};
    c.weather.irradiance_w_per_m2 = 800.0;
    const Field f(t, c);
    // Propped up: 35 K at 1000 W/m².
    CHECK(f.model.sky().cell.degc == Approx(30.0 + 28.0));
    CHECK(f.model.sky().temperature_k == Approx(std::hypot(2.0, 5.0)));
    const Field same(t, in_weather(800.0, 58.0));
    CHECK(expectations(f.model, {string_voc(0)}).front().value ==
          Approx(expectations(same.model, {string_voc(0)}).front().value).epsilon(1e-12));
}

TEST_CASE("insulation test by Voc × 1.25") {
    // IEC 62446-1: below 120 V 250 V, to 500 V 500 V, above 1000 V [seen in public text]; 0.5 and 1 MΩ [from memory].
    CHECK(insulation_test_v(95.9) == 250);
    CHECK(insulation_test_v(96.0) == 500);
    CHECK(insulation_test_v(400.0) == 500);
    CHECK(insulation_test_v(400.1) == 1000);
    CHECK(insulation_least_ohm(95.9) == 0.5e6);
    CHECK(insulation_least_ohm(96.0) == 1e6);
}

TEST_CASE("a shade or blocking diode that is planned is part of the expectation") {
    Trial t = field_trial();
    t.wire(3, 2);
    const auto power = [](const Trial& trial) {
        const Field f(trial, in_weather(900.0, 40.0));
        return expectations(f.model, {at_input(MeterPoint::display_w)}).front().value;
    };
    const double plain_w = power(t);
    t.plan.front().strings[0].blocking_diode = true;
    t.plan.front().strings[1].blocking_diode = true;
    const double blocked_w = power(t);
    CHECK(blocked_w < plain_w);
    CHECK(blocked_w > 0.98 * plain_w);
    t.plan.front().strings[0].panels[0].groups = {{0.3, 0.0}, {1.0, 0.0}};
    CHECK(power(t) < 0.99 * blocked_w);
}

namespace {

Cable cable(CableRun run, double ohm_per_m, double length_m) {
    Cable c;
    c.name = "cable";
    c.run = run;
    c.length_m = length_m;
    c.size = {4.0, std::nullopt};
    c.resistance_ohm_per_m = ohm_per_m;
    return c;
}

/// 0.02 Ω in the leads of each panel, 0.2 Ω in each string, 0.1 Ω behind the joint, all but for a factor.
std::vector<Cable> cables(double factor) {
    return {cable(CableRun::panel_leads, 0.005 * factor, 2.0), cable(CableRun::string, 0.005 * factor, 20.0),
            cable(CableRun::trunk, 0.005 * factor, 10.0)};
}

double display_of(const Trial& t, const FieldConditions& weather, MeterPoint point, std::size_t input = 0) {
    const Field f(t, weather);
    return expectations(f.model, {at_input(point, input)}).front().value;
}

}  // namespace

TEST_CASE("behind its cables the display shows what judging the wiring says of the same weather") {
    for (const bool unlike : {false, true}) {
        Trial t = field_trial();
        t.wire(4, 2);
        if (unlike) t.plan[0].strings[1].panels[0].groups = {{0.4, 0.0}, {1.0, 0.0}};
        t.setup.cables = cables(1.0);
        const SystemModel system(t.setup);
        for (const rules::ConditionPoint& p : system.points(0, t.plan[0])) {
            CAPTURE(unlike, rules::name_of(p.id));
            REQUIRE(p.operating.held());
            REQUIRE(p.cable);
            const FieldConditions weather = in_weather(p.condition.irradiance_w_per_m2, p.condition.cell.degc);
            CHECK(display_of(t, weather, MeterPoint::display_v) ==
                  Approx(p.operating.point.voltage_v).epsilon(unlike ? 1e-6 : 1e-3));
            CHECK(display_of(t, weather, MeterPoint::display_w) == Approx(p.operating.point.power_w()).epsilon(1e-9));
            CHECK(display_of(t, weather, MeterPoint::display_w) < 0.9999 * p.cable->without.point.power_w());
            CHECK(display_of(t, weather, MeterPoint::array_voc) == Approx(p.open_circuit_v).epsilon(1e-9));
        }
    }
}

TEST_CASE("law: cables take nothing from open voltages, and a thicker cable never lowers the display's watts") {
    test::Dice dice(31);
    for (int i = 0; i < 12; ++i) {
        Trial t = field_trial();
        t.wire(1 + static_cast<int>(dice.below(6)), 1 + static_cast<int>(dice.below(4)));
        const FieldConditions weather = in_weather(dice.between(100.0, 1100.0), dice.between(-10.0, 70.0));
        CAPTURE(i);
        const Field bare(t, weather);
        const std::vector<ReadingPlace> open{string_voc(0), at_input(MeterPoint::array_voc)};
        const std::vector<double> bare_v = bare.model.readings(bare.planned(), open);
        double before_w = display_of(t, weather, MeterPoint::display_w);
        for (const double factor : {0.3, 1.0, 2.5, 6.0}) {
            t.setup.cables = cables(factor);
            const Field wired(t, weather);
            const std::vector<double> v = wired.model.readings(wired.planned(), open);
            CHECK(v[0] == Approx(bare_v[0]).epsilon(1e-12));
            CHECK(v[1] == Approx(bare_v[1]).epsilon(1e-12));
            const double w = display_of(t, weather, MeterPoint::display_w);
            CHECK(w < before_w);
            before_w = w;
        }
    }
}

TEST_CASE("what several inputs share is foretold in proportion, and their sum is the limit") {
    Trial t = field_trial();
    t.wire(4, 1);
    t.add_input(t.points.front());
    t.setup.controller.inputs.back().name = "PV2";
    t.wire(4, 2, 1);
    const FieldConditions weather = in_weather(1000.0, 25.0);
    const double first_w = display_of(t, weather, MeterPoint::display_w, 0);
    const double second_w = display_of(t, weather, MeterPoint::display_w, 1);
    CHECK(second_w == Approx(2.0 * first_w).epsilon(1e-9));
    t.setup.controller.max_total_power_w = 1200.0;  // of some 2280 W
    CHECK(display_of(t, weather, MeterPoint::display_w, 0) == Approx(400.0).epsilon(1e-9));
    CHECK(display_of(t, weather, MeterPoint::display_w, 1) == Approx(800.0).epsilon(1e-9));
    const Field f(t, weather);
    const CommissioningCard card = commissioning_card(f.model);
    REQUIRE(card.shared);
    CHECK(card.shared->limit_w == 1200.0);
    CHECK(card.shared->wanted_w == Approx(first_w + second_w));
    CHECK(card.inputs[0].operating.binding == physics::Binding::power_limit);
    // What meters read of the panels does not depend on it, and where there is room nothing is shared out.
    CHECK(expected_at(card, at_input(MeterPoint::array_isc, 1)).value == Approx(20.0).epsilon(1e-3));
    t.setup.controller.max_total_power_w = 5000.0;
    CHECK(display_of(t, weather, MeterPoint::display_w, 0) == first_w);
    const Field roomy(t, weather);
    CHECK_FALSE(commissioning_card(roomy.model).shared);
    // The charging current is shared too: 50 A at 12 V are 600 W.
    t.setup.controller.max_total_power_w.reset();
    t.setup.controller.battery = Battery{10.0, 12.0, 14.0, 50.0};
    CHECK(display_of(t, weather, MeterPoint::display_w, 0) + display_of(t, weather, MeterPoint::display_w, 1) ==
          Approx(600.0).epsilon(1e-9));
}

TEST_CASE("one input behind a limit of the whole controller stays at it") {
    Trial t = field_trial();
    t.wire(4, 2);
    t.setup.controller.max_total_power_w = 1000.0;
    const FieldConditions weather = in_weather(1000.0, 25.0);
    CHECK(display_of(t, weather, MeterPoint::display_w) == Approx(1000.0).epsilon(1e-9));
    CHECK(display_of(t, in_weather(300.0, 25.0), MeterPoint::display_w) < 600.0);
}
