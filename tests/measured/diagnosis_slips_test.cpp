// Slips that strike every string alike, the meter, or the kind of a panel: among the first two explanations.
#include "field.hpp"

#include "../support/arrays.hpp"

#include <algorithm>
#include <string>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

// `volts_off_factor`: panels that have so much more volts than their datasheet, which no band forbids.
void check_among_first_two(const Field& f, const FieldState& state, std::string_view id, double volts_off_factor = 1.0) {
    std::vector<ReadingPlace> places;
    for (const ReadingPlace& place : f.all_places()) {
        // As at a first visit: meter readings before the input is switched on.
        if (is_of_string(place.point) || place.point == MeterPoint::array_voc || place.point == MeterPoint::array_isc) {
            places.push_back(place);
        }
    }
    std::vector<MeterReading> readings = f.read(state, places);
    for (MeterReading& r : readings) r.value *= is_voltage(r.place.point) ? volts_off_factor : 1.0;
    const Diagnosis d = diagnose(f.model, readings);
    std::string listed = "sound " + std::to_string(d.sound_ratio) + " unknown " + std::to_string(d.unknown_ratio);
    std::vector<std::string_view> order;
    for (const SuspectedFault& s : d.suspects) {
        listed += " " + std::string(s.fault->id) + " " + std::to_string(s.probability_ratio);
        if (std::find(order.begin(), order.end(), s.fault->id) == order.end()) order.push_back(s.fault->id);
    }
    CAPTURE(id, listed);
    REQUIRE_FALSE(order.empty());
    const auto at = std::find(order.begin(), order.end(), id);
    CHECK(at - order.begin() < 2);
    CHECK(d.unknown_ratio < 0.2);
    CHECK(d.sound_ratio < 0.5);
}

FieldConditions day(test::Dice& dice) { return in_weather(dice.between(450.0, 1000.0), dice.between(15.0, 65.0)); }

}  // namespace

TEST_CASE("a panel too few or too many in every string is found") {
    test::Dice dice(61);
    for (int in_series = 1; in_series <= 6; ++in_series) {
        for (int in_parallel = 1; in_parallel <= 4; ++in_parallel) {
            Trial t = field_trial();
            t.wire(in_series, in_parallel);
            const Field f(t, day(dice));
            CAPTURE(in_series, in_parallel);
            FieldState more = f.planned();
            for (FieldString& s : more.inputs[0]) s.panels.push_back(s.panels.front());
            check_among_first_two(f, more, "strings-long");
            check_among_first_two(f, more, "strings-long", dice.between(0.97, 1.03));
            if (in_series < 2 || in_parallel < 2) continue;  // one string short is a panel missing
            FieldState less = f.planned();
            for (FieldString& s : less.inputs[0]) s.panels.pop_back();
            check_among_first_two(f, less, "strings-short");
        }
    }
}

TEST_CASE("a meter in the wrong range is found") {
    test::Dice dice(62);
    for (int in_series = 2; in_series <= 4; ++in_series) {
        Trial t = field_trial();
        t.wire(in_series, 2);
        const Field f(t, day(dice));
        for (const double factor : {1000.0, 0.001, 10.0, 0.1}) {
            CAPTURE(in_series, factor);
            FieldState volts = f.planned();
            volts.volts_shown_factor = factor;
            check_among_first_two(f, volts, "meter-range");
            // What a panel is off its datasheet is ten times as many volts where the meter shows ten times as many.
            check_among_first_two(f, volts, "meter-range", dice.between(0.97, 1.03));
            FieldState amps = f.planned();
            amps.amps_shown_factor = factor;
            check_among_first_two(f, amps, "meter-range");
        }
    }
}

TEST_CASE("light half as strong again as typed is found") {
    test::Dice dice(63);
    for (int in_series = 1; in_series <= 5; ++in_series) {
        for (int in_parallel = 1; in_parallel <= 3; ++in_parallel) {
            Trial t = field_trial();
            t.wire(in_series, in_parallel);
            const Field f(t, in_weather(dice.between(400.0, 700.0), dice.between(20.0, 60.0)));
            CAPTURE(in_series, in_parallel);
            FieldState state = f.planned();
            state.light_factor = dice.between(1.4, 1.65);
            check_among_first_two(f, state, "light-differs");
        }
    }
}

TEST_CASE("a panel of another kind in a string is found") {
    test::Dice dice(64);
    for (int in_series = 2; in_series <= 5; ++in_series) {
        for (const bool whole_string : {false, true}) {
            Trial t = field_trial();
            Panel other = field_panel();
            other.name = "Field 260";
            other.vmp_v = 31.0;
            other.voc_v = 37.5;
            other.imp_a = 8.4;
            other.isc_a = 9.0;
            other.pmax_w = 260.0;
            other.cells_in_series = 60;
            other.bypass_diodes = 3;
            const std::size_t kind = t.add_kind("other", other);
            t.wire(in_series, 2);
            const Field f(t, day(dice));
            CAPTURE(in_series, whole_string);
            FieldState state = f.planned();
            for (FieldPanel& panel : state.inputs[0][1].panels) {
                panel.place.kind = kind;
                if (!whole_string) break;
            }
            check_among_first_two(f, state, "panel-of-other-kind");
        }
    }
}
