// Why nothing may be connected, whatever the likeliest explanation is.
#include <plait/rules/cold_methods.hpp>

#include "diagnosis_parts.hpp"

#include <cmath>

namespace plait::measured {
namespace {

// From today's open-circuit voltage to the coldest morning's. Nothing where today's temperature is not known.
double colder_factor(const FieldModel& model, const CheckedReading& r) {
    const ReadingPlace& at = r.reading.place;
    if (!model.sky().temperature_given) return 0.0;
    const Setup& setup = model.system().setup();
    const InputWiring& wiring = model.plan()[at.input];
    const rules::StatedArray stated = model.system().stated();
    const rules::Figure cold_voc =
        is_of_string(at.point)
            ? rules::string_cold_voc_v(stated, wiring.strings[at.string], setup.site.cold_method)
            : rules::array_cold_voc_v(stated, wiring);
    return cold_voc.value / r.expected.value;
}

// Strings to be joined may differ by no more than the array's accuracy from each other, unlike strings from what
// they should differ by.
void compare_strings(const FieldModel& model, Diagnosis& d) {
    for (std::size_t i = 0; i < model.plan().size(); ++i) {
        const CheckedReading* low = nullptr;
        const CheckedReading* high = nullptr;
        const auto share = [](const CheckedReading* r) { return r->reading.value / r->expected.value; };
        for (const CheckedReading& r : d.readings) {
            if (r.reading.place.point != MeterPoint::string_voc || r.reading.place.input != i) continue;
            if (r.reading.value < 0.0) continue;  // reversed: said already
            if (!low || share(&r) < share(low)) low = &r;
            if (!high || share(&r) > share(high)) high = &r;
        }
        if (!low || low == high) continue;
        const double limit = model.conditions().accuracies.array_ratio;
        const double apart = (share(high) - share(low)) / std::abs(share(high));
        if (apart > limit) {
            d.stops.push_back({StopReason::strings_unlike, low->reading.place, high->reading.place, apart, limit});
        }
    }
}

}  // namespace

void add_stops(const FieldModel& model, Diagnosis& d) {
    const Setup& setup = model.system().setup();
    for (const CheckedReading& r : d.readings) {
        const ReadingPlace& at = r.reading.place;
        const Input& input = setup.controller.inputs[at.input];
        const double value = r.reading.value;
        if (value < 0.0) d.stops.push_back({StopReason::reversed, at, {}, value, 0.0});
        if (is_voltage(at.point) && input.max_voltage_v && value > *input.max_voltage_v) {
            d.stops.push_back({StopReason::over_maximum, at, {}, value, *input.max_voltage_v});
        } else if (is_voltage(at.point) && !is_of_display(at.point) && value > 0.0) {
            const double cold_v = value * colder_factor(model, r);
            if (input.max_voltage_v && cold_v > *input.max_voltage_v) {
                d.stops.push_back({StopReason::over_maximum_in_cold, at, {}, cold_v, *input.max_voltage_v});
            }
        }
        if (!is_voltage(at.point) && !is_power(at.point) && input.max_short_circuit_a &&
            value > *input.max_short_circuit_a) {
            d.stops.push_back({StopReason::over_short_circuit, at, {}, value, *input.max_short_circuit_a});
        }
    }
    compare_strings(model, d);
    if (!d.all_within && !d.suspects.empty()) {
        const SuspectedFault& first = d.suspects.front();
        if (first.fault->never_connect && first.probability_ratio > d.sound_ratio && d.stops.empty()) {
            ReadingPlace at;
            at.input = first.place.input.value_or(0);
            at.string = first.place.string.value_or(0);
            d.stops.push_back({StopReason::fault_first, at, {}, first.probability_ratio, 0.0});
        }
    }
}

}  // namespace plait::measured
