// Faults put into an array by hand, their readings from the curves, and whether they are found again.
#include "field.hpp"

#include "../support/arrays.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

/// How far down the list of different faults one stands, from 1.
std::size_t rank_of(const Diagnosis& d, std::string_view id) {
    std::vector<std::string_view> order;
    for (const SuspectedFault& s : d.suspects) {
        if (std::find(order.begin(), order.end(), s.fault->id) == order.end()) order.push_back(s.fault->id);
    }
    return static_cast<std::size_t>(std::find(order.begin(), order.end(), id) - order.begin()) + 1;
}

std::string listed(const Diagnosis& d) {
    std::string text =
        "nothing wrong " + std::to_string(d.sound_ratio) + ", unknown " + std::to_string(d.unknown_ratio);
    for (const SuspectedFault& s : d.suspects) {
        text += "\n  " + std::string(s.fault->id) + " string " + std::to_string(s.place.string.value_or(99) + 1) +
                " amount " + std::to_string(s.amount_factor.value_or(0.0)) + ": " + std::to_string(s.probability_ratio);
    }
    return text;
}

bool has_stop(const Diagnosis& d, StopReason reason) {
    return std::any_of(d.stops.begin(), d.stops.end(), [&](const Stop& s) { return s.reason == reason; });
}

/// The place of the likeliest suspicion of this fault.
FaultPlace place_found(const Diagnosis& d, std::string_view id) {
    for (const SuspectedFault& s : d.suspects) {
        if (s.fault->id == id) return s.place;
    }
    return {};
}

/// The fault found among the first two, and at the right string where readings can tell the string.
void check_found(const Field& f, const FieldState& state, std::string_view id, std::optional<std::size_t> string) {
    const Diagnosis d = diagnose(f.model, f.read(state, f.all_places()));
    CAPTURE(id, listed(d));
    CHECK(rank_of(d, id) <= 2);
    if (string) CHECK(place_found(d, id).string == string);
    double sum = d.sound_ratio + d.unknown_ratio;
    for (const SuspectedFault& s : d.suspects) sum += s.probability_ratio;
    CHECK(sum <= 1.0 + 1e-9);
    CHECK(sum > 0.8);  // the rest stands in suspicions of less than 1 % each
}

struct Shape {
    int in_series;
    int in_parallel;
};

std::vector<Shape> shapes() {
    std::vector<Shape> all;
    for (int s = 1; s <= 6; ++s) {
        for (int p = 1; p <= 4; ++p) all.push_back({s, p});
    }
    return all;
}

/// Calls check(field, dice) for 1 to 4 strings of 1 to 6 panels, each in weather of its own.
template <class Check>
void in_every_shape(std::uint64_t seed, Check check) {
    test::Dice dice(seed);
    for (const Shape& shape : shapes()) {
        Trial t = field_trial();
        t.wire(shape.in_series, shape.in_parallel);
        const FieldConditions weather = in_weather(dice.between(450.0, 1000.0), dice.between(15.0, 65.0));
        CAPTURE(shape.in_series, shape.in_parallel, *weather.weather.irradiance_w_per_m2, weather.weather.cell->degc);
        const Field f(t, weather);
        check(f, dice, static_cast<std::size_t>(shape.in_series), static_cast<std::size_t>(shape.in_parallel));
    }
}

}  // namespace

TEST_CASE("readings equal to the expectation pass, in any weather, known or not") {
    test::Dice dice(1);
    for (int i = 0; i < 24; ++i) {
        Trial t = field_trial();
        t.wire(1 + static_cast<int>(dice.below(6)), 1 + static_cast<int>(dice.below(4)));
        FieldConditions c = in_weather(dice.between(30.0, 1200.0), dice.between(-20.0, 80.0));
        if (i % 3 == 1) c.weather.irradiance_w_per_m2.reset();
        if (i % 4 == 1) c.weather.cell.reset();
        const Field f(t, c);
        const Diagnosis d = diagnose(f.model, f.read(f.planned(), f.all_places()));
        CAPTURE(i, listed(d));
        CHECK(d.all_within);
        CHECK(d.pass());
        for (const SuspectedFault& s : d.suspects) CHECK(s.probability_ratio < d.sound_ratio);
    }
}

TEST_CASE("a missing panel is found, and in which string") {
    in_every_shape(11, [](const Field& f, test::Dice& dice, std::size_t series, std::size_t parallel) {
        if (series < 2) return;
        const std::size_t string = dice.below(parallel);
        FieldState state = f.planned();
        state.inputs[0][string].panels.pop_back();
        check_found(f, state, "panel-missing", string);
    });
}

TEST_CASE("a reversed panel is found, and in which string") {
    in_every_shape(12, [](const Field& f, test::Dice& dice, std::size_t series, std::size_t parallel) {
        if (series < 2) return;
        const std::size_t string = dice.below(parallel);
        FieldState state = f.planned();
        state.inputs[0][string].panels[dice.below(series)].backward = true;
        check_found(f, state, "panel-reversed", string);
    });
}

TEST_CASE("a reversed string is found, and nothing is to be connected") {
    in_every_shape(13, [](const Field& f, test::Dice& dice, std::size_t, std::size_t parallel) {
        const std::size_t string = dice.below(parallel);
        FieldState state = f.planned();
        state.inputs[0][string].backward = true;
        check_found(f, state, "string-reversed", string);
        const Diagnosis d = diagnose(f.model, f.read(state, {string_voc(string)}));
        CHECK(has_stop(d, StopReason::reversed));
        CHECK(d.suspects.front().fault->id == "string-reversed");
    });
}

TEST_CASE("a shorted bypass diode is found, and in which string") {
    in_every_shape(14, [](const Field& f, test::Dice& dice, std::size_t series, std::size_t parallel) {
        const std::size_t string = dice.below(parallel);
        FieldState state = f.planned();
        state.inputs[0][string].panels[dice.below(series)].shorted_groups = 1;
        check_found(f, state, "group-bypassed", string);
    });
}

TEST_CASE("a shaded panel is found; which string no open or shorted reading tells") {
    in_every_shape(15, [](const Field& f, test::Dice& dice, std::size_t series, std::size_t parallel) {
        const double light = dice.between(0.1, 0.5);
        FieldState state = f.planned();
        state.inputs[0][dice.below(parallel)].panels[series - 1].place.groups = {{light, 0.0}, {light, 0.0}};
        check_found(f, state, "panel-shaded", {});
    });
}

TEST_CASE("a partly shaded panel is found; which string no open or shorted reading tells") {
    in_every_shape(20, [](const Field& f, test::Dice& dice, std::size_t series, std::size_t parallel) {
        const double light = dice.between(0.1, 0.5);
        FieldState state = f.planned();
        state.inputs[0][dice.below(parallel)].panels[series - 1].place.groups = {{light, 0.0}, {1.0, 0.0}};
        check_found(f, state, "group-shaded", {});
    });
}

TEST_CASE("a shorted diode over the only panel's only group is a string without contact, and nothing falls over") {
    // Panels with one bypass diode: shorted, it leaves nothing of a single panel.
    for (const int in_series : {1, 2}) {
        Trial t = field_trial();
        t.panel().bypass_diodes = 1;
        t.wire(in_series, 2);
        const Field f(t, in_weather(800.0, 45.0));
        const std::vector<ReadingPlace> places = f.all_places();
        std::vector<MeterReading> dead = f.read(f.planned(), places);
        for (MeterReading& r : dead) {
            if (r.place == string_voc(0) || r.place == string_isc(0)) r.value = 0.0;
        }
        const Diagnosis d = diagnose(f.model, dead);
        CAPTURE(in_series, listed(d));
        for (const SuspectedFault& s : d.suspects) {
            for (const double value : s.would_read) CHECK(std::isfinite(value));
        }
        const FieldState planned = f.planned();
        const FaultScene scene = fault_scene(f.model, planned, places);
        std::size_t shorted = 0;
        for (const Fault* fault : all_faults()) {
            Suspicions suspicions;
            fault->suspect(scene, suspicions);
            if (fault->id == "group-bypassed") shorted = suspicions.size();
        }
        CHECK(shorted == (in_series == 1 ? 0U : 2U));
        if (in_series == 2) {
            FieldState state = f.planned();
            state.inputs[0][1].panels[0].shorted_groups = 1;
            check_found(f, state, "group-bypassed", 1);
        }
    }
}

TEST_CASE("a string without contact is found") {
    in_every_shape(16, [](const Field& f, test::Dice& dice, std::size_t, std::size_t parallel) {
        const std::size_t string = dice.below(parallel);
        FieldState state = f.planned();
        state.inputs[0][string].open = true;
        check_found(f, state, "string-open", string);
    });
}

TEST_CASE("a panel in the wrong string is found, with both strings") {
    in_every_shape(17, [](const Field& f, test::Dice& dice, std::size_t series, std::size_t parallel) {
        if (series < 2 || parallel < 2) return;
        const std::size_t from = dice.below(parallel);
        const std::size_t to = (from + 1 + dice.below(parallel - 1)) % parallel;
        FieldState state = f.planned();
        state.inputs[0][from].panels.pop_back();
        state.inputs[0][to].panels.push_back(state.inputs[0][to].panels.front());
        check_found(f, state, "panel-in-other-string", from);
        const Diagnosis d = diagnose(f.model, f.read(state, f.all_places()));
        CHECK(place_found(d, "panel-in-other-string").other_string == to);
        CHECK(has_stop(d, StopReason::strings_unlike));
    });
}

TEST_CASE("other light than given is told from shade") {
    in_every_shape(18, [](const Field& f, test::Dice& dice, std::size_t, std::size_t) {
        FieldState state = f.planned();
        state.light_factor = dice.between(0.4, 0.75);
        check_found(f, state, "light-differs", {});
    });
}

TEST_CASE("a wrong Voc coefficient is found, far enough from 25 °C") {
    test::Dice dice(19);
    for (const Shape& shape : shapes()) {
        Trial wrong = field_trial();
        wrong.wire(shape.in_series, shape.in_parallel);
        const FieldConditions weather = in_weather(dice.between(450.0, 1000.0), dice.between(55.0, 70.0));
        // The truth is another set-up, with a coefficient and a fit of its own.
        Trial truth = wrong;
        truth.panel().voc_coefficient_per_k = -0.0012;
        truth.panel().pmax_coefficient_per_k = -0.0019;
        const Field stated(wrong, weather);
        const Field real(truth, weather);
        CAPTURE(shape.in_series, shape.in_parallel);
        const Diagnosis d = diagnose(stated.model, real.read(real.planned(), real.all_places()));
        CAPTURE(listed(d));
        CHECK(rank_of(d, "coefficient-differs") <= 2);
        for (const SuspectedFault& s : d.suspects) {
            if (s.fault->id != "coefficient-differs") continue;
            CHECK(*s.amount_factor == Approx(0.0021).margin(0.0010));
            break;
        }
    }
}

TEST_CASE("strings at each other's input, or joined to the wrong one") {
    for (int in_series = 2; in_series <= 5; ++in_series) {
        Trial t = field_trial();
        t.wire(in_series, 1);
        t.add_input(t.points.front());
        t.setup.controller.inputs.back().name = "PV2";
        t.wire(in_series + 1, 2, 1);
        const Field f(t, in_weather(800.0, 45.0));
        CAPTURE(in_series);
        FieldState swapped = f.planned();
        std::swap(swapped.inputs[0][0], swapped.inputs[1][1]);
        check_found(f, swapped, "strings-swapped", 0);
        const Diagnosis d = diagnose(f.model, f.read(swapped, f.all_places()));
        CHECK(place_found(d, "strings-swapped").other_input == 1);
        CHECK(place_found(d, "strings-swapped").other_string == 1);

        FieldState moved = f.planned();
        moved.inputs[1][0].joined_at = 0;
        check_found(f, moved, "string-at-other-input", {});
        const Diagnosis m = diagnose(f.model, f.read(moved, f.all_places()));
        CHECK(place_found(m, "string-at-other-input").other_input == 0);
    }
}

TEST_CASE("nothing on the list: it says so instead of naming the least bad") {
    Trial t = field_trial();
    t.wire(4, 2);
    const Field f(t, in_weather(800.0, 45.0));
    // 20 V from one string and a tenth of the current from the other: no single fault does that.
    std::vector<MeterReading> readings = f.read(f.planned(), f.all_places());
    for (MeterReading& r : readings) {
        if (r.place == string_voc(0)) r.value = 20.0;
        if (r.place == string_isc(1)) r.value = 0.8;
    }
    const Diagnosis d = diagnose(f.model, readings);
    CAPTURE(listed(d));
    CHECK_FALSE(d.all_within);
    CHECK(d.unknown_ratio > 0.9);
}

TEST_CASE("two faults that read alike: it says so, and which reading parts them") {
    Trial t = field_trial();
    t.wire(4, 2);
    const Field f(t, in_weather(800.0, 45.0));
    FieldState state = f.planned();
    state.inputs[0][1].panels.pop_back();
    // The joint alone cannot tell which string it is.
    const Diagnosis joint = diagnose(f.model, f.read(state, {at_input(MeterPoint::array_voc)}));
    CAPTURE(listed(joint));
    REQUIRE(joint.ambiguity);
    REQUIRE(joint.ambiguity->further);
    CHECK(is_of_string(joint.ambiguity->further->point));
    CHECK(std::abs(joint.ambiguity->first_reading_value - joint.ambiguity->second_reading_value) > 5.0);
    // With both strings there is no doubt left.
    const Diagnosis strings = diagnose(f.model, f.read(state, {string_voc(0), string_voc(1)}));
    CHECK(strings.suspects.front().fault->id == "panel-missing");
    CHECK(strings.suspects.front().place.string == 1);
    CHECK_FALSE(strings.ambiguity);
    CHECK(has_stop(strings, StopReason::strings_unlike));

    // Shade on one of two equal strings: no reading tells which.
    FieldState shaded = f.planned();
    shaded.inputs[0][0].panels[0].place.groups = {{0.3, 0.0}, {0.3, 0.0}};
    const Diagnosis shade = diagnose(f.model, f.read(shaded, f.all_places()));
    CAPTURE(listed(shade));
    REQUIRE(shade.ambiguity);
    CHECK_FALSE(shade.ambiguity->further);
}

TEST_CASE("when not to connect") {
    Trial t = field_trial();
    t.wire(4, 1);
    t.input().max_voltage_v = 110.0;
    t.input().max_short_circuit_a = 12.0;
    FieldConditions weather = in_weather(1000.0, 45.0);
    const Field f(t, weather);
    const auto only = [&](ReadingPlace place, double value) { return diagnose(f.model, {{place, value}}); };
    // 90.78 V is as expected; on the coldest morning, −25 °C, 97.2·(1 + 0.0033·50) = 113.2 V are more than 110 V.
    const Diagnosis cold = only(string_voc(0), 90.78);
    CHECK(cold.all_within);
    CHECK_FALSE(cold.pass());
    REQUIRE(has_stop(cold, StopReason::over_maximum_in_cold));
    CHECK(cold.stops.front().value == Approx(113.24).margin(0.02));
    CHECK(has_stop(only(string_voc(0), 111.0), StopReason::over_maximum));
    CHECK(has_stop(only(at_input(MeterPoint::display_v), 111.0), StopReason::over_maximum));
    CHECK(has_stop(only(string_isc(0), 12.5), StopReason::over_short_circuit));
    CHECK_FALSE(has_stop(only(string_isc(0), 10.1), StopReason::over_short_circuit));
    CHECK(has_stop(only(string_isc(0), -10.1), StopReason::reversed));
    // A panel short is a fault to be put right before anything is plugged in, though no limit is passed.
    CHECK(has_stop(only(string_voc(0), 45.4), StopReason::fault_first));
}

TEST_CASE("strings to be joined must agree within 5 %") {
    // IEC 62446-1: identical strings agree within 5 % [seen in public text].
    Trial t = field_trial();
    t.wire(4, 2);
    const Field f(t, in_weather(1000.0, 45.0));
    const auto pair = [&](double first_v, double second_v) {
        return diagnose(f.model, {{string_voc(0), first_v}, {string_voc(1), second_v}});
    };
    CHECK_FALSE(has_stop(pair(90.0, 85.6), StopReason::strings_unlike));
    CHECK(has_stop(pair(90.0, 85.4), StopReason::strings_unlike));
    CHECK(has_stop(pair(85.4, 90.0), StopReason::strings_unlike));
}

TEST_CASE("the cells' temperature from an open-circuit voltage") {
    // IEC 60904-5: Tc = 25 + (1/β)·[Voc/Voc(STC) − 1] at 1000 W/m²; 0.934 of the voltage is 45 °C [computed by hand].
    Trial t = field_trial();
    t.wire(4, 1);
    FieldConditions c = in_weather(1000.0, 30.0);
    const Field f(t, c);
    const Diagnosis d = diagnose(f.model, {{string_voc(0), 97.2 * 0.934}});
    REQUIRE(d.cell_temperatures.size() == 1);
    const CellFromVoc& cell = d.cell_temperatures.front();
    CHECK(cell.cell.degc == Approx(45.0).margin(0.01));
    // ±√(5² + 1²) % of 90.78 V over 0.0033·97.2 V/K; ±10 % of the coefficient over 20 K.
    CHECK(cell.voltage_half_k == Approx(std::hypot(0.05, 0.01) * 90.78 / (0.0033 * 97.2)).epsilon(1e-3));
    CHECK(cell.coefficient_half_k == Approx(2.0).margin(0.01));
    CHECK(cell.half_k > cell.voltage_half_k);
    CHECK(cell.half_k < 16.0);

    // In other light the logarithm comes in: a = n·kT/q per volt of Voc, 0.05 to 0.06 for silicon [from memory].
    const Field dim(t, in_weather(400.0, 45.0));
    const double voc = expectations(dim.model, {string_voc(0)}).front().value;
    const Diagnosis at_dim = diagnose(dim.model, {{string_voc(0), voc}});
    CHECK(at_dim.cell_temperatures.front().cell.degc == Approx(45.0).margin(0.01));
    const double a = (1.0 - 0.0033 * 20.0 - voc / 97.2) / std::log(1000.0 / 400.0);
    CHECK(a > 0.03);
    CHECK(a < 0.08);
    // No temperature has that voltage: nothing is said.
    CHECK(diagnose(f.model, {{string_voc(0), 20.0}}).cell_temperatures.empty());
}

TEST_CASE("without a light sensor strings are still held against each other") {
    Trial t = field_trial();
    t.wire(4, 3);
    FieldConditions c = in_weather(700.0, 45.0);
    c.weather.irradiance_w_per_m2.reset();
    const Field f(t, c);
    // All three currents low alike: only the light, within what daylight does.
    const std::vector<ReadingPlace> places{string_isc(0), string_isc(1), string_isc(2)};
    const Diagnosis alike = diagnose(f.model, {{places[0], 3.0}, {places[1], 3.0}, {places[2], 3.0}});
    CAPTURE(listed(alike));
    CHECK(alike.all_within);
    // One of them at a third of the others: not by light.
    const Diagnosis odd = diagnose(f.model, {{places[0], 6.0}, {places[1], 2.0}, {places[2], 6.0}});
    CAPTURE(listed(odd));
    CHECK(odd.sound_ratio < 0.01);
}

TEST_CASE("of very many strings without a reading eight stand for all; those that are read are always looked at") {
    Trial t = field_trial();
    t.wire(2, 60);
    const Field f(t, in_weather(800.0, 45.0));
    const FieldState planned = f.planned();
    const std::vector<ReadingPlace> read{string_voc(50), at_input(MeterPoint::array_voc)};
    CHECK(fault_scene(f.model, planned, {}).strings.size() == most_unread_strings);
    CHECK(fault_scene(f.model, planned, read).strings.size() == most_unread_strings + 1);
    FieldState state = planned;
    state.inputs[0][50].panels.pop_back();
    const Diagnosis d = diagnose(f.model, f.read(state, read));
    CAPTURE(listed(d));
    CHECK(place_found(d, "panel-missing").string == 50);
    CHECK(rank_of(d, "panel-missing") == 1);
}
