// The cells' temperature from an open-circuit voltage (IEC 60904-5).
#include "diagnosis_parts.hpp"

#include <cmath>

namespace plait::measured {
namespace {

constexpr Celsius coldest_cell{-60.0};
constexpr Celsius hottest_cell{150.0};

// What the doubt about the light is worth in volts, at the same cell temperature.
double light_half_v(const FieldModel& model, ReadingPlace place) {
    const FieldSky& sky = model.sky();
    FieldConditions fixed = model.conditions();
    fixed.weather.cell = sky.cell;
    const FieldModel still(model.system(), model.plan(), fixed);
    const FieldState planned = as_planned(model.plan());
    const std::vector<ReadingPlace> one{place};
    return 0.5 * (still.readings(planned, one, sky.brightest_factor(), 0.0).front() -
                  still.readings(planned, one, sky.dimmest_factor(), 0.0).front());
}

}  // namespace

void add_cell_temperature(const FieldModel& model, const MeterReading& reading, Diagnosis& d) {
    if (is_of_display(reading.place.point) || !is_voltage(reading.place.point)) return;
    const auto excess_v = [&](double degc) {
        return model.voc_at_cell_v(reading.place, Celsius{degc}) - reading.value;
    };
    double low = coldest_cell.degc;
    double high = hottest_cell.degc;
    if (excess_v(low) < 0.0 || excess_v(high) > 0.0) return;  // no temperature has this voltage
    while (high - low > 1e-6) {
        const double middle = 0.5 * (low + high);
        (excess_v(middle) > 0.0 ? low : high) = middle;
    }
    CellFromVoc found;
    found.place = reading.place;
    found.cell = Celsius{0.5 * (low + high)};
    const double per_k = std::abs(excess_v(found.cell.degc + 1.0) - excess_v(found.cell.degc - 1.0)) / 2.0;
    const Accuracies& by = model.conditions().accuracies;
    found.voltage_half_k = std::hypot(by.array_ratio, by.meter_ratio) * reading.value / per_k;
    found.light_half_k = light_half_v(model, reading.place) / per_k;
    found.coefficient_half_k = coefficient_accuracy_ratio * std::abs(found.cell - stc_cell);
    found.half_k = std::hypot(found.voltage_half_k, found.light_half_k, found.coefficient_half_k);
    d.cell_temperatures.push_back(found);
}

}  // namespace plait::measured
